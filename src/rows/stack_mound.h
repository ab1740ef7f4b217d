// A feature's mound on the stack's grid.
#pragma once

#include "rows/feature.h"
#include "rows/stack_coverage.h"

namespace leafwright {

// Height of the mound at each cell's middle, straight-lined within the lattice's triangles; 0 outside. The greatest
// counts where the lattice folds over itself in the chart.
struct MoundRaster {
    CellBox box;
    std::vector<float> height_mm;
};
MoundRaster raster_mound(FeatureMound const& mound, double cell_mm);

} // namespace leafwright
