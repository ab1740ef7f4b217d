// One row changed after the fact, without touching the others. Pinned leaves stay where they are.
#pragma once

#include "rows/placement.h"

#include <span>
#include <vector>

namespace leafwright {

// Each function takes the whole arrangement and gives the row's leaves as they would be, pinned ones among them, in
// laying order. Ids are kept; new leaves have id 0.

// Along the row's line, positive counter-clockwise as seen from the front; with `mirror` the right half goes that way
// (upward) and the left half the other, leaves on the axis stay.
std::vector<LeafPlacement> slid_row(ClaySurface const& surface, std::span<LeafPlacement const> leaves, int row,
                                    double by_mm, bool mirror);

// Evenly spaced with that many leaves that are not pinned: closer together when there are more. A row that is broken,
// by features say, keeps its breaks.
std::vector<LeafPlacement> respaced_row(ClaySurface const& surface, std::span<LeafPlacement const> leaves, int row,
                                        int count);

// All of one kind, each as long as the kind is, times the leaf's scale.
std::vector<LeafPlacement> row_of_kind(std::span<LeafPlacement const> leaves, int row, std::string const& kind);

int loose_leaves_in_row(std::span<LeafPlacement const> leaves, int row); // that are not pinned

} // namespace leafwright
