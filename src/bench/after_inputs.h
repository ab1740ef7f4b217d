// Small parts of the panels from drying to hanging.
#pragma once

#include "bench/panels.h"
#include "bench/plot.h"

namespace leafwright {

// "Label ...... value", and beneath it the range and where the figure comes from.
void figure_answer(Worktop const& top, char const* label, Figure const& figure, Quantity quantity);
// Says that answers are on their way, or that they are those of before. Returns whether there are any.
bool second_is_there(Worktop const& top);

// A box for one reading, empty when it was not read; several readings show their mean. Typing nothing takes it out.
Touch reading_box(UiState& ui, char const* id, Readings& readings, Quantity quantity, Limits range, float width);
// A small button with a cross.
bool take_out(UiState& ui, char const* id, char const* hint);
// A figure of the piece that no source tells: slider, its range, and that it is an estimate. A value that was moved
// keeps the range round it.
Touch estimate_row(Worktop const& top, char const* label, Figure& figure, Quantity quantity, Limits range,
                   char const* note);

void kiln_card(Worktop const& top, std::size_t firing);
void tiles_page(Worktop const& top);
void size_page(Worktop const& top);
void cost_page(Worktop const& top);

} // namespace leafwright
