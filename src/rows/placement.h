// Where one leaf lies. The order of leaves in the piece is the order of laying: later ones lie over earlier ones.
#pragma once

#include "former/surface.h"
#include "leaf/leaf_shape.h"

namespace leafwright {

struct LeafPlacement {
    int id = 0;               // unique in the piece, positive
    std::string kind;         // id of a leaf kind
    int row = 1;              // 1 is the outer row
    double azimuth_deg = 90;  // of the leaf's middle; 0 right, 90 up
    double from_crown_mm = 0; // of the leaf's middle, along the surface of the slab's outer face
    double turn_deg = 0;      // from "tip straight outward", counter-clockwise as seen from the front
    double scale = 1.0;       // 0.3 to 3, of the kind's length
    bool flipped = false;     // the leaf's mirror image
    bool pinned = false;      // kept where it is when rows are laid again
    bool operator==(LeafPlacement const&) const = default;
};

// One leaf on the surface. Immutable once made; share it by pointer.
struct LaidLeaf {
    LeafPlacement placement;
    Polygon chart;       // outline in the equal-area chart of the slab's outer face
    double flat_mm2 = 0; // area of the clay leaf as cut
    double thickness_mm = 0;
};

// The middle of the leaf (half its length on the midrib) is laid at the placement's spot.
// Cost: at most 100 us for 120 points.
LaidLeaf lay_leaf(ClaySurface const& surface, LeafPattern const& pattern, LeafPlacement const& placement);

// Any points of the leaf's own drawing (mm, stalk end at the origin) laid with it: veins, the inside of its mesh.
std::vector<LaidPoint> lay_points(ClaySurface const& surface, LeafPattern const& pattern,
                                  LeafPlacement const& placement, std::span<Vec2 const> leaf_mm);

} // namespace leafwright
