// The kiln: what goes in, how it cools, what it eats. Defaults are common practice, no source, where nothing else is
// said.
#pragma once

#include "base/outcome.h"

#include <string>
#include <vector>

namespace leafwright {

enum class KilnShape { box, round };

struct CoolingReading {
    double hour = 0; // since it was switched off
    double degC = 0;
    bool operator==(CoolingReading const&) const = default;
};

struct KilnSpec {
    KilnShape shape = KilnShape::box;
    double width_mm = 500; // room inside; of a round kiln its width, and depth is not used; 100 to 3000
    double depth_mm = 500;
    double height_mm = 500;
    double clearance_mm = 25;            // kept free on every side; 0 to 200
    double cool_hours = 28;              // from 1000 to 100 degC by itself; 4 to 200. More than a day is common
    std::vector<CoolingReading> cooling; // the maker's own readings instead, if at least two
    double wall_mm = 115;                // of light brick; 40 to 400
    double kWh = 0;                      // read from the meter for a firing to 1000 degC; 0: reckoned
    double room_degC = 20;               // 0 to 40
    double share = 1;                    // of the load that is this piece; 0.02 to 1
    bool operator==(KilnSpec const&) const = default;
};

// T = Ta + (T0 - Ta) exp(-t/tau), Newton's law: real kilns radiate, so this is a fit. Hours.
double newton_tau_h(double from_degC, double to_degC, double hours, double room_degC);
double newton_hours(double from_degC, double to_degC, double tau_h, double room_degC);
double newton_rate_K_h(double degC, double tau_h, double room_degC);
// Least squares of ln(T - Ta) against time. Problems: "cooling.few" below two readings, "cooling.contradiction" when it
// does not cool or stands at room temperature.
Outcome<double> fit_newton_tau_h(std::vector<CoolingReading> const& readings, double room_degC);
// The kiln's own: from its readings where they can be used, else from cool_hours.
double cooling_tau_h(KilnSpec const& kiln);

// A piece as it is when it goes in. reach_mm: the smallest circle round its middle that holds its plan.
struct PieceSize {
    double width_mm = 0;
    double height_mm = 0;
    double depth_mm = 0;
    double reach_mm = 0;
};
enum class KilnPlace { flat, standing, none };
struct KilnFit {
    bool flat = false;
    bool standing = false;
    KilnPlace place = KilnPlace::none; // flat where it can
    double spare_mm = 0; // beyond the clearance in the tightest direction of that place; below 0: what is missing
    std::string words;   // a sentence with its support
};
// Flat: width and height on the shelf, either way round, depth upward; standing: the other way. A round kiln asks for
// the circle when flat, for the diagonal of width and depth when standing.
KilnFit kiln_fit(KilnSpec const& kiln, PieceSize const& size);

// Heat in the lining and through it for a firing with that many degree hours (above the room) and that top, kWh: half
// the wall's heat at the top is stored, the mean difference flows through it. Light brick 0.25 W/mK, 800 kg/m3, 1000
// J/kgK (usual values, from memory).
double lining_kWh(KilnSpec const& kiln, double top_degC, double degree_hours);

} // namespace leafwright
