// Outlines in the flat: the unrolled one, the solved one, the one to cut.
#pragma once

#include "slab/drape_mesh.h"
#include "slab/slab.h"

namespace leafwright {

// The disc of radius rim length + beyond: exact area, and a ring of exactly that area.
double unrolled_area(MeridianTable const& middle, double beyond_mm);
Ring unrolled_outline(MeridianTable const& middle, double beyond_mm, double area_mm2);

// The rim of a whole slab, counter-clockwise, in and out along every cut; smooth between the vertices (cubic, four
// times as many points).
Ring rim_with_notches(DrapeMesh const& whole, std::span<Vec2 const> flat);
// The same, straight across the cuts' mouths.
Ring rim_without_notches(DrapeMesh const& whole, std::span<Vec2 const> flat);
SlabCutAnswer notch_at(DrapeMesh const& whole, std::size_t spoke, std::span<Vec2 const> flat);

// For a ring round the origin: the greatest of both radii at 720 azimuths, moved outward by `beyond_mm`.
Ring outline_to_cut(Ring const& a, Ring const& b, double beyond_mm);

// The narrowest strip that holds the ring: between dot(p, across) = low and low + width.
struct Strip {
    Vec2 across{1, 0};
    double low = 0, width = 0;
};
Strip narrowest_strip(Ring const& ring);

// "slab.too-wide", a refusal.
MaybeProblem check_width(Ring const& outline, double sheet_width_mm);

} // namespace leafwright
