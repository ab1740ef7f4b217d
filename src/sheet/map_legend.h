// The scale of a figure spread over the piece, drawn into a finished picture.
#pragma once

#include "piece/shown_map.h"

namespace leafwright {

// Into the lower left corner: title, unit, bar of colours, lines and numbers at the levels. `rgb`: rows from the top.
// A picture too small for it (under 200 pixels wide or 120 high) stays as it is.
void draw_map_legend(ShownMap const& map, int width_px, int height_px, std::vector<unsigned char>& rgb);

} // namespace leafwright
