// Features: plain mounds and openings that the rows frame. Each has a footprint that leaves keep clear of.
#pragma once

#include "former/surface.h"

#include <memory>

namespace leafwright {

enum class FeatureKind { boss, ridge, opening, eye, nose, mouth, ear, petal };

struct Feature {
    FeatureKind kind = FeatureKind::boss;
    double azimuth_deg = 0;   // of its middle
    double from_crown_mm = 0; // of its middle, along the slab's outer face
    double width_mm = 60;     // left-right before turning; 5 to 600
    double height_mm = 40;    // up-down before turning
    double rise_mm = 25;      // above the slab; an opening's rise is that of its raised lip; 0 to 120
    double turn_deg = 0;      // counter-clockwise as seen from the front
    bool operator==(Feature const&) const = default;
};

// Footprint in the feature's own plane, mm, centred, x right and y up before turning; counter-clockwise.
Ring feature_footprint(Feature const& feature);
// Height above the slab at a point of that plane; 0 outside the footprint. For an opening: the lip outside the hole.
double feature_height_mm(Feature const& feature, Vec2 const& local_mm);
// Clay of the mound (for an opening: of its lip), mm3. Closed form where there is one, else quadrature to 1e-6.
double feature_volume_mm3(Feature const& feature);

// The mound as a lattice of points laid in the chart, row by row, with its height above the slab at each.
struct FeatureMound {
    int columns = 0;
    int rows = 0;
    std::vector<Vec2> chart;
    std::vector<float> height_mm; // 0 outside the footprint and inside an opening
};

struct LaidFeature {
    Feature feature;
    Ring chart;                                // footprint in the chart
    double slab_hole_mm2 = 0;                  // slab that an opening takes away, on the outer face
    std::shared_ptr<FeatureMound const> mound; // lay_mound(), by who needs it; the stack passes over one without
};
// "Up" of the feature is up on the wall.
LaidFeature lay_feature(ClaySurface const& surface, Feature const& feature);
std::vector<LaidPoint> lay_feature_points(ClaySurface const& surface, Feature const& feature,
                                          std::span<Vec2 const> local_mm);
// Lattice steps of about 1 mm, at most 96 each way, over the footprint's rectangle and a little beyond it.
FeatureMound lay_mound(ClaySurface const& surface, Feature const& feature);

} // namespace leafwright
