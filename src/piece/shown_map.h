// A figure spread over the piece (thickness, stretch, laps, water), to be coloured on the clay with a scale beside it.
#pragma once

#include "base/polygon.h"

#include <memory>
#include <string>
#include <vector>

namespace leafwright {

// A grid over the equal-area chart of the outer face; row 0 lies lowest. NaN where there is nothing to tell.
// A colour alone says nothing: lines of equal value are drawn at `levels`, and the window tells the value under the
// pointer by value_at().
struct ShownMap {
    std::string title; // "Thickness"
    std::string unit;  // "mm", "%", ""
    int columns = 0;
    int rows = 0;
    Vec2 low_mm{0, 0};  // the grid's corner in the chart
    Vec2 size_mm{0, 0}; // of the whole grid
    std::vector<float> values;
    double scale_low = 0; // values at the ends of the colour scale; round figures
    double scale_high = 1;
    std::vector<double> levels; // contour lines, rising; round figures inside the scale
    int decimals = 1;           // how many the value deserves
    // Values with a name of their own in the trade, told beside the scale.
    struct Named {
        double value = 0;
        std::string name;
    };
    std::vector<Named> named;
    // Short lines that tell a direction, in the grid's own plane; drawn where the maker asks.
    struct Tick {
        Vec2 from_mm{0, 0}, to_mm{0, 0};
    };
    std::vector<Tick> ticks;
    // The same figure over the slab as it is cut from the flat: its grid lies in the flat outline's plane. Null where
    // that has no meaning.
    std::shared_ptr<ShownMap const> flat_slab;
};

// Bilinear over the cells that have a value; NaN outside the grid, or where most of what is near has none.
double value_at(ShownMap const& map, Vec2 const& chart_mm);

// "7.85 mm": with as many decimals as it deserves.
std::string value_text(ShownMap const& map, double value);
// Share of the colour scale, 0 to 1.
double scale_share(ShownMap const& map, double value);
// The numbers beside the scale: both ends and the levels; whole numbers where the levels lie halfway between them.
std::vector<double> scale_marks(ShownMap const& map);

// The least of 1, 2 and 5 times a power of ten that is not below x; x > 0.
double round_step(double x);

// Round ends and about `wanted` levels for values from low to high (steps of 1, 2 or 5 times a power of ten).
void set_scale(ShownMap& map, double low, double high, int wanted = 5);

} // namespace leafwright
