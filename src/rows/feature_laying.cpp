#include "rows/feature.h"

#include "base/units.h"

#include <cmath>

namespace leafwright {

namespace {

// As many corners as make its chart area exact to 1e-6, with the area of the ellipse itself.
Ring hole_of(Feature const& opening) {
    constexpr int points = 96;
    double const step = kTwoPi / points;
    double const grown = std::sqrt(step / std::sin(step));
    Ring ring;
    for (int i = 0; i < points; ++i)
        ring.push_back(0.5 * grown *
                       Vec2{opening.width_mm * std::cos(i * step), opening.height_mm * std::sin(i * step)});
    return ring;
}

Ring charted(ClaySurface const& surface, Feature const& feature, Ring const& local_mm) {
    Ring chart;
    chart.reserve(local_mm.size());
    for (LaidPoint const& point : lay_feature_points(surface, feature, local_mm)) chart.push_back(point.chart);
    return chart;
}

} // namespace

std::vector<LaidPoint> lay_feature_points(ClaySurface const& surface, Feature const& feature,
                                          std::span<Vec2 const> local_mm) {
    // "Straight outward" points along the azimuth; "up" is at 90 degrees.
    double const turn_rad = radians(90.0 - feature.azimuth_deg + feature.turn_deg);
    std::vector<LaidPoint> laid(local_mm.size());
    surface.lay({radians(feature.azimuth_deg), feature.from_crown_mm}, turn_rad, local_mm, laid);
    return laid;
}

LaidFeature lay_feature(ClaySurface const& surface, Feature const& feature) {
    LaidFeature laid;
    laid.feature = feature;
    laid.chart = charted(surface, feature, feature_footprint(feature));
    if (feature.kind == FeatureKind::opening)
        laid.slab_hole_mm2 = signed_area(charted(surface, feature, hole_of(feature)));
    return laid;
}

} // namespace leafwright
