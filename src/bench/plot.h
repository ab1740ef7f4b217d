// Plots and line drawings in a panel.
#pragma once

#include "bench/widgets.h"
#include "piece/drawings.h"
#include "piece/plots.h"

namespace leafwright {

// As wide as the panel: title and unit, axes, lines told apart by their pattern and by the list above, marks with their
// words. Under the pointer a hair line and all values. With a `cursor` (a place across) it is drawn, and dragged by a
// press in the plot. Returns whether it moved.
bool show_plot(UiState& ui, char const* id, Plot const& plot, float height, double* cursor = nullptr);

// Fitted to the width and this height, centred.
void show_drawing(UiState& ui, LineDrawing const& drawing, float height);

} // namespace leafwright
