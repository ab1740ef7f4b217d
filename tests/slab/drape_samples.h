// Formers and short cuts for the tests of the drape.
#pragma once

#include "base/units.h"
#include "slab/drape.h"
#include "slab/drape_ladder.h"
#include "slab/drape_region.h"

#include <cmath>

namespace leafwright::sample {

inline FormerSpec cap_spec(double big_radius, double half_angle) {
    FormerSpec spec;
    spec.outline.kind = OutlineKind::round;
    spec.outline.width_mm = 2 * big_radius * std::sin(half_angle);
    spec.profile = {.kind = ProfileKind::saucer, .crown_mm = big_radius * (1 - std::cos(half_angle))};
    return spec;
}

inline FormerSpec oval_spec(double crown_mm) {
    FormerSpec spec;
    spec.profile.crown_mm = crown_mm;
    return spec;
}

// The former's own surface, no offset.
inline MeridianTable table_of(FormerSpec const& spec) { return MeridianTable::build(*Former::make(spec), 0, 4); }

inline LadderResult solve(MeridianTable const& middle, Mirrors mirrors, int rings, DrapeLaw const& law = {},
                          double tolerance = 1e-12) {
    LadderOptions options;
    options.rings = rings;
    options.law = law;
    options.tolerance = tolerance;
    Task task;
    return DrapeLadder().solve(middle, drape_domain(middle, mirrors, {}).part, options, task);
}

inline double flat_radius(LadderResult const& r, int ring, int column) {
    return glm::length(r.solve.flat[static_cast<std::size_t>(r.mesh.vertex(ring, column))]);
}

} // namespace leafwright::sample
