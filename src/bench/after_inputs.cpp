#include "bench/after_inputs.h"

#include "bench/desk.h"

#include <fmt/format.h>

#include <cmath>
#include <numeric>

namespace leafwright {

void figure_answer(Worktop const& top, char const* label, Figure const& figure, Quantity quantity) {
    std::string const range = range_text(figure, quantity, top.units());
    // What is usual here may be a cover, a wash or a kiln, not the clay alone.
    std::string const from(figure.from == FigureFrom::by_default ? "by usual figures" : from_text(figure.from));
    answer(top.ui, label, quantity_text(figure.value, quantity, top.units()),
           range.empty() ? from : fmt::format("{}, {}", range, from));
}

bool second_is_there(Worktop const& top) {
    if (!top.second) soft(top.ui, "Being reckoned; the answers come in a moment.");
    if (top.second && top.second_is_old) soft(top.ui, "Being reckoned anew; these are the answers of before.");
    return top.second != nullptr;
}

Touch reading_box(UiState& ui, char const* id, Readings& readings, Quantity quantity, Limits range, float width) {
    ImGuiID const key = ImGui::GetID(id);
    double const mean = readings.empty() ? 0
                                         : std::accumulate(readings.begin(), readings.end(), 0.0) /
                                               static_cast<double>(readings.size());
    std::string const shown = readings.empty() ? std::string() : quantity_text(mean, quantity, ui.settings.units);
    char buffer[48];
    std::snprintf(buffer, sizeof buffer, "%s", shown.c_str());
    ImGui::SetNextItemWidth(width);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {0.4F * ui.theme.em, 0.42F * ui.theme.em});
    ImGui::InputTextWithHint(id, "not read", buffer, sizeof buffer, ImGuiInputTextFlags_AutoSelectAll);
    ImGui::PopStyleVar();
    mark(ui, std::string("reading.") + id);
    if (readings.size() > 1 && ImGui::IsItemHovered())
        tip(ui, fmt::format("The mean of {} readings.", readings.size()));
    if (ImGui::IsItemActive()) ui.typing[key] = buffer;
    if (!ImGui::IsItemDeactivated()) return Touch::none;
    auto const typed = ui.typing.find(key);
    if (typed == ui.typing.end()) return Touch::none;
    std::string const text = std::move(typed->second);
    ui.typing.erase(typed);
    if (text == shown) return Touch::none;
    if (text.find_first_not_of(' ') == std::string::npos) {
        readings.clear();
        return Touch::done;
    }
    auto const read = read_quantity(text, quantity, ui.settings.units);
    if (!read || !std::isfinite(*read) || *read < range.low || *read > range.high) {
        say(ui, fmt::format("“{}” is not a reading here. Type one from {} to {}.", text,
                            quantity_text(range.low, quantity, ui.settings.units),
                            quantity_text(range.high, quantity, ui.settings.units)));
        return Touch::none;
    }
    readings = {*read};
    return Touch::done;
}

bool take_out(UiState& ui, char const* id, char const* hint) {
    float const em = ui.theme.em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    bool const pressed = ImGui::InvisibleButton(id, {1.84F * em, 1.84F * em});
    bool const lit = ImGui::IsItemHovered();
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    ImVec2 const c{at.x + 0.92F * em, at.y + 0.92F * em};
    if (lit) draw.AddRectFilled(at, {at.x + 1.84F * em, at.y + 1.84F * em}, paint::leaf_pale, 0.4F * em);
    float const r = 0.34F * em;
    draw.AddLine({c.x - r, c.y - r}, {c.x + r, c.y + r}, paint::ink_soft, 0.12F * em);
    draw.AddLine({c.x - r, c.y + r}, {c.x + r, c.y - r}, paint::ink_soft, 0.12F * em);
    if (lit) tip(ui, hint);
    return pressed;
}

Touch estimate_row(Worktop const& top, char const* label, Figure& figure, Quantity quantity, Limits range,
                   char const* note) {
    double value = figure.value;
    Touch const touch = value_row(top.ui, label, value, quantity, range);
    if (touch != Touch::none && figure.value > 0) {
        double const ratio = value / figure.value;
        figure.low = std::clamp(figure.low * ratio, range.low, value);
        figure.high = std::clamp(figure.high * ratio, value, range.high);
        figure.value = value;
    }
    std::string const spread = range_text(figure, quantity, top.units());
    soft(top.ui, spread.empty() ? std::string(note) : fmt::format("{}. {}", spread, note));
    return touch;
}

} // namespace leafwright
