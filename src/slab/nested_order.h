// An order of elimination for meshes laid out in the plane, by nested dissection: halves first, then what parts them.
#pragma once

#include "slab/drape_mesh.h"

namespace leafwright {

// Every vertex that a triangle uses, in order of elimination. The same mesh gives the same order.
std::vector<std::int32_t> nested_order(DrapeMesh const& mesh);

} // namespace leafwright
