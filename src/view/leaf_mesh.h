// A leaf of clay as a mesh: cut out once for each kind, then laid with its leaf and lifted to where the stack puts it.
#pragma once

#include "rows/placement.h"
#include "rows/stack.h"
#include "view/mesh.h"

namespace leafwright {

// The kind's triangulation in leaf coordinates: the top, and a wall round the outline.
struct LeafNet {
    FlatMesh top;
    std::size_t outline = 0;                    // the first so many points are the outline
    std::vector<Vec2> outward;                  // at each outline point, unit
    double edge_radius_mm = 2;                  // of the rounded edge
    std::vector<std::uint32_t> indices;         // vertices: the top's points, then the outline's again at the underside
    std::vector<std::uint32_t> flipped_indices; // for mirrored leaves
};
LeafNet make_leaf_net(LeafPattern const& pattern);

// Where the net's top points come to lie on the surface.
std::vector<LaidPoint> lay_net(ClaySurface const& surface, LeafPattern const& pattern, LaidLeaf const& leaf,
                               LeafNet const& net);

// The leaf in the stack: tops and undersides from its relief. Without a relief it lies flat on the slab.
// Cost: about 0.1 ms.
Mesh leaf_mesh(LeafNet const& net, std::span<LaidPoint const> laid, LaidLeaf const& leaf, LeafRelief const* relief);

// How far the top is rounded off at a distance from the edge.
double edge_drop_mm(double edge_mm, double radius_mm);

} // namespace leafwright
