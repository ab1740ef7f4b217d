// Places on the piece that want the maker's eye: bare clay, and piles that dry badly.
#pragma once

#include "piece/plan.h"

namespace leafwright {

inline constexpr double kLeastBareSpot_mm2 = 0.1;
inline constexpr double kStackLimit = 3.0; // thicknesses of the slab; common practice is to keep joints even, no source

// Polygons of the overlap engine (bare_polygons) as places, largest first.
std::vector<BareSpot> bare_spots_of(std::vector<Polygon> const& polygons, ClaySurface const& face);

// Patches of the height field that lie higher than kStackLimit slabs above the slab, outside the features. Needs stack,
// zone and face of the plan.
std::vector<ThickSpot> thick_spots_of(Plan const& plan);

// "at the top", "at the lower left", "in the middle": as the piece hangs.
std::string place_words(Plan const& plan, Spot const& spot);

} // namespace leafwright
