#include "leaf/leaf_shape.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

LeafShape scaled(LeafShape const& shape, double factor) {
    LeafShape result = shape;
    result.length_mm *= factor;
    result.width_mm *= factor;
    for (Vec2& p : result.outline_mm.outer) p *= factor;
    for (Ring& hole : result.outline_mm.holes)
        for (Vec2& p : hole) p *= factor;
    for (Vein& vein : result.veins) {
        for (Vec2& p : vein.line_mm) p *= factor;
        vein.root_width_mm *= factor;
        vein.end_width_mm *= factor;
    }
    return result;
}

namespace {

// Left to right; turned round so that the ring runs as before, from the same first point.
void mirror_ring(Ring& ring) {
    for (Vec2& p : ring) p.x = -p.x;
    if (ring.size() > 1) std::reverse(ring.begin() + 1, ring.end());
}

} // namespace

LeafShape mirrored(LeafShape const& shape) {
    LeafShape result = shape;
    mirror_ring(result.outline_mm.outer);
    for (Ring& hole : result.outline_mm.holes) mirror_ring(hole);
    for (Vein& vein : result.veins)
        for (Vec2& p : vein.line_mm) p.x = -p.x;
    return result;
}

} // namespace leafwright
