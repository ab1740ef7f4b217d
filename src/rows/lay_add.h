// One leaf more over a bare spot: of all kinds, sizes, turns and small shifts the one that covers most for its price.
#pragma once

#include "rows/lay_course.h"

namespace leafwright {

// Adds one leaf at the given spot, in the row that it fits best; false when none helps.
bool add_leaf(LayState& state, std::span<CourseRow const> rows, BarePatch const& spot);

} // namespace leafwright
