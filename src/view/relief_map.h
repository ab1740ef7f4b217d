// What is pressed or modelled into a part's surface, finer than its mesh, as a picture: slopes and hollows.
#pragma once

#include "leaf/leaf_shape.h"
#include "rows/feature.h"

#include <cstdint>

namespace leafwright {

struct ReliefMap {
    int columns = 0;
    int rows = 0;
    double texel_mm = 0.3;
    Vec2 low_mm{0, 0};                // corner of texel (0, 0), in the part's drawing
    std::vector<std::uint8_t> texels; // red, green: 127.5 (1 + slope along x, y); blue: hollow; alpha unused
};

// The leaf's veins as grooves (a pressed leaf's veins stand proud, so the clay keeps their print), the blade puffed up
// between them, and a net of fine veins. Seeded by nothing: the same shape gives the same map. Cost: about 10 ms.
ReliefMap leaf_relief_map(LeafShape const& shape);

// What a maker would model on the mound: iris and pupil, nostrils, the midline of a petal. Empty for other kinds.
ReliefMap feature_relief_map(Feature const& feature);

// Slopes of a height picture (row by row) and how far each texel lies below its surroundings.
ReliefMap relief_of_heights(std::vector<float> const& height_mm, int columns, int rows, double texel_mm,
                            Vec2 const& low_mm, double hollow_at_mm);

} // namespace leafwright
