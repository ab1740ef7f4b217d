// From the finished arrangement to the answer: leaves in laying order, what is truly bare, and which rules gave way.
#pragma once

#include "rows/lay_propose.h"

namespace leafwright {

// One leaf of a unit, in laying order.
struct OrderedLeaf {
    LeafPlacement placement;
    std::size_t unit = 0;
    double key = 0; // of the order within its row
};
std::vector<OrderedLeaf> leaves_in_order(LayState const& state);

// By row; within a row from straight down, up both sides when mirrored, else once round. Pinned leaves exactly as
// given.
std::vector<LeafPlacement> ordered_leaves(LayState const& state, LayRequest const& request);

// Of the clad zone, by the overlap engine.
double exact_bare_mm2(LayRequest const& request, std::span<LeafPlacement const> leaves);

std::vector<Problem> rule_remarks(LayScene const& scene, Proposal const& proposal,
                                  std::span<LeafPlacement const> leaves, double bare_mm2);

} // namespace leafwright
