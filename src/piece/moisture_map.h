// The water in the clay on the piece, at one time of its drying.
#pragma once

#include "piece/second_half.h"
#include "piece/shown_map.h"

namespace leafwright {

// Per cent of the dry clay over the chart, on the cells of the drying's maps; between two maps straight in time. The
// scale is that of the whole drying, 0 to the water at the start, so that colours mean the same on every day;
// leather-hard and bone dry are named beside it. A map without values when drying kept none. Bone dry: a twentieth of
// what it had above the balance with the air is left.
ShownMap moisture_map(SecondHalf const& half, double hour);

// Leather-hard and bone dry, in per cent of the dry clay, for this body in this room.
std::vector<ShownMap::Named> named_waters(Piece const& piece);

} // namespace leafwright
