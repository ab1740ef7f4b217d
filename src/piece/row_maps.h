// The leaves' figures spread over the piece, on the grid of the stack.
#pragma once

#include "piece/plan.h"
#include "piece/shown_map.h"

#include <memory>

namespace leafwright {

std::shared_ptr<ShownMap const> stack_map(Plan const& plan);  // height of leaves and features above the slab, mm
std::shared_ptr<ShownMap const> layers_map(Plan const& plan); // leaves over each place
std::shared_ptr<ShownMap const> lap_map(Plan const& plan);    // lap of the leaf on top, %

} // namespace leafwright
