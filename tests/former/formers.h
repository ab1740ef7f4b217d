// Formers that several tests use.
#pragma once

#include "former/surface.h"

namespace leafwright {

inline FormerSpec oval_dome_spec(double width_mm, double height_mm, double crown_mm) {
    FormerSpec spec;
    spec.outline.width_mm = width_mm;
    spec.outline.height_mm = height_mm;
    spec.profile.crown_mm = crown_mm;
    return spec;
}

inline Former oval_dome(double width_mm, double height_mm, double crown_mm) {
    return *Former::make(oval_dome_spec(width_mm, height_mm, crown_mm));
}

inline Former round_former(ProfileKind kind, double rim_radius_mm, double crown_mm) {
    FormerSpec spec = oval_dome_spec(2 * rim_radius_mm, 2 * rim_radius_mm, crown_mm);
    spec.outline.kind = OutlineKind::round;
    spec.profile.kind = kind;
    return *Former::make(spec);
}

inline Former hemisphere(double radius_mm) { return round_former(ProfileKind::dome, radius_mm, radius_mm); }

} // namespace leafwright
