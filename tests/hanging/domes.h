// Shells over plain formers.
#pragma once

#include "drying/clay_map.h"

namespace leafwright {

struct Shell {
    ClaySurface face;
    ClayMap clay;
};

inline Shell shell_of(ProfileKind kind, double width_mm, double height_mm, double crown_mm, double slab_mm,
                      HeightPatch const& pile = {}, double cell_mm = 2) {
    FormerSpec spec;
    spec.outline.kind = OutlineKind::oval;
    spec.outline.width_mm = width_mm;
    spec.outline.height_mm = height_mm;
    spec.profile.kind = kind;
    spec.profile.crown_mm = crown_mm;
    SurfaceOptions options;
    options.offset_mm = slab_mm;
    ClaySurface face = ClaySurface::make(*Former::make(spec), options);
    auto const map = face_map(face, face.rim_chart(720), {}, cell_mm);
    return {face, clay_map(map, slab_mm, pile, {}, {})};
}

} // namespace leafwright
