// An order of elimination for meshes laid out in the plane, by nested dissection: halves first, then what parts them.
#pragma once

#include "slab/drape_mesh.h"

namespace leafwright {

struct EliminationTree {
    struct Part { // order[first] to order[last - 1], after both halves
        std::int32_t first = 0, last = 0;
        std::int32_t left = -1, right = -1; // parts; -1: none
    };
    std::vector<std::int32_t> order; // every vertex that a triangle uses
    std::vector<Part> parts;         // halves before what parts them; the last is the root
};

// Vertices of two halves never share a triangle. The same mesh gives the same order.
EliminationTree nested_order(DrapeMesh const& mesh);

} // namespace leafwright
