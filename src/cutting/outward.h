// Outlines with fewer points that hold the given one inside.
#pragma once

#include "base/polygon.h"

namespace leafwright {

// Rings with doubled points and points on straight runs dropped, the outer one counter-clockwise, holes clockwise.
// Holes without area are dropped too.
Polygon cleaned(Polygon const& polygon);

// Points taken away so that the solid only grows, nowhere by more than tolerance_mm from the given outline. Needs a
// cleaned polygon. The rings may come to cross themselves only where the given outline comes within tolerance_mm of
// itself. O(n log n).
Polygon simplified_outward(Polygon const& polygon, double tolerance_mm);

} // namespace leafwright
