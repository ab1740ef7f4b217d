// Leaves made up in the chart, without a surface beneath: what the stack reads is the outline, area and thickness
// alone.
#pragma once

#include "base/random.h"
#include "base/units.h"
#include "rows/placement.h"

#include <cmath>
#include <memory>

namespace leafwright {

using LeafPointer = std::shared_ptr<LaidLeaf const>;

inline LeafPointer made_up_leaf(int id, Polygon const& chart, double thickness_mm, double flat_per_chart = 1.0) {
    auto leaf = std::make_shared<LaidLeaf>();
    leaf->placement.id = id;
    leaf->chart = chart;
    leaf->flat_mm2 = area(chart) * flat_per_chart;
    leaf->thickness_mm = thickness_mm;
    return leaf;
}

inline Ring box_ring(Vec2 const& low, Vec2 const& high) { return {low, {high.x, low.y}, high, {low.x, high.y}}; }

inline LeafPointer box_leaf(int id, Vec2 const& low, Vec2 const& high, double thickness_mm) {
    return made_up_leaf(id, {box_ring(low, high), {}}, thickness_mm);
}

// Lobed: radius 1 + lobe cos(5 t), stretched to length and width, tip along `turn`.
inline Ring lobed_ring(Vec2 const& middle, double length_mm, double width_mm, double turn_rad, double lobe,
                       int points) {
    Ring ring;
    Vec2 const along{std::cos(turn_rad), std::sin(turn_rad)};
    Vec2 const across{-along.y, along.x};
    for (int k = 0; k < points; ++k) {
        double const t = kTwoPi * k / points;
        double const r = (1 + lobe * std::cos(5 * t)) / (1 + lobe);
        ring.push_back(middle + 0.5 * r * (length_mm * std::cos(t) * along + width_mm * std::sin(t) * across));
    }
    return ring;
}

inline Ring round_rim(double radius_mm) { return lobed_ring({0, 0}, 2 * radius_mm, 2 * radius_mm, 0, 0, 360); }

inline LeafPointer random_leaf(int id, Random& random, double spread_mm) {
    Vec2 const middle{random.between(-spread_mm, spread_mm), random.between(-spread_mm, spread_mm)};
    double const length_mm = random.between(25, 60);
    Ring const ring = lobed_ring(middle, length_mm, length_mm * random.between(0.4, 0.8), random.between(0, kTwoPi),
                                 random.between(0, 0.3), 80);
    return made_up_leaf(id, {ring, {}}, random.between(3, 7), random.between(0.995, 1.005));
}

} // namespace leafwright
