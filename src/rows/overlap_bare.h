// Inside the overlap engine, for no other room: bare clay as polygons.
#pragma once

#include "rows/overlap_region.h"

namespace leafwright::overlap {

// Of regions whose parts are up to date. A hole of a leaf hangs on its outer ring by a bridge, which the polygon round
// it shows as a cut without width.
std::vector<Polygon> bare_polygons(std::span<Region const> regions);

} // namespace leafwright::overlap
