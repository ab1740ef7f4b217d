// What to do with the piece, and the key figures beneath.
#include "bench/panels.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

void act_button(UiState& ui, Intents& intents, char const* label, Act act, bool enabled, std::string const& hint) {
    if (button(ui, label, ButtonLook::quiet, 0, enabled, hint.empty() ? nullptr : hint.c_str()))
        intents.emplace_back(DoAct{act});
}

void recent_list(UiState& ui, Intents& intents) {
    for (auto const& path : ui.settings.recent) {
        ImGui::PushID(path.c_str());
        if (ImGui::Selectable(path.filename().c_str(), false, 0, {0, 1.6F * ui.theme.em}))
            intents.emplace_back(OpenPath{path});
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", path.c_str());
        ImGui::PopID();
    }
    if (ui.settings.recent.empty()) ImGui::TextDisabled("Nothing yet");
}

void menu_line(UiState& ui, Intents& intents, char const* label, Act act, bool enabled = true) {
    ImGuiSelectableFlags const flags = enabled ? 0 : ImGuiSelectableFlags_Disabled;
    if (ImGui::Selectable(label, false, flags, {10 * ui.theme.em, 1.7F * ui.theme.em}))
        intents.emplace_back(DoAct{act});
}

// The piece's name, to be typed over.
void name_box(BenchState const& state, UiState& ui, Intents& intents, float width) {
    char buffer[120];
    ImGuiID const key = ImGui::GetID("##name");
    std::string const& name = state.history.shown().name;
    std::snprintf(buffer, sizeof buffer, "%s", name.c_str());
    ImGui::SetNextItemWidth(width);
    ImGui::PushFont(ui.theme.strong);
    ImGui::PushStyleColor(ImGuiCol_FrameBg, IM_COL32(0, 0, 0, 0));
    ImGui::PushStyleColor(ImGuiCol_Border, IM_COL32(0, 0, 0, 0));
    ImGui::InputText("##name", buffer, sizeof buffer, ImGuiInputTextFlags_AutoSelectAll);
    ImGui::PopStyleColor(2);
    ImGui::PopFont();
    mark(ui, "name");
    if (ImGui::IsItemActive()) ui.typing[key] = buffer;
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip("%s", state.path.empty() ? "Not saved yet. Click to rename." : state.path.c_str());
    auto const typed = ui.typing.find(key);
    if (!ImGui::IsItemDeactivated() || typed == ui.typing.end()) return;
    if (typed->second != name && !typed->second.empty()) intents.emplace_back(Commit{SetName{typed->second}});
    ui.typing.erase(typed);
}

void text_size_buttons(UiState& ui, Intents& intents) {
    if (button(ui, "A−", ButtonLook::quiet, 0, ui.text_scale > 1, "Smaller text"))
        intents.emplace_back(DoAct{Act::text_smaller});
    ImGui::SameLine(0, 0);
    if (button(ui, "A+", ButtonLook::quiet, 0, ui.text_scale < 2, "Larger text"))
        intents.emplace_back(DoAct{Act::text_larger});
}

void units_and_text(UiState& ui, Intents& intents, bool stacked) {
    int units = ui.settings.units == Units::inches ? 1 : 0;
    char const* const labels[] = {"mm kg", "in lb"};
    if (segmented(ui, "units", labels, units)) intents.emplace_back(DoAct{Act::toggle_units});
    if (!stacked) {
        ImGui::SameLine();
        text_size_buttons(ui, intents);
        ImGui::SameLine(0, 0);
    }
    if (button(ui, "Keys", ButtonLook::quiet, 0, true, "All keys and mouse acts (F1)"))
        intents.emplace_back(DoAct{Act::toggle_keys});
}

void wide_file_row(History const& history, UiState& ui, Intents& intents) {
    act_button(ui, intents, "New", Act::new_piece, true, "Ctrl+N");
    ImGui::SameLine(0, 0);
    act_button(ui, intents, "Open", Act::open, true, "Ctrl+O");
    ImGui::SameLine(0, 0);
    act_button(ui, intents, "Save", Act::save, true, "Ctrl+S");
    ImGui::SameLine(0, 0);
    act_button(ui, intents, "Save as", Act::save_as, true, "Ctrl+Shift+S");
    ImGui::SameLine(0, 0);
    if (button(ui, "Recent", ButtonLook::quiet)) ImGui::OpenPopup("recent");
    if (begin_popup_below(ui, "recent")) {
        recent_list(ui, intents);
        ImGui::EndPopup();
    }
    ImGui::SameLine(0, ui.theme.em);
    act_button(ui, intents, "Undo", Act::undo, history.can_undo(), "Undo: " + history.undo_label());
    ImGui::SameLine(0, 0);
    act_button(ui, intents, "Redo", Act::redo, history.can_redo(), "Redo: " + history.redo_label());
}

void narrow_file_row(History const& history, UiState& ui, Intents& intents) {
    if (button(ui, "Piece", ButtonLook::plain)) ImGui::OpenPopup("piece");
    if (begin_popup_below(ui, "piece")) {
        menu_line(ui, intents, "New", Act::new_piece);
        menu_line(ui, intents, "Open", Act::open);
        menu_line(ui, intents, "Save", Act::save);
        menu_line(ui, intents, "Save as", Act::save_as);
        ImGui::Separator();
        soft(ui, "Recent");
        recent_list(ui, intents);
        ImGui::EndPopup();
    }
    ImGui::SameLine();
    if (button(ui, "View", ButtonLook::plain)) ImGui::OpenPopup("view");
    if (begin_popup_below(ui, "view")) {
        look_choice(ui, intents, 18 * ui.theme.em);
        view_choice(ui, intents, 18 * ui.theme.em);
        ImGui::EndPopup();
    }
    ImGui::SameLine();
    act_button(ui, intents, "Undo", Act::undo, history.can_undo(), history.undo_label());
    ImGui::SameLine(0, 0);
    act_button(ui, intents, "Redo", Act::redo, history.can_redo(), history.redo_label());
    ImGui::SameLine();
    if (button(ui, "More", ButtonLook::plain)) ImGui::OpenPopup("more");
    if (begin_popup_below(ui, "more")) {
        units_and_text(ui, intents, true);
        ImGui::EndPopup();
    }
    ImGui::SameLine(0, 0); // at hand also while the text grows
    text_size_buttons(ui, intents);
}

struct KeyFigure {
    char const* name;
    std::string label;
    std::string note; // after the label where there is room
    std::string value;
    bool good = false; // a tick beside it
};

std::string bare_words(Plan const& plan, Units units) {
    double const bare = plan.leaves.overlap.bare_mm2;
    return bare < 0.5 ? "none" : quantity_text(bare, Quantity::area, units);
}

std::string leaves_words(LeavesAnswer const& leaves) {
    if (leaves.count == 0) return "none yet";
    return fmt::format("{} in {} row{}", leaves.count, leaves.rows, leaves.rows == 1 ? "" : "s");
}

std::vector<KeyFigure> figures_of(Plan const& plan, Units units) {
    std::vector<KeyFigure> figures;
    auto const mass = [&](char const* name, char const* label, Figure const& figure) {
        figures.push_back({name, label, range_text(figure, Quantity::mass, units),
                           quantity_text(figure.value, Quantity::mass, units)});
    };
    mass("knead", "Clay to knead", plan.clay.knead_g);
    if (plan.slab)
        figures.push_back({"slab", "Slab to roll",
                           quantity_text(plan.piece.slab.thickness_mm, Quantity::length, units) + " thick",
                           size_text(plan.slab->bounds_mm.x, plan.slab->bounds_mm.y, units)});
    figures.push_back({"leaves", "Leaves", "", leaves_words(plan.leaves)});
    figures.push_back({"bare", "Bare clay", "", bare_words(plan, units),
                       plan.leaves.overlap.bare_mm2 < 0.5 && plan.leaves.count > 0});
    if (!plan.stages.empty()) {
        mass("wet", "Wet weight", plan.stages.front().mass_g);
        mass("wall", "Wall weight", plan.stages.back().mass_g);
    }
    return figures;
}

} // namespace

void top_bar(Area const& area, Desk const& desk, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    begin_area("top", area, paint::paper, false, 0.35F * em);
    bool const narrow = ui.compact;
    float const name_width = narrow ? std::min(12 * em, 0.28F * area.width) : 13 * em;
    name_box(desk.state, ui, intents, name_width);
    ImGui::SameLine(0, 0.3F * em);
    ImVec2 const at = ImGui::GetCursorScreenPos();
    if (is_unsaved(desk.state)) {
        ImGui::GetWindowDrawList()->AddCircleFilled({at.x + 0.3F * em, at.y + 1.1F * em}, 0.25F * em, paint::clay_dark);
        ImGui::Dummy({0.7F * em, em});
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("Changed since it was saved");
    } else {
        ImGui::Dummy({0.7F * em, em});
    }
    ImGui::SameLine(0, 0.4F * em);
    if (narrow) {
        narrow_file_row(desk.state.history, ui, intents);
    } else {
        wide_file_row(desk.state.history, ui, intents);
        ImGui::SameLine(area.width - 19.2F * em);
        units_and_text(ui, intents, false);
    }
    ImGui::End();
}

void key_figures(Area const& area, Desk const& desk, UiState& ui) {
    float const em = ui.theme.em;
    begin_area("figures", area, paint::panel, false, 0);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddLine({area.x, area.y}, {area.x + area.width, area.y}, paint::border);
    draw.AddLine({area.x, area.y + area.height - 1}, {area.x + area.width, area.y + area.height - 1}, paint::border);
    if (desk.state.plan) {
        auto const figures = figures_of(*desk.state.plan, ui.settings.units);
        float const share = desk.state.plan_is_old ? 0.45F : 1.0F;
        float const cell = area.width / static_cast<float>(figures.size());
        for (std::size_t i = 0; i < figures.size(); ++i) {
            float const x = area.x + cell * static_cast<float>(i) + em;
            float const room = cell - 1.3F * em;
            if (i)
                draw.AddLine({x - em, area.y + 0.8F * em}, {x - em, area.y + area.height - 0.8F * em}, paint::border);
            std::string const whole = figures[i].label + ", " + figures[i].note;
            bool const noted = !figures[i].note.empty() && text_size(ui.theme.small, whole).x < 1.1F * room;
            fitted_text(draw, ui.theme.small, {x, area.y + 0.13F * area.height}, room, faded(paint::ink_soft, share),
                        noted ? whole : figures[i].label);
            float const tick = figures[i].good ? 1.5F * em : 0;
            float const width = fitted_text(draw, ui.theme.figure, {x, area.y + 0.4F * area.height}, room - tick,
                                            faded(paint::ink, share), figures[i].value);
            if (figures[i].good)
                draw_mark(draw, MarkKind::tick, {x + width + 0.9F * em, area.y + 0.4F * area.height + 0.8F * em},
                          0.5F * em);
            ui.marks[std::string("figure.") + figures[i].name] = {x, area.y, x + room, area.y + area.height};
        }
    }
    ImGui::End();
}

} // namespace leafwright
