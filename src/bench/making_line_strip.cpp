// The strip along the bottom: time from left to right, one block a stage.
#include "bench/panels.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

std::string state_words(Plan const& plan, MakingStage stage, Units units) {
    StageAnswer const* const state = state_at(plan, stage);
    return state ? quantity_text(state->mass_g.value, Quantity::mass, units) : std::string();
}

// The one small figure of a stage.
std::string small_figure(Plan const& plan, SecondHalf const* second, MakingStage stage, Units units) {
    switch (stage) {
    case MakingStage::knead:
        return quantity_text(plan.clay.knead_g.value, Quantity::mass, units);
    case MakingStage::roll:
        return quantity_text(plan.piece.slab.thickness_mm, Quantity::length, units) + " thick";
    case MakingStage::drape:
        return quantity_text(plan.piece.former.profile.crown_mm, Quantity::length, units) + " high";
    case MakingStage::leaves:
        return fmt::format("{} leaves", plan.leaves.count);
    case MakingStage::features:
        return plan.features.empty() ? "none" : fmt::format("{} laid", plan.features.size());
    case MakingStage::finish: {
        StageAnswer const* const state = state_at(plan, stage);
        return state ? quantity_text(state->height_mm, Quantity::length, units) + " tall" : std::string();
    }
    case MakingStage::dry:
        return second ? fmt::format("{:.0f} days", second->drying->days_to_bone_dry.value)
                      : state_words(plan, stage, units);
    case MakingStage::first_firing:
        return second && !second->firings.empty()
                   ? fmt::format("{:.0f} h", second->firings[0].hours_up + second->firings[0].hours_down)
                   : state_words(plan, stage, units);
    case MakingStage::last_firing:
        return second && second->firings.size() > 1
                   ? fmt::format("{:.0f} h", second->firings[1].hours_up + second->firings[1].hours_down)
                   : state_words(plan, stage, units);
    default:
        return state_words(plan, stage, units);
    }
}

struct StageMark {
    int count = 0;
    bool refusal = false;
    std::string text;
};

void add_marks(StageMark& found, std::vector<Warning> const& warnings, MakingStage stage) {
    for (Warning const& warning : warnings) {
        if (warning.stage != label(stage)) continue;
        ++found.count;
        found.refusal = found.refusal || warning.refusal;
        found.text += (found.text.empty() ? "" : "\n") + warning.text;
    }
}

StageMark mark_of(Plan const& plan, SecondHalf const* second, MakingStage stage) {
    StageMark found;
    add_marks(found, plan.warnings, stage);
    if (second) add_marks(found, second->warnings, stage);
    return found;
}

void block(ImDrawList& draw, UiState& ui, Plan const* plan, SecondHalf const* second, MakingStage stage, ImVec2 low,
           ImVec2 high, bool lit) {
    float const em = ui.theme.em;
    bool const chosen = ui.stage == stage;
    float const round = 0.47F * em;
    if (chosen) {
        for (int i = 3; i > 0; --i) {
            float const grow = 0.07F * em * static_cast<float>(i);
            draw.AddRectFilled({low.x - grow, low.y - grow + 0.1F * em}, {high.x + grow, high.y + grow + 0.1F * em},
                               IM_COL32(90, 70, 50, 16), round + grow);
        }
    }
    draw.AddRectFilled(low, high, chosen ? paint::card : (lit ? paint::leaf_pale : paint::panel), round);
    draw.AddRect(low, high, chosen ? paint::leaf : paint::border, round, 0, chosen ? 0.13F * em : 0.06F * em);
    float const width = high.x - low.x - 0.5F * em;
    float const left = low.x + 0.25F * em;
    float const words = (ui.compact ? 1.75F : 2.35F) * em;
    draw_stage_icon(draw, stage, {low.x + 0.4F * em, low.y + 0.25F * em},
                    {high.x - 0.4F * em, high.y - words - 0.05F * em});
    ImFont* const font = chosen ? ui.theme.strong : ui.theme.text;
    std::string_view const name = label(stage);
    std::size_t const space = name.find(' ');
    bool const two_lines = ui.compact && space != std::string_view::npos && text_size(font, name).x > width;
    if (two_lines) {
        fitted_text(draw, ui.theme.small, {left, high.y - words - 0.02F * em}, width, paint::ink, name.substr(0, space),
                    true);
        fitted_text(draw, ui.theme.small, {left, high.y - words + 0.78F * em}, width, paint::ink,
                    name.substr(space + 1), true);
    } else {
        fitted_text(draw, font, {left, high.y - words + (ui.compact ? 0.3F * em : 0)}, width, paint::ink, name, true);
    }
    if (!plan) return;
    if (!ui.compact)
        fitted_text(draw, ui.theme.small, {left, high.y - words + 1.2F * em}, width, paint::ink_soft,
                    small_figure(*plan, second, stage, ui.settings.units), true);
    StageMark const found = mark_of(*plan, second, stage);
    if (found.count)
        draw_mark(draw, found.refusal ? MarkKind::refusal : MarkKind::caution,
                  {high.x - 0.85F * em, low.y + 0.85F * em}, 0.6F * em);
}

} // namespace

void making_line(Area const& area, Plan const* plan, SecondHalf const* second, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    begin_area("line", area, paint::paper, false, 0);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddLine({area.x, area.y}, {area.x + area.width, area.y}, paint::border);
    float const side = 0.6F * em;
    float const gap = 0.7F * em;
    auto const count = static_cast<float>(kMakingLine.size());
    float const cell = (area.width - 2 * side - (count - 1) * gap) / count;
    // The axis of time, seen between the blocks.
    float const axis = area.y + 0.55F * area.height;
    draw.AddLine({area.x + side, axis}, {area.x + area.width - side, axis}, paint::border_strong, 0.14F * em);
    for (std::size_t i = 0; i < kMakingLine.size(); ++i) {
        MakingStage const stage = kMakingLine[i];
        float const x = area.x + side + static_cast<float>(i) * (cell + gap);
        bool const chosen = ui.stage == stage;
        ImVec2 const low{x, area.y + (chosen ? 0.3F : 0.75F) * em};
        ImVec2 const high{x + cell, area.y + area.height - (chosen ? 0.55F : 0.45F) * em};
        ImGui::SetCursorScreenPos(low);
        ImGui::PushID(static_cast<int>(i));
        if (ImGui::InvisibleButton("stage", {high.x - low.x, high.y - low.y})) intents.emplace_back(GoToStage{stage});
        mark(ui, fmt::format("stage.{}", key(stage)));
        bool const lit = ImGui::IsItemHovered();
        block(draw, ui, plan, second, stage, low, high, lit);
        if (lit && plan) {
            StageMark const found = mark_of(*plan, second, stage);
            if (found.count) tip(ui, sentence_in(found.text, ui.settings.units));
        }
        ImGui::PopID();
    }
    ImGui::End();
}

} // namespace leafwright
