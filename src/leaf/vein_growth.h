// Veins grown into any outline.
#pragma once

#include "leaf/own_leaf.h"

namespace leafwright {

// mm, in the outline's own frame; `midrib` from base to tip. VeinPattern::none gives no veins, not even a midrib.
std::vector<Vein> grown_veins(Polygon const& outline, std::span<Vec2 const> midrib, double stalk_mm,
                              VeinPattern pattern, std::uint64_t seed);

} // namespace leafwright
