// Which part of a slab has to be solved, given that formers and cuts are often alike on both sides.
#pragma once

#include "base/outcome.h"
#include "slab/drape_mesh.h"
#include "slab/slab.h"

namespace leafwright {

enum class Mirrors {
    none,
    upright, // left and right alike: x and -x
    both,    // and up and down
};

// The greatest likeness that both the former and the cuts have.
Mirrors mirrors_of(FormerSpec const& former, std::span<SlabCut const> cuts);

struct DrapeDomain {
    Mirrors mirrors = Mirrors::none;
    DrapeRegion part;  // solved: from -90 degrees to 0 (both), to 90 (upright) or round to 270
    DrapeRegion whole; // from -90 to 270
};

DrapeDomain drape_domain(MeridianTable const& middle, Mirrors mirrors, std::span<SlabCut const> cuts);

// One half of a slab that is cut right through the crown, along the line of `azimuth_rad` (a multiple of a quarter
// turn); the half lies counter-clockwise of it. With `mirrored` only half of that half, from the line to its mirror.
DrapeRegion half_region(double azimuth_rad, bool mirrored);

// Flat places on the whole mesh from those on its part.
std::vector<Vec2> mirror_out(DrapeMesh const& whole, DrapeMesh const& part, Mirrors mirrors, std::span<Vec2 const> at);

} // namespace leafwright
