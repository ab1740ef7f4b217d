// Plane polygons and their plain measures. Outer rings run counter-clockwise, holes clockwise; the last point is not
// the first one again.
#pragma once

#include "base/vec.h"

#include <span>
#include <vector>

namespace leafwright {

using Ring = std::vector<Vec2>;

struct Box2 {
    Vec2 low{1e300, 1e300};
    Vec2 high{-1e300, -1e300};

    void add(Vec2 const& p);
    bool overlaps(Box2 const& other) const;
    bool contains(Vec2 const& p) const;
    Vec2 size() const { return high - low; }
    Vec2 centre() const { return 0.5 * (low + high); }
};

struct Polygon {
    Ring outer;
    std::vector<Ring> holes;
    bool operator==(Polygon const&) const = default;
};

// Shoelace area, positive when counter-clockwise; 0 for fewer than three points. Taken about the first point, so that
// rings far from the origin lose no digits.
double signed_area(std::span<Vec2 const> ring);
// Outer area less the holes', whatever way the rings run.
double area(Polygon const& polygon);
double perimeter(std::span<Vec2 const> ring);
// Centre of gravity of the area; the mean of the points when the area is 0.
Vec2 centroid(std::span<Vec2 const> ring);
Box2 bounds(std::span<Vec2 const> points);

// Even-odd rule. A point on the edge counts to one side, the same one at every call.
bool contains(std::span<Vec2 const> ring, Vec2 const& point);
bool contains(Polygon const& polygon, Vec2 const& point);

// No two edges cross or touch, other than neighbours at their common point. O(n^2): for input checks, not for loops.
bool is_simple(std::span<Vec2 const> ring);

// Counter-clockwise from the leftmost point, without points on its sides; fewer than three points if they lie on a line
// or are fewer. Andrew's monotone chain (Inf. Proc. Letters 9 (1979) 216), O(n log n).
Ring convex_hull(Ring points);

// The ring turned round if needed so that it runs counter-clockwise.
Ring counter_clockwise(Ring ring);

} // namespace leafwright
