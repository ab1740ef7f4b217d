// How much of each cell a polygon covers.
#pragma once

#include "rows/stack_cells.h"

#include <span>
#include <vector>

namespace leafwright {

struct Coverage {
    CellBox box;
    std::vector<float> share; // of each cell of the box, 0 to 1
};

// Exact up to rounding: the shares times the cell's area add up to the polygon's area (relative 1e-6), whatever way its
// rings run. margin >= 1: empty cells kept round it. Cost: about 10 us for a leaf of 75 x 75 cells.
Coverage cover(Polygon const& polygon, double cell_mm, int margin);

// Weights of a tent of that half-width, 2 n + 1 of them, adding up to 1.
std::vector<float> tent_weights(double half_width_mm, double cell_mm);
// Weighted means along columns and rows; cells beyond the box count as 0. weights.size() is odd.
void blur(std::vector<float>& field, int columns, int rows, std::vector<float> const& weights,
          std::vector<float>& scratch);
// In double, in a fixed order.
double sum_of(std::span<float const> values);

} // namespace leafwright
