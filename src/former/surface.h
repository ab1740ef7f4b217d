// The surface on which everything is laid: the former's surface moved outward by offset_mm along its normal (the slab's
// outer face, or its middle), going on beyond the rim over a fillet to the flat board.
//
// Three ways to name a point of it:
//   Spot       azimuth and length along the meridian from the crown: what the piece stores;
//   chart      equal-area polar chart, mm: azimuth kept, radius q = sqrt(2 A(azimuth, w)); the shoelace area of a ring
//   in
//              the chart is its true area on the surface, exactly;
//   position   3-D, mm.
#pragma once

#include "former/former.h"

#include <span>

namespace leafwright {

struct Spot {
    double azimuth_rad = 0;
    double from_crown_mm = 0;
    bool operator==(Spot const&) const = default;
};

struct LaidPoint {
    Vec2 chart;
    Vec3 position;
    Vec3 normal; // unit, outward
};

struct SurfaceOptions {
    double offset_mm = 0;  // outward; the slab's thickness for the leaves, half of it for the drape
    double fillet_mm = 4;  // radius of the turn from the rim down to the board; at least 3
    double board_mm = 150; // how far the board is modelled beyond the fillet; further out it goes on flat
};

class ClaySurface {
public:
    // Cost: about 50 ms. Same answer on any number of threads.
    static ClaySurface make(Former const& former, SurfaceOptions const& options);

    SurfaceOptions const& options() const;
    // Area inside the rim, mm2; the rim as a ring in the chart; meridian length from crown to rim.
    double area_mm2() const;
    Ring rim_chart(int points) const;
    double rim_from_crown_mm(double azimuth_rad) const;

    Vec2 to_chart(Spot const& spot) const;
    Spot from_chart(Vec2 const& chart) const;
    LaidPoint at(Spot const& spot) const;
    LaidPoint at_chart(Vec2 const& chart) const;
    // Where a ray first meets the surface or the board, if it does (for picking). Direction need not be unit.
    std::optional<Spot> hit(Vec3 const& from, Vec3 const& direction) const;

    // Lays tangent-plane points on the surface by geodesics from `middle` (exponential map, fourth-order Runge-Kutta,
    // steps of at most 18 mm). Local +y is "straight outward" (along the meridian, away from the crown) turned by
    // turn_rad, counter-clockwise as seen from outside; +x is to the right of +y. Lengths and shapes are kept as a leaf
    // keeps them; end error at most 0.005 mm within 60 mm. Cost: about 0.5 us a point.
    // out.size() == local_mm.size().
    void lay(Spot const& middle, double turn_rad, std::span<Vec2 const> local_mm, std::span<LaidPoint> out) const;

private:
    struct Data;
    explicit ClaySurface(std::shared_ptr<Data const> data);
    std::shared_ptr<Data const> data_;
};

} // namespace leafwright
