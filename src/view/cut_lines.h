// What is drawn on the slab laid flat for cutting: the outline, the band in which the rim may come to lie, the middle,
// darts.
#pragma once

#include "slab/slab.h"
#include "view/gl.h"
#include "view/lines.h"

namespace leafwright {

struct CutLines {
    GpuLines outline; // to cut along, trim included
    GpuLines rim;     // both edges of the band: slab that slides, slab that sticks
    GpuLines axes;    // through the crown, upright and level
    GpuLines marks;   // cross at the crown, ticks at top, bottom, left and right
    GpuLines darts;
    GpuMesh band;

    // On the upper face of the flat slab on the board.
    void update(SlabAnswer const& slab, double thickness_mm);
};

} // namespace leafwright
