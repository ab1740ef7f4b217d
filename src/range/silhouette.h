// A piece as seen from the front: what it takes of a kiln shelf when it lies on it.
#pragma once

#include "piece/plan.h"

namespace leafwright {

// The outline of the rim and all leaves with what lies on them, plastic size, mm, about the former's middle; without
// holes. Its box is that of the plan's plastic stage to 1 mm. Cost: some ten ms.
Ring silhouette_mm(Plan const& plan);

// The smallest circle that holds all points (Welzl 1991, in the order given). Accuracy: 1e-9 of the size.
struct Circle {
    Vec2 middle{0, 0};
    double radius_mm = 0;
};
Circle smallest_circle(std::span<Vec2 const> points);

} // namespace leafwright
