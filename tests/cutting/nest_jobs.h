// Jobs for the tests and the benchmark, all of our own making.
#pragma once

#include "base/random.h"
#include "base/units.h"
#include "cutting/nest.h"

#include <cmath>

namespace leafwright {

inline Polygon rectangle(double width, double height) {
    return {{{0, 0}, {width, 0}, {width, height}, {0, height}}, {}};
}

inline NestShape shape_of(Polygon outline, int copies, std::vector<double> turns = {0.0}) {
    NestShape shape;
    shape.outline = std::move(outline);
    shape.copies = copies;
    shape.turns_deg = std::move(turns);
    return shape;
}

// A pointed oval with a wavy edge, about as a toothed leaf, with `points` points.
inline Polygon leaf_outline(double length, double width, int points, double teeth = 0.03) {
    Polygon p;
    for (int k = 0; k < points; ++k) {
        double const t = kTwoPi * k / points;
        double const wave = 1 + teeth * std::sin(11 * t);
        p.outer.push_back({0.5 * length * std::cos(t) * wave,
                           0.5 * width * std::sin(t) * std::pow(std::abs(std::sin(0.5 * t)), 0.3) * wave});
    }
    return p;
}

// 100 leaves of 40 to 120 points, every one of another size, that may lie any way and on either side.
inline NestJob leaves_job(int count = 100) {
    NestJob job;
    Random random(5);
    for (int k = 0; k < count; ++k) {
        double const length = random.between(45, 90);
        NestShape leaf = shape_of(
            leaf_outline(length, length * random.between(0.4, 0.7), 40 + static_cast<int>(random.below(81))), 1);
        leaf.turn_play_deg = 180;
        leaf.either_hand = true;
        job.shapes.push_back(leaf);
    }
    job.sheets.width_mm = 450;
    job.gap_mm = 2;
    job.edge_gap_mm = 5;
    return job;
}

} // namespace leafwright
