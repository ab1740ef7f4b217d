// A row as it lies, as one smooth line round the crown: for drawing it, and for setting further leaves on it.
#pragma once

#include "former/surface.h"
#include "rows/placement.h"

#include <span>
#include <vector>

namespace leafwright {

// Through the leaves' middles: at each azimuth the mean of how far those nearby lie from the crown, weights falling off
// over about a leaf's breadth.
class RowGuide {
public:
    RowGuide(int row, std::vector<Spot> middles) : row_(row), middles_(std::move(middles)) {}
    int row() const { return row_; }
    double from_crown_mm(double azimuth_rad) const;

private:
    int row_;
    std::vector<Spot> middles_;
};

// Of every row with more than two leaves, rising.
std::vector<RowGuide> row_guides(std::span<LeafPlacement const> leaves);

struct RowPlace {
    int row = 0;
    Spot spot; // on the row's line, at the azimuth that was asked for
};
// The row whose line passes within `reach_mm` of the spot, the nearest one; row 0 for none.
RowPlace row_place(std::span<RowGuide const> guides, Spot const& spot, double reach_mm);

} // namespace leafwright
