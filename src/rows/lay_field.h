// Rows as lines on the clay: depth from the rim inward, with the rows' lines evened so that they follow the rim at the
// edge and close together at the crown; which way a leaf points there; and small moves of a leaf.
#pragma once

#include "former/surface.h"

namespace leafwright {

// Where a leaf's middle is and which way it points.
struct Pose {
    Spot middle;
    double turn_rad = 0; // from straight outward along the meridian, counter-clockwise
    double scale = 1;
    bool flipped = false;
};

// A row's line all round, by azimuth.
struct RowLine {
    double depth_mm = 0;
    std::vector<double> azimuth_rad; // from straight down (-pi/2), counter-clockwise, once round
    std::vector<double> along_mm;    // length so far; the last is the whole run
    double run_mm() const { return along_mm.back(); }
    double azimuth_at(double along) const; // any length, taken round
    double along_at(double azimuth) const; // 0 to the whole run
};

class RowField {
public:
    explicit RowField(ClaySurface const& surface);

    ClaySurface const& surface() const { return *surface_; }
    // Mean length from rim to crown: the depth of the crown.
    double crown_depth_mm() const { return crown_depth_; }
    double from_crown_mm(double azimuth_rad, double depth_mm) const;
    double depth_mm(Spot const& spot) const;
    RowLine line(double depth_mm) const;
    // The turn of a leaf that points square across the row's line, outward.
    double outward_turn(Spot const& spot) const;
    // Left and right of the surface are mirror images, to 0.01 mm.
    bool symmetric() const { return symmetric_; }

    // The pose moved by (right, outward) of its own turned frame and turned further, the direction carried along.
    Pose moved(Pose const& pose, Vec2 const& by_mm, double turn_by_rad) const;
    // The turn, from the meridian there, of a direction in space.
    double turn_of(Spot const& spot, Vec3 const& direction) const;

private:
    ClaySurface const* surface_;
    double crown_depth_ = 0;
    bool symmetric_ = false;
};

// The chart near one spot as a function of the tangent plane's x (right) and y (outward): a cubic through laid points.
// Good to a few tenths of a mm within the reach; for trying out moves before laying a leaf exactly.
class NearMap {
public:
    NearMap(ClaySurface const& surface, Spot const& middle, double reach_mm);
    Vec2 operator()(Vec2 const& local_mm) const;
    // The place that the map takes to this chart point, within the reach or a little beyond.
    Vec2 inverse(Vec2 const& chart) const;

private:
    double reach_;
    Vec2 coefficients_[10];
};

Pose mirrored(Pose const& pose);

} // namespace leafwright
