// The colour scale of figures on the piece.
#pragma once

#include "base/vec.h"

namespace leafwright {

// As a screen shows it, red, green and blue 0 to 1; share 0 (low, pale straw) to 1 (high, deep blue), clamped.
// Lightness falls in even steps, so the scale reads in grey and for colour-blind eyes: it runs from yellow to blue, the
// pair that red-green blindness keeps. Interpolated in OKLab (Ottosson, "A perceptual color space for image
// processing", 2020).
Vec3 map_colour(double share);

} // namespace leafwright
