// Thickness, stretch and pucker of the draped slab, spread over the piece and over the slab as cut.
#pragma once

#include "piece/plan.h"
#include "piece/shown_map.h"

namespace leafwright {

// Null when the plan's slab has no map. Stretch carries short lines along which the clay is drawn most, longest where
// it is drawn most.
std::shared_ptr<ShownMap const> thickness_map(Plan const& plan);
std::shared_ptr<ShownMap const> stretch_map(Plan const& plan);
std::shared_ptr<ShownMap const> pucker_map(Plan const& plan);

// Where a place of the flat slab comes to lie on the outer face; nothing outside the rim.
std::optional<Spot> laid_spot(Plan const& plan, Vec2 const& flat_mm);

} // namespace leafwright
