// Where a ray meets the surface: a coarse net of triangles for the first guess, then Newton on the surface itself.
#pragma once

#include "former/meridian_table.h"

namespace leafwright {

struct RayHit {
    double azimuth_rad = 0;
    double length_mm = 0; // along the meridian from the crown
    double along = 0;     // the ray's parameter
};

class RayMesh {
public:
    static RayMesh build(MeridianTable const& table);
    // The nearest meeting in front of `from`. Cost: about 50 us.
    std::optional<RayHit> hit(MeridianTable const& table, Vec3 const& from, Vec3 const& direction) const;

private:
    struct Triangle {
        Vec3 corner, side_a, side_b;
        Vec2 uv, uv_a, uv_b; // (u, v) at the corner and along the sides
    };
    std::vector<Triangle> triangles_;
};

} // namespace leafwright
