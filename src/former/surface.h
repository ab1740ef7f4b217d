// The surface on which everything is laid: the former's surface moved outward by offset_mm along its normal (the slab's
// outer face, or its middle), going on beyond the rim over a fillet to the flat board.
//
// Three ways to name a point of it:
//   Spot       azimuth and length along the meridian from the crown: what the piece stores. Azimuth is that of the
//   point
//              itself (not of its foot on the former), and the meridian is this surface's section by the upright plane
//              of the azimuth, so spots on surfaces of different offset lie over each other;
//   chart      equal-area polar chart, mm: azimuth kept, radius q = sqrt(2 A(azimuth, length)); the shoelace area of a
//              ring in the chart is its true area on the surface, exactly;
//   position   3-D, mm.
//
// The board is one plane for the whole piece: a skirt goes straight on from the rim until all meridians meet it over
// the fillet. Where a hollow of a free outline is narrower than the offset the moved surface would fold over itself;
// the fold is left out and its ends are joined.
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
    bool coarse = false;   // for a moving slider's frames: an eighth of the time; nothing is laid on it in earnest
};

class ClaySurface {
public:
    // Cost: about 70 ms on one core, 45 ms on two. Same answer on any number of threads.
    static ClaySurface make(Former const& former, SurfaceOptions const& options);

    SurfaceOptions const& options() const;
    // Area inside the rim, mm2; relative error below 1e-7 up to 1:4. The rim as a ring in the chart, moved outward by a
    // hair (6 um at 360 points) so that its shoelace area is area_mm2() to rounding. Meridian length from crown to rim.
    double area_mm2() const;
    Ring rim_chart(int points) const;
    double rim_from_crown_mm(double azimuth_rad) const;

    Vec2 to_chart(Spot const& spot) const;
    Spot from_chart(Vec2 const& chart) const;
    LaidPoint at(Spot const& spot) const;
    LaidPoint at_chart(Vec2 const& chart) const;
    // Where a ray first meets the surface or the board, if it does (for picking). Direction need not be unit. Exact to
    // 1e-4 mm but where the ray grazes (then to the coarse net, 0.3 mm). Cost: about 25 us.
    std::optional<Spot> hit(Vec3 const& from, Vec3 const& direction) const;

    // Lays tangent-plane points on the surface by geodesics from `middle` (exponential map, fourth-order Runge-Kutta,
    // steps of at most 10 mm, 3.5 mm over the fillet). Local +y is "straight outward" (along the meridian, away from
    // the crown) turned by turn_rad, counter-clockwise as seen from outside; +x is to the right of +y. At the crown the
    // spot's azimuth says where outward is. Lengths and shapes are kept as a leaf keeps them. End error within 60 mm:
    // at most 0.005 mm inside the rim on ovals up to 3:4 (0.02 mm at 2:5, and over the crown of a squareness of 6,
    // where the curvature depends on the direction). Over the fillet neighbouring paths part: half of them end within
    // 0.002 mm, those that run along it within about 2 mm. Outlines more slender than 1:4 are rough at their ends.
    // Cost: about 0.45 us a point, 0.7 us over the rim. out.size() == local_mm.size().
    void lay(Spot const& middle, double turn_rad, std::span<Vec2 const> local_mm, std::span<LaidPoint> out) const;

private:
    struct Data;
    explicit ClaySurface(std::shared_ptr<Data const> data);
    std::shared_ptr<Data const> data_;
};

} // namespace leafwright
