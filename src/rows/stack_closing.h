// The underside of a stiff sheet pressed on a stepped ground: the closing of the ground by a paraboloid.
#pragma once

#include <span>
#include <vector>

namespace leafwright {

// Cells of the ground where the sheet does not lie.
inline constexpr float kNoGround_mm = -1e30F;

// What the passes work in; keep it to spare allocations. Holds no results.
struct ClosingScratch {
    std::vector<float> weights;
    std::vector<float> ground, along, raised, lowered;
};

// Half-width, in cells, of the square on which the paraboloid stands: where it has risen by `range_mm`.
int closing_reach(double range_mm, double bend_radius_mm, double cell_mm);

// closed(x) = least over y of (greatest over z of (ground(z) - f(y - z)) + f(x - y)), f(d) = |d|^2 / (2 bend radius), z
// over the ground's cells, y over all cells of the plane, each within closing_reach() cells along both axes; range_mm
// is that of the ground itself. So hollows and the feet of steps are rounded to the bend radius, slopes stay below
// reach / radius, and closed >= ground. Written for cells that have ground, row by row; the others keep what was in
// `closed`. Two separable passes each way: the cost is cells x reach, about 60 us for 60 x 60 cells and a reach of 8.
void close_by_paraboloid(std::span<float const> ground, int columns, int rows, double cell_mm, double bend_radius_mm,
                         std::span<float> closed, ClosingScratch& scratch);

} // namespace leafwright
