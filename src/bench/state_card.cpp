// The piece as it is at a stage, and how size and weight change along the making line.
#include "bench/after_inputs.h"

#include <fmt/format.h>

namespace leafwright {

void state_card(Worktop const& top) {
    StageAnswer const* const state = top.plan ? state_at(*top.plan, top.ui.stage) : nullptr;
    if (!state) return;
    Card const card(top.ui);
    heading(top.ui, fmt::format("As it is then: {}", stage_name(state->stage)).c_str());
    figure_answer(top, "Weight", state->mass_g, Quantity::mass);
    answer(top.ui, "Size", size_text(state->width_mm, state->height_mm, state->depth_mm, top.units()));
    std::string const range = range_text(state->length_factor, Quantity::share, top.units());
    std::string const from(from_text(state->length_factor.from));
    answer(top.ui, "Length, of the wet length", fmt::format("{:.1f} %", 100 * state->length_factor.value),
           range.empty() ? from : range + ", " + from);
    ImGui::Dummy({0, 0.2F * top.ui.theme.em});
    show_plot(top.ui, "line", making_line_plot(*top.plan), 11 * top.ui.theme.em);
    for (StageAnswer const& s : top.plan->stages)
        answer(top.ui, std::string(stage_name(s.stage)).c_str(),
               fmt::format("{}, {}", quantity_text(s.mass_g.value, Quantity::mass, top.units()),
                           size_text(s.width_mm, s.height_mm, top.units())));
}

} // namespace leafwright
