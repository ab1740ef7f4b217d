#include "bench/widgets.h"

#include "bench/desk.h"

#include <imgui_internal.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

// A slider moves in steps that a hand can mean.
double step_of(Quantity quantity, Limits range, Units units) {
    double step = (range.high - range.low) / 400;
    if (quantity == Quantity::length)
        step = units == Units::inches ? 25.4 / 16 : (range.high - range.low > 60 ? 1 : 0.5);
    if (quantity == Quantity::share) step = range.high - range.low > 0.3 ? 0.01 : 0.001;
    if (quantity == Quantity::angle) step = 1;
    if (quantity == Quantity::slip) step = 10;
    if (quantity == Quantity::plain) step = 0.05;
    if (quantity == Quantity::temperature) step = 5;
    if (quantity == Quantity::days || quantity == Quantity::hours) step = range.high - range.low > 60 ? 1 : 0.5;
    if (quantity == Quantity::rate || quantity == Quantity::litre_mass) step = 5;
    if (quantity == Quantity::force) step = range.high > 500 ? 10 : 1;
    return step;
}

double rounded_to_step(double value, double step, Limits range) {
    return std::clamp(std::round(value / step) * step, range.low, range.high);
}

// While the pointer rests on the slider, arrow keys take it on.
bool stepped(UiState& ui, double& value, double step, Limits range) {
    if (!ImGui::IsItemHovered() || ImGui::IsItemActive()) return false;
    ui.on_slider = true;
    if (ui.slider_steps == 0) return false;
    double const before = value;
    value = rounded_to_step(value + std::exchange(ui.slider_steps, 0) * step, step, range);
    return value != before;
}

// A slider's knob on its track; returns whether the value moved.
bool track(UiState& ui, char const* id, double& value, Limits range) {
    float const em = ui.theme.em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const width = std::max(4 * em, ImGui::GetContentRegionAvail().x);
    float const height = 1.6F * em;
    float const knob = 0.52F * em;
    ImGui::InvisibleButton(id, {width, height});
    bool const held = ImGui::IsItemActive();
    double const before = value;
    if (held) {
        float const share = (ImGui::GetIO().MousePos.x - at.x - knob) / (width - 2 * knob);
        value = range.low + (range.high - range.low) * std::clamp(static_cast<double>(share), 0.0, 1.0);
    }
    double const where = std::clamp((value - range.low) / (range.high - range.low), 0.0, 1.0);
    float const x = at.x + knob + static_cast<float>(where) * (width - 2 * knob);
    float const y = at.y + 0.5F * height;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled({at.x, y - 0.14F * em}, {at.x + width, y + 0.14F * em}, paint::clay_pale, 0.14F * em);
    draw.AddRectFilled({at.x, y - 0.14F * em}, {x, y + 0.14F * em}, paint::clay, 0.14F * em);
    bool const lit = held || ImGui::IsItemHovered();
    draw.AddCircleFilled({x, y}, lit ? knob * 1.12F : knob, lit ? paint::leaf : paint::card);
    draw.AddCircle({x, y}, lit ? knob * 1.12F : knob, lit ? paint::leaf_dark : paint::clay_dark, 0, 0.09F * em);
    return value != before;
}

} // namespace

void send(Intents& intents, Touch touch, Command command) {
    if (touch == Touch::moving)
        intents.emplace_back(Preview{std::move(command)});
    else if (touch == Touch::done)
        intents.emplace_back(Commit{std::move(command)});
}

ImTextureID texture_id(unsigned texture) {
    return reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(texture)); // NOLINT(performance-no-int-to-ptr)
}

void tip(UiState const& ui, std::string_view words) {
    ImGui::BeginTooltip();
    ImGui::PushTextWrapPos(26 * ui.theme.em);
    ImGui::TextUnformatted(words.data(), words.data() + words.size());
    ImGui::PopTextWrapPos();
    ImGui::EndTooltip();
}

Touch value_box(UiState& ui, char const* id, double& value, Quantity quantity, Limits range, float width) {
    ImGuiID const key = ImGui::GetID(id);
    std::string const shown = quantity_text(value, quantity, ui.settings.units);
    char buffer[48];
    std::snprintf(buffer, sizeof buffer, "%s", shown.c_str());
    ImGui::SetNextItemWidth(width);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {0.5F * ui.theme.em, 0.42F * ui.theme.em});
    ImGui::InputText(id, buffer, sizeof buffer, ImGuiInputTextFlags_AutoSelectAll);
    ImGui::PopStyleVar();
    if (ImGui::IsItemActive()) ui.typing[key] = buffer;
    if (!ImGui::IsItemDeactivated()) return Touch::none;
    auto const typed = ui.typing.find(key);
    if (typed == ui.typing.end()) return Touch::none;
    std::string const text = std::move(typed->second);
    ui.typing.erase(typed);
    if (text == shown) return Touch::none;
    auto const read = read_quantity(text, quantity, ui.settings.units);
    if (!read || !std::isfinite(*read)) {
        say(ui, fmt::format("“{}” is not a number here. Type one such as {}.", text, shown));
        return Touch::none;
    }
    value = std::clamp(*read, range.low, range.high);
    if (value != *read)
        say(ui, fmt::format("The {} here is {}, so that is what it was set to.", *read > value ? "most" : "least",
                            quantity_text(value, quantity, ui.settings.units)));
    return Touch::done;
}

Touch value_row(UiState& ui, char const* label, double& value, Quantity quantity, Limits range, char const* note) {
    ImGui::PushID(label);
    float const em = ui.theme.em;
    float const box = 5.6F * em;
    float const left = ImGui::GetCursorPosX();
    float const room = ImGui::GetContentRegionAvail().x;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const row = em + 0.84F * em;
    fitted_text(*ImGui::GetWindowDrawList(), ImGui::GetFont(), {at.x, at.y + 0.5F * (row - em)}, room - box - 0.5F * em,
                paint::ink, label);
    ImGui::SetCursorPosX(left + room - box);
    Touch touch = value_box(ui, "##box", value, quantity, range, box);
    ImGui::SetCursorPosY(ImGui::GetCursorPosY() - 0.3F * em);
    double const step = step_of(quantity, range, ui.settings.units);
    if (track(ui, "##track", value, range)) {
        value = rounded_to_step(value, step, range);
        touch = touch | Touch::moving;
    }
    mark(ui, std::string("slider.") + label);
    if (ImGui::IsItemDeactivated() || stepped(ui, value, step, range)) touch = Touch::done;
    if (note) {
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() - 0.45F * em);
        soft(ui, note);
    }
    ImGui::PopID();
    return touch;
}

Touch check_row(UiState& ui, char const* label, bool& value) {
    float const em = ui.theme.em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const height = 2.1F * em;
    bool const pressed = ImGui::InvisibleButton(label, {ImGui::GetContentRegionAvail().x, height});
    mark(ui, std::string("check.") + label);
    if (pressed) value = !value;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    bool const lit = ImGui::IsItemHovered();
    ImVec2 const low{at.x, at.y + 0.35F * em};
    ImVec2 const high{at.x + 1.4F * em, at.y + 1.75F * em};
    draw.AddRectFilled(low, high, value ? paint::leaf : paint::card, 0.3F * em);
    draw.AddRect(low, high, lit || value ? paint::leaf_dark : paint::border_strong, 0.3F * em, 0, 0.08F * em);
    if (value) {
        ImVec2 const tick[] = {{low.x + 0.32F * em, low.y + 0.72F * em},
                               {low.x + 0.6F * em, low.y + 1.0F * em},
                               {low.x + 1.08F * em, low.y + 0.42F * em}};
        draw.AddPolyline(tick, 3, paint::card, 0, 0.16F * em);
    }
    fitted_text(draw, ImGui::GetFont(), {at.x + 1.9F * em, at.y + 0.5F * (height - em)},
                ImGui::GetItemRectSize().x - 1.9F * em, paint::ink, label);
    return pressed ? Touch::done : Touch::none;
}

bool button(UiState& ui, char const* label, ButtonLook look, float width, bool enabled, char const* hint) {
    if (!enabled) ImGui::BeginDisabled();
    if (look == ButtonLook::strong) {
        ImGui::PushStyleColor(ImGuiCol_Button, paint::leaf);
        ImGui::PushStyleColor(ImGuiCol_ButtonHovered, paint::leaf_dark);
        ImGui::PushStyleColor(ImGuiCol_ButtonActive, paint::leaf_dark);
        ImGui::PushStyleColor(ImGuiCol_Text, paint::card);
        ImGui::PushStyleColor(ImGuiCol_Border, paint::leaf_dark);
    } else {
        ImGui::PushStyleColor(ImGuiCol_Button, look == ButtonLook::quiet ? IM_COL32(0, 0, 0, 0) : paint::card);
        ImGui::PushStyleColor(ImGuiCol_ButtonHovered, paint::leaf_pale);
        ImGui::PushStyleColor(ImGuiCol_ButtonActive, IM_COL32(205, 222, 196, 255));
        ImGui::PushStyleColor(ImGuiCol_Text, paint::ink);
        ImGui::PushStyleColor(ImGuiCol_Border, look == ButtonLook::quiet ? IM_COL32(0, 0, 0, 0) : paint::border);
    }
    float const room = ImGui::GetContentRegionAvail().x;
    bool const pressed = ImGui::Button(label, {width < 0 ? room : width, 0});
    ImGui::PopStyleColor(5);
    mark(ui, std::string("button.") + label);
    if (!enabled) ImGui::EndDisabled();
    if (hint && ImGui::IsItemHovered()) tip(ui, hint);
    return pressed && enabled;
}

bool segmented(UiState& ui, char const* id, std::span<char const* const> labels, int& chosen, float width) {
    ImGui::PushID(id);
    float const em = ui.theme.em;
    float const height = 2.2F * em;
    float widest = 0;
    for (char const* label : labels) widest = std::max(widest, text_size(ui.theme.text, label).x);
    float const cell = width > 0 ? width / static_cast<float>(labels.size()) : widest + 1.5F * em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const total = cell * static_cast<float>(labels.size());
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(at, {at.x + total, at.y + height}, paint::card, 0.47F * em);
    bool changed = false;
    for (std::size_t i = 0; i < labels.size(); ++i) {
        bool const is_chosen = chosen == static_cast<int>(i);
        ImVec2 const low{at.x + cell * static_cast<float>(i), at.y};
        ImVec2 const high{low.x + cell, low.y + height};
        ImGui::SetCursorScreenPos(low);
        if (ImGui::InvisibleButton(labels[i], {cell, height}) && !is_chosen) {
            chosen = static_cast<int>(i);
            changed = true;
        }
        mark(ui, std::string("choice.") + labels[i]);
        if (is_chosen)
            draw.AddRectFilled(low, high, paint::leaf, 0.47F * em);
        else if (ImGui::IsItemHovered())
            draw.AddRectFilled(low, high, paint::leaf_pale, 0.47F * em);
        fitted_text(draw, is_chosen ? ui.theme.strong : ui.theme.text,
                    {low.x + 0.3F * em, low.y + 0.5F * (height - em)}, cell - 0.6F * em,
                    is_chosen ? paint::card : paint::ink, labels[i], true);
    }
    draw.AddRect(at, {at.x + total, at.y + height}, paint::border_strong, 0.47F * em);
    ImGui::SetCursorScreenPos(at);
    ImGui::Dummy({total, height});
    ImGui::PopID();
    return changed;
}

bool picture_button(UiState& ui, char const* label, bool chosen, ImVec2 size, Drawing const& draw_picture) {
    float const em = ui.theme.em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    bool const pressed = ImGui::InvisibleButton(label, size);
    mark(ui, std::string("picture.") + label);
    bool const lit = ImGui::IsItemHovered();
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    ImVec2 const end{at.x + size.x, at.y + size.y};
    draw.AddRectFilled(at, end, chosen || lit ? paint::leaf_pale : paint::card, 0.47F * em);
    draw.AddRect(at, end, chosen ? paint::leaf : paint::border, 0.47F * em, 0, chosen ? 0.14F * em : 0.06F * em);
    draw_picture(draw, {at.x + 0.5F * em, at.y + 0.45F * em}, {end.x - 0.5F * em, end.y - 1.6F * em});
    fitted_text(draw, chosen ? ui.theme.strong : ui.theme.text, {at.x + 0.3F * em, end.y - 1.4F * em},
                size.x - 0.6F * em, paint::ink, label, true);
    if (chosen) draw_mark(draw, MarkKind::tick, {end.x - 0.8F * em, at.y + 0.8F * em}, 0.5F * em);
    return pressed;
}

} // namespace leafwright
