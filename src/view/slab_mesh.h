// The slab over the former with its openings, the slab flat on the board, and the former.
#pragma once

#include "rows/feature.h"
#include "slab/slab.h"
#include "view/mesh.h"

namespace leafwright {

// Both faces and the walls at rim and openings. The first zone_indices belong to the clad zone of the outer face, the
// rest lies under features or is not of the outer face.
struct SlabMesh {
    Mesh mesh;
    std::size_t zone_indices = 0;
    std::size_t outside_indices = 0; // up to here outer face and walls, from here the inner face
};
SlabMesh slab_mesh(ClaySurface const& outer_face, std::span<LaidFeature const> features, double board_z_mm);

// An opening's edge in the feature's own plane; empty for mounds.
Ring opening_edge(Feature const& feature);

// As cut from the flat, on the board (z = 0 to the thickness).
Mesh flat_slab_mesh(Ring const& outline_mm, double thickness_mm);

// A little smaller than it is, so that the slab hides it.
Mesh former_mesh(Former const& former);

} // namespace leafwright
