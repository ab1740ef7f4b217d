// All pieces pushed at once towards the start of the row, and slight overlaps pushed out, by linear programming
// (compaction and separation after Z. Li, V. Milenkovic, Eur. J. Oper. Res. 84, 1995).
#pragma once

#include "cutting/layout.h"

#include <optional>

namespace leafwright {

// Moves pieces, none turned and none by more than reach_mm, each pair kept to the side on which it lies now, so that
// nobody overlaps and the row ends as early as can be. Gives where it ends; nothing, and the layout untouched, when
// there is no such layout. Pieces keep to their sheets. Accuracy 1e-10 of the model's scale.
std::optional<double> pressed(NestModel const& model, Layout& layout, double reach_mm);

} // namespace leafwright
