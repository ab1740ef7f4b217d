// The line beneath the picture: what is under the pointer, and the first thing that is wrong.
#include "bench/cutting_view.h"
#include "bench/panels.h"

#include "piece/warnings.h"

#include <imgui_internal.h>

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

std::string leaf_words(Desk const& desk, LeafDrawings const& drawings, int id, Units units) {
    Plan const& plan = *desk.state.plan;
    LeafPlacement const* const leaf = leaf_of(plan.piece, id);
    if (!leaf) return {};
    LeafPattern const* const pattern = plan.pattern_of(*leaf);
    if (!pattern) return {};
    std::string words = fmt::format("{}, row {}, {}", drawings.label(pattern->spec.outline, leaf->kind), leaf->row,
                                    quantity_text(pattern->spec.length_mm * leaf->scale, Quantity::length, units));
    if (auto const* overlap = plan.overlap_of(id))
        words += fmt::format(", lap {}", quantity_text(overlap->lap, Quantity::share, units));
    if (leaf->pinned) words += ", pinned";
    return words;
}

// The piece under the pointer on the cutting sheets.
std::string words_on_sheets(Desk const& desk) {
    CuttingView const& view = *desk.ui.cutting;
    if (!view.answer || view.hovered < 0) return {};
    if (view.hovered >= static_cast<int>(view.answer->items->size())) return {};
    CutItem const& item = (*view.answer->items)[static_cast<std::size_t>(view.hovered)];
    if (item.kind != CutKind::leaf) return item.label;
    return fmt::format("Leaf {}, {}, row {}{}", item.number, item.pattern->spec.id, item.row,
                       item.flipped ? ", mirrored" : "");
}

std::string words_under_pointer(Desk const& desk, LeafDrawings const& drawings, UiState const& ui) {
    if (ui.placing && ui.snapped_row > 0)
        return fmt::format("On the line of row {}. Hold Ctrl to lay it anywhere.", ui.snapped_row);
    if (auto const* hand = std::get_if<Carrying>(&ui.hand))
        return hand->lifted ? "Click to lay it down. Esc puts it back."
                            : "Each click lays a leaf. Esc puts it back in the tray.";
    if (ui.look == Look::cutting) return words_on_sheets(desk);
    if (!desk.state.plan) return {};
    Plan const& plan = *desk.state.plan;
    Units const units = ui.settings.units;
    if (auto const* hit = std::get_if<LeafHit>(&ui.under_pointer)) return leaf_words(desk, drawings, hit->id, units);
    if (auto const* hit = std::get_if<FeatureHit>(&ui.under_pointer)) {
        if (hit->index >= static_cast<int>(plan.piece.features.size())) return {};
        Feature const& feature = plan.piece.features[static_cast<std::size_t>(hit->index)];
        return fmt::format("{}, {}", feature_label(feature.kind),
                           size_text(feature.width_mm, feature.height_mm, units));
    }
    if (auto const* hit = std::get_if<SlabHit>(&ui.under_pointer))
        return fmt::format("Slab, {} from the crown", quantity_text(hit->spot.from_crown_mm, Quantity::length, units));
    if (std::holds_alternative<BoardHit>(ui.under_pointer)) return "Board";
    if (ui.selected.size() > 1) return fmt::format("{} leaves chosen", ui.selected.size());
    return {};
}

Warning const* first_warning(Plan const& plan, MakingStage stage) {
    for (Warning const& warning : plan.warnings)
        if (warning.stage == label(stage)) return &warning;
    return plan.warnings.empty() ? nullptr : &plan.warnings.front();
}

} // namespace

void status_line(Area const& area, Desk const& desk, LeafDrawings const& drawings, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    begin_area("status", area, paint::panel, false, 0);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddLine({area.x, area.y}, {area.x + area.width, area.y}, paint::border);
    float const y = area.y + 0.5F * (area.height - em);
    float x = area.x + 0.8F * em;
    float const end = area.x + area.width - 0.6F * em;
    std::string const words = words_under_pointer(desk, drawings, ui);
    Warning const* const warning = desk.state.plan ? first_warning(*desk.state.plan, ui.stage) : nullptr;
    if (!words.empty()) x += fitted_text(draw, ui.theme.text, {x, y}, end - x, paint::ink, words) + 1.2F * em;
    if (warning && end - x > 3 * em) {
        std::string const text = fmt::format("{}: {}", warning->stage, sentence_in(warning->text, ui.settings.units));
        draw_mark(draw, warning->refusal ? MarkKind::refusal : MarkKind::caution, {x + 0.5F * em, y + 0.5F * em},
                  0.5F * em);
        float const room = end - x - 1.3F * em;
        fitted_text(draw, ui.theme.text, {x + 1.3F * em, y}, room, paint::ink,
                    cut_to(ui.theme.text, text, 1.15F * room));
        ImGui::SetCursorScreenPos({x, area.y});
        if (ImGui::InvisibleButton("warning", {end - x, area.height}))
            if (auto const stage = making_stage(warning->stage)) {
                intents.emplace_back(GoToStage{*stage});
                if (auto const ids = leaves_meant(*desk.state.plan, warning->code); !ids.empty())
                    intents.emplace_back(ChooseLeaves{ids});
            }
        if (ImGui::IsItemHovered()) {
            tip(ui, sentence_in(warning->text + " " + warning->hint, ui.settings.units));
        }
    }
    ImGui::End();
}

void message_bar(Area const& picture, UiState& ui) {
    MessageTone const tone = ui.message.tone;
    bool const stays = tone == MessageTone::fault;
    ui.covers.erase("message");
    if (ui.message.text.empty()) return;
    if (!stays && ui.now_s > ui.message.until_s) {
        ui.message = {};
        return;
    }
    if (ui.proposals && !stays) return; // it would lie over the pictures to choose from
    float const em = ui.theme.em;
    MarkKind const kind = tone == MessageTone::note      ? MarkKind::tick
                          : tone == MessageTone::caution ? MarkKind::caution
                                                         : MarkKind::refusal;
    ImU32 const ground = tone == MessageTone::note      ? paint::leaf_pale
                         : tone == MessageTone::caution ? paint::caution_pale
                                                        : paint::refusal_pale;
    float const width = std::min(picture.width - 1.2F * em, 38 * em);
    float const wrap = width - 3.2F * em - (stays ? 5 * em : 0);
    std::string const& text = ui.message.text;
    ImVec2 const size = ui.theme.text->CalcTextSizeA(em, FLT_MAX, wrap, text.data(), text.data() + text.size());
    float const height = std::max(size.y + 1.2F * em, stays ? 2.9F * em : 0);
    // Over a page it keeps to the top, where no page has anything to press.
    float const y = asks_something(ui) ? 0.4F * em : picture.y + picture.height - height - 0.7F * em;
    Area const area{picture.x + 0.5F * (picture.width - width), y, width, height};
    ui.covers["message"] = {area.x, area.y, area.x + area.width, area.y + area.height};
    ImGui::PushStyleVar(ImGuiStyleVar_WindowRounding, 0.47F * em);
    begin_area("message", area, ground, false, 0);
    ImGui::PopStyleVar();
    bool const popup = ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
    if (!popup || asks_something(ui)) ImGui::BringWindowToDisplayFront(ImGui::GetCurrentWindow());
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw_mark(draw, kind, {area.x + 1.4F * em, area.y + 1.1F * em}, 0.55F * em);
    draw.AddText(ui.theme.text, em, {area.x + 2.4F * em, area.y + 0.6F * em}, paint::ink, text.data(),
                 text.data() + text.size(), wrap);
    if (stays) {
        ImGui::SetCursorScreenPos({area.x + area.width - 4.8F * em, area.y + 0.3F * em});
        if (button(ui, "Close", ButtonLook::quiet)) ui.message = {};
    }
    ImGui::End();
}

} // namespace leafwright
