// A polygon with holes as a few convex parts that cover it. Parts may overlap: larger parts tell better how deep two
// shapes lie in each other.
#pragma once

#include "base/polygon.h"

namespace leafwright {

// Triangles that fill the polygon (outer ring counter-clockwise, holes clockwise), by ear clipping with the holes
// bridged. O(n^2). Faults of rounding never leave a gap larger than the rounding itself.
std::vector<Ring> triangles_of(Polygon const& polygon);

// Convex parts, counter-clockwise, whose union is the polygon. A convex polygon comes back whole.
std::vector<Ring> convex_parts(Polygon const& polygon);

} // namespace leafwright
