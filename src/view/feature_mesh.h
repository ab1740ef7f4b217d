// A mound on the slab, or an opening's lip, as a mesh in the same form as a leaf's.
#pragma once

#include "rows/feature.h"
#include "view/mesh.h"

namespace leafwright {

// Cost: some ms; built again only when the feature or the slab's face changes.
Mesh feature_mesh(ClaySurface const& face, Feature const& feature);

} // namespace leafwright
