// One leaf pressed on what lies under it.
//
// Its cells weigh by a softened share (exact area, then a small tent: pressed clay has round edges, and the area
// stays). The underside is the closing of the ground by a paraboloid; the upper side is that underside, smoothed as
// thick clay smooths it, and raised so that the volume is the leaf's own. With c the share, H the ground, B the
// underside, T the clay's thickness there (T includes c), the ground becomes H + c max(B - H, 0) + T: hollows and clay
// add up exactly.
#pragma once

#include "rows/stack.h"
#include "rows/stack_closing.h"
#include "rows/stack_coverage.h"

namespace leafwright {

// The leaf's cells with softened shares and room round them for the underside's rim.
Coverage leaf_coverage(Polygon const& chart, double cell_mm);

struct PressedLeaf {
    std::shared_ptr<LeafRelief const> relief;
    std::vector<float> after; // ground after laying, where the share is above 0
    double volume_mm3 = 0;
};

struct PressScratch {
    ClosingScratch closing;
    std::vector<float> ground, closed, thickness, known, smooth, row_sum, row_count, blurred, lift;
};

// ground and on_slab: for each cell of the coverage's box; ground is read only where the share is above 0. on_slab
// tells where there is slab to bond to (elsewhere only an earlier leaf is).
PressedLeaf press_leaf(LaidLeaf const& leaf, Coverage const& coverage, std::span<float const> ground,
                       std::vector<float> const& on_slab, StackOptions const& options, PressScratch& scratch);

} // namespace leafwright
