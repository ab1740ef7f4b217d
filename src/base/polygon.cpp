#include "base/polygon.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

void Box2::add(Vec2 const& p) {
    low = {std::min(low.x, p.x), std::min(low.y, p.y)};
    high = {std::max(high.x, p.x), std::max(high.y, p.y)};
}

bool Box2::overlaps(Box2 const& other) const {
    return low.x <= other.high.x && other.low.x <= high.x && low.y <= other.high.y && other.low.y <= high.y;
}

bool Box2::contains(Vec2 const& p) const { return low.x <= p.x && p.x <= high.x && low.y <= p.y && p.y <= high.y; }

double signed_area(std::span<Vec2 const> ring) {
    double twice = 0;
    for (std::size_t i = 1; i + 1 < ring.size(); ++i) twice += cross(ring[i] - ring[0], ring[i + 1] - ring[0]);
    return 0.5 * twice;
}

double area(Polygon const& polygon) {
    double sum = std::abs(signed_area(polygon.outer));
    for (Ring const& hole : polygon.holes) sum -= std::abs(signed_area(hole));
    return sum;
}

double perimeter(std::span<Vec2 const> ring) {
    double sum = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) sum += glm::length(ring[(i + 1) % ring.size()] - ring[i]);
    return sum;
}

Vec2 centroid(std::span<Vec2 const> ring) {
    if (ring.empty()) return {0, 0};
    Vec2 moment{0, 0};
    Vec2 mean{0, 0};
    double twice = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const a = ring[i] - ring[0];
        Vec2 const b = ring[(i + 1) % ring.size()] - ring[0];
        double const c = cross(a, b);
        twice += c;
        moment += c * (a + b);
        mean += a;
    }
    if (twice == 0) return ring[0] + mean / static_cast<double>(ring.size());
    return ring[0] + moment / (3.0 * twice);
}

Box2 bounds(std::span<Vec2 const> points) {
    Box2 box;
    for (Vec2 const& p : points) box.add(p);
    return box;
}

bool contains(std::span<Vec2 const> ring, Vec2 const& point) {
    bool inside = false;
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
        Vec2 const& a = ring[i];
        Vec2 const& b = ring[j];
        if ((a.y > point.y) != (b.y > point.y)) {
            double const side = cross(b - a, point - a);
            if ((side > 0) == (b.y > a.y)) inside = !inside;
        }
    }
    return inside;
}

bool contains(Polygon const& polygon, Vec2 const& point) {
    if (!contains(polygon.outer, point)) return false;
    return std::ranges::none_of(polygon.holes, [&](Ring const& hole) { return contains(hole, point); });
}

namespace {

int side_of(Vec2 const& a, Vec2 const& b, Vec2 const& p) {
    double const c = cross(b - a, p - a);
    return c > 0 ? 1 : (c < 0 ? -1 : 0);
}

bool within_box(Vec2 const& a, Vec2 const& b, Vec2 const& p) {
    return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
           p.y <= std::max(a.y, b.y);
}

bool segments_touch(Vec2 const& a, Vec2 const& b, Vec2 const& c, Vec2 const& d) {
    int const c_side = side_of(a, b, c);
    int const d_side = side_of(a, b, d);
    int const a_side = side_of(c, d, a);
    int const b_side = side_of(c, d, b);
    if (c_side * d_side < 0 && a_side * b_side < 0) return true;
    return (c_side == 0 && within_box(a, b, c)) || (d_side == 0 && within_box(a, b, d)) ||
           (a_side == 0 && within_box(c, d, a)) || (b_side == 0 && within_box(c, d, b));
}

} // namespace

bool is_simple(std::span<Vec2 const> ring) {
    std::size_t const n = ring.size();
    if (n < 3) return false;
    for (std::size_t i = 0; i < n; ++i) {
        Vec2 const& a = ring[i];
        Vec2 const& b = ring[(i + 1) % n];
        if (a == b) return false;
        // The next edge may share b only; folding back onto this edge is a fault.
        Vec2 const& c = ring[(i + 2) % n];
        if (side_of(a, b, c) == 0 && glm::dot(b - a, c - b) < 0) return false;
        for (std::size_t j = i + 2; j < n; ++j) {
            if (i == 0 && j == n - 1) continue;
            if (segments_touch(a, b, ring[j], ring[(j + 1) % n])) return false;
        }
    }
    return true;
}

Ring convex_hull(Ring points) {
    std::ranges::sort(points, [](Vec2 const& a, Vec2 const& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    points.erase(std::unique(points.begin(), points.end()), points.end());
    if (points.size() < 3) return points;
    Ring hull;
    for (int side = 0; side < 2; ++side) {
        std::size_t const start = hull.size();
        for (Vec2 const& p : points) {
            while (hull.size() >= start + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0)
                hull.pop_back();
            hull.push_back(p);
        }
        hull.pop_back();
        std::ranges::reverse(points);
    }
    return hull;
}

Ring counter_clockwise(Ring ring) {
    if (signed_area(ring) < 0) std::ranges::reverse(ring);
    return ring;
}

} // namespace leafwright
