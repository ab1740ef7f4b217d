// Box blur of a picture of floats, row by row.
#pragma once

#include <vector>

namespace leafwright {

// Mean over (2 radius + 1) squared texels, the border repeated. Linear in the texels, whatever the radius.
std::vector<float> box_blurred(std::vector<float> const& in, int columns, int rows, int radius);

} // namespace leafwright
