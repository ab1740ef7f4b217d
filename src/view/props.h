// What stands about the piece: the lump of clay before it is rolled, guides, rolling pin, board, bench and wall.
#pragma once

#include "view/mesh.h"

namespace leafwright {

// A wedged loaf of clay of volume 1 on the plane z = 0; scale by the cube root of the volume.
Mesh lump_mesh();

// Guides either side of a slab of that size and a rolling pin across their upper ends.
Mesh rolling_mesh(Vec2 const& slab_half_mm, double thickness_mm);

// A board with its top at z = 0, round corners and an eased edge. uv runs once over the board.
Mesh board_mesh(Vec2 const& half_mm, double thickness_mm);

// A plane at height z.
Mesh plane_mesh(double half_mm, double z_mm);

} // namespace leafwright
