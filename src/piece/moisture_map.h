// The water in the clay on the piece, at one time of its drying.
#pragma once

#include "piece/second_half.h"
#include "piece/shown_map.h"

namespace leafwright {

// Per cent of the dry clay over the chart, on the cells of the drying's maps; between two maps straight in time. The
// scale is that of the whole drying, 0 to the water at the start, so that colours mean the same on every day; the lines
// tell leather-hard among the round figures. A map without values when drying kept none.
ShownMap moisture_map(SecondHalf const& half, double hour);

} // namespace leafwright
