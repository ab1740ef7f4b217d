// The window's plots and line drawings on paper.
#pragma once

#include "piece/drawings.h"
#include "piece/plots.h"
#include "sheet/paper.h"

namespace leafwright {

// Title, unit, axes, lines by pattern with their names, marks; within the box.
void plot_on(Paper& paper, Box2 const& box, Plot const& plot);
// Fitted to the box, centred.
void drawing_on(Paper& paper, Box2 const& box, LineDrawing const& drawing);

} // namespace leafwright
