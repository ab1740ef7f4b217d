// Sizes that the parts of the cutting plan share. Internal to the room.
#pragma once

#include "piece/cutting_plan.h"

namespace leafwright {

// A test bar: long enough for a line of 100 mm with clay beyond its ends; common practice, no source.
inline constexpr double kBarLength_mm = 130;
inline constexpr double kBarWidth_mm = 30;
inline constexpr double kBarLine_mm = 100;

// What the nesting works on: a leaf with its teeth filled, where no knife and no neighbour would come anyway. It holds
// the outline inside, so that gaps hold for the outline too; a hundred convex parts become some five.
Polygon nest_outline(CutItem const& item);

double usable_width_mm(Piece const& piece); // of mat and sheet, the lesser

} // namespace leafwright
