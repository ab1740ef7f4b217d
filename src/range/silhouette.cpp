#include "range/silhouette.h"

#include "base/units.h"
#include "cutting/outward.h"
#include "leaf/ring_union.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kRimPoints = 360;
constexpr double kOutward_mm = 0.3; // fewer points, and no clay left out

double height_at(HeightPatch const& patch, Vec2 const& chart) {
    return patch.columns > 0 && patch.rows > 0 ? patch.at(chart) : 0.0;
}

Vec2 seen(LaidPoint const& p, double lift_mm) {
    Vec3 const top = p.position + lift_mm * p.normal;
    return {top.x, top.y};
}

// The same points on the clay and lifted by what lies on them: the larger of both counts.
void add_ring(std::vector<LaidPoint> const& points, HeightPatch const& height, std::vector<Ring>& rings) {
    Ring low, high;
    for (LaidPoint const& p : points) {
        low.push_back(seen(p, 0));
        high.push_back(seen(p, height_at(height, p.chart)));
    }
    rings.push_back(counter_clockwise(std::move(low)));
    rings.push_back(counter_clockwise(std::move(high)));
}

Circle circle_of(Vec2 const& a, Vec2 const& b) { return {0.5 * (a + b), 0.5 * glm::length(a - b)}; }

Circle circle_of(Vec2 const& a, Vec2 const& b, Vec2 const& c) {
    Vec2 const u = b - a, v = c - a;
    double const twice = 2 * cross(u, v);
    if (twice == 0) { // on one line: the two farthest
        Circle best = circle_of(a, b);
        for (Circle const& other : {circle_of(a, c), circle_of(b, c)})
            if (other.radius_mm > best.radius_mm) best = other;
        return best;
    }
    double const uu = glm::dot(u, u), vv = glm::dot(v, v);
    Vec2 const w{(v.y * uu - u.y * vv) / twice, (u.x * vv - v.x * uu) / twice};
    return {a + w, glm::length(w)};
}

bool holds(Circle const& circle, Vec2 const& p) {
    return glm::length(p - circle.middle) <= circle.radius_mm * (1 + 1e-12) + 1e-12;
}

} // namespace

Ring silhouette_mm(Plan const& plan) {
    ClaySurface const& face = *plan.outer_face;
    HeightPatch const& height = plan.stack->height;
    std::vector<Ring> rings;
    std::vector<LaidPoint> points;
    for (int i = 0; i < kRimPoints; ++i) {
        double const azimuth = kTwoPi * i / kRimPoints;
        points.push_back(face.at({azimuth, face.rim_from_crown_mm(azimuth)}));
    }
    add_ring(points, height, rings);
    for (auto const& leaf : plan.laid) {
        points.clear();
        for (Vec2 const& chart : leaf->chart.outer) points.push_back(face.at_chart(chart));
        add_ring(points, height, rings);
    }
    std::vector<Polygon> const regions = filled_regions(rings, FillRule::nonzero);
    if (regions.empty())
        return convex_hull([&] {
            std::vector<Vec2> all;
            for (Ring const& ring : rings) all.insert(all.end(), ring.begin(), ring.end());
            return all;
        }());
    return simplified_outward(cleaned({regions.front().outer, {}}), kOutward_mm).outer;
}

Circle smallest_circle(std::span<Vec2 const> given) {
    if (given.empty()) return {};
    Ring const points = convex_hull({given.begin(), given.end()});
    Circle best{points[0], 0};
    for (std::size_t i = 1; i < points.size(); ++i) {
        if (holds(best, points[i])) continue;
        best = {points[i], 0};
        for (std::size_t j = 0; j < i; ++j) {
            if (holds(best, points[j])) continue;
            best = circle_of(points[i], points[j]);
            for (std::size_t k = 0; k < j; ++k)
                if (!holds(best, points[k])) best = circle_of(points[i], points[j], points[k]);
        }
    }
    return best;
}

} // namespace leafwright
