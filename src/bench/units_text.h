// Figures in words: metric, or inches and pounds; and what a maker types, read back.
#pragma once

#include "base/figure.h"
#include "base/vec.h"

#include <optional>
#include <string>
#include <string_view>

namespace leafwright {

enum class Units { metric, inches };

// What a number is. Inside the program: mm, mm2, g, fractions, degrees, degC, days or hours, N.
enum class Quantity {
    length,
    share,
    angle,
    count,
    plain,
    mass,
    area,
    temperature,
    slip,
    days,
    hours,
    force,       // N
    rate,        // degC an hour
    fine_length, // as read on a test tile: two more digits
    fine_mass,   // g, two digits
    litres,
    litre_mass, // g a litre
};

// "305 mm" / "12.0 in"; "34 %"; "12°"; "12.4 kg" / "27.3 lb". Three digits at most, fewer for small figures.
std::string quantity_text(double value, Quantity quantity, Units units);
// "460 × 560 mm"
std::string size_text(double width_mm, double height_mm, Units units);
std::string size_text(double width_mm, double height_mm, double depth_mm, Units units);
// "12.4 kg", or with its range "12.4 kg (11.9 to 13.0)".
std::string figure_text(Figure const& figure, Quantity quantity, Units units);
std::string range_text(Figure const& figure, Quantity quantity, Units units); // "11.9 to 13.0 kg"; "" when exact
std::string_view from_text(FigureFrom from); // "computed", "measured by you", "usual for this clay"

// A sentence from the plan, whose figures are metric, with every "12 mm", "274 cm²" and "1.2 kg" in the units on
// screen.
std::string sentence_in(std::string_view sentence, Units units);

// Reads "300", "30 cm", "11 3/4 in", "0,5 kg", "35 %", "12°". A bare number is in the units on screen (mm or inches, %
// for shares). Nothing when it cannot be read.
std::optional<double> read_quantity(std::string_view text, Quantity quantity, Units units);

} // namespace leafwright
