// Small vectors, by way of glm. Lengths in mm unless a name says otherwise.
#pragma once

#include <glm/geometric.hpp>
#include <glm/vec2.hpp>
#include <glm/vec3.hpp>

namespace leafwright {

using Vec2 = glm::dvec2;
using Vec3 = glm::dvec3;

// Signed area of the parallelogram a, b: positive when b is counter-clockwise of a.
inline double cross(Vec2 const& a, Vec2 const& b) { return a.x * b.y - a.y * b.x; }

inline bool is_finite(Vec2 const& p) { return p.x - p.x == 0.0 && p.y - p.y == 0.0; }
inline bool is_finite(Vec3 const& p) { return is_finite(Vec2(p)) && p.z - p.z == 0.0; }

} // namespace leafwright
