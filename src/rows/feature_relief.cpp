#include "rows/feature.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kLatticeStep_mm = 1.0;
constexpr int kMostSteps = 95;
constexpr double kBeyond_mm = 1.0; // so that the mound's edge falls to 0 inside the lattice

struct LatticeAxis {
    double low_mm = 0;
    double step_mm = 1;
    int count = 2;
};

LatticeAxis lattice_axis(double low_mm, double high_mm) {
    double const length_mm = high_mm - low_mm + 2 * kBeyond_mm;
    int const steps = std::clamp(static_cast<int>(std::ceil(length_mm / kLatticeStep_mm)), 1, kMostSteps);
    return {low_mm - kBeyond_mm, length_mm / steps, steps + 1};
}

} // namespace

FeatureMound lay_mound(ClaySurface const& surface, Feature const& feature) {
    Box2 const box = bounds(feature_footprint(feature));
    LatticeAxis const x = lattice_axis(box.low.x, box.high.x);
    LatticeAxis const y = lattice_axis(box.low.y, box.high.y);
    FeatureMound mound{x.count, y.count, {}, {}};
    std::vector<Vec2> local;
    local.reserve(static_cast<std::size_t>(x.count) * static_cast<std::size_t>(y.count));
    for (int row = 0; row < y.count; ++row)
        for (int column = 0; column < x.count; ++column)
            local.emplace_back(x.low_mm + column * x.step_mm, y.low_mm + row * y.step_mm);
    for (LaidPoint const& point : lay_feature_points(surface, feature, local)) mound.chart.push_back(point.chart);
    for (Vec2 const& p : local) mound.height_mm.push_back(static_cast<float>(feature_height_mm(feature, p)));
    return mound;
}

} // namespace leafwright
