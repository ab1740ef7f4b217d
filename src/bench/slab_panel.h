// The slab at Drape: how it lies, darts, ways to clothe the former; laying it over; its measures drawn when flat.
#pragma once

#include "bench/panels.h"

namespace leafwright {

void laying_card(Worktop const& top);
void slab_cards_at_drape(Worktop const& top);

// The laying over goes on while it is played; whether it still does.
bool refresh_laying(UiState& ui);

// Width and height of the outline, beside the slab laid flat.
void draw_slab_measures(Desk const& desk, ImDrawList& draw);

} // namespace leafwright
