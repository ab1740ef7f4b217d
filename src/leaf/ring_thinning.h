// Fewer points for an outline that many leaves will be laid with.
#pragma once

#include "base/polygon.h"

namespace leafwright {

// The ring with only the points that matter within the tolerance (Douglas-Peucker from its two farthest points).
Ring thinned_ring(Ring const& ring, double tolerance_mm);

// At most about so many points on each ring, the tolerance as small as that allows; rings with fewer stay as they are.
// Stays simple and holes stay inside: where thinning would break that, more points are kept.
Polygon thinned_polygon(Polygon const& polygon, std::size_t outer_points, std::size_t hole_points);

// Edges of the two rings cross or touch. Cost: about the number of pairs whose boxes overlap.
bool rings_cross(std::span<Vec2 const> a, std::span<Vec2 const> b);

} // namespace leafwright
