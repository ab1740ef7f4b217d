// Pictures for the shaders that depend on nothing but themselves, and the shade of crevices from the stack.
#pragma once

#include "rows/stack.h"
#include "view/gl.h"
#include "view/relief_map.h"

namespace leafwright {

inline constexpr float kShadeRange_mm = 96; // heights of the shade map, 16 bits over this

// A tile that repeats: slopes of clay's grain in red and green, slow changes of tone in blue.
GlTexture grain_texture();
// A pale board of glued staves, grain upright.
GlTexture wood_texture();
GlTexture relief_texture(ReliefMap const& map);
// The stack's height smoothed over about 3 mm (red) and 9 mm (green): where it stands above a place, the place is dark.
GlTexture shade_texture(HeightPatch const& height);
// (x, y) -> texture coordinates as x * frame.x + frame.z, y * frame.y + frame.w.
glm::vec4 texture_frame(Vec2 const& low_mm, Vec2 const& size_mm);

} // namespace leafwright
