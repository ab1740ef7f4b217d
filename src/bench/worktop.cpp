// The worktop: the chosen stage in a sentence, what is wrong with it, and its inputs and answers.
#include "bench/panels.h"

#include "piece/warnings.h"

#include <fmt/format.h>

namespace leafwright {
namespace {

char const* stage_words(MakingStage stage) {
    switch (stage) {
    case MakingStage::knead:
        return "Knead all the clay for the piece at once, so that it shrinks alike.";
    case MakingStage::roll:
        return "Roll the slab between guides and cut it to the flat outline.";
    case MakingStage::drape:
        return "Lay the slab over the padded former and trim it at the rim.";
    case MakingStage::leaves:
        return "Press, cut and join leaves in rows from the edge inward, with score and slip.";
    case MakingStage::features:
        return "What the rows lead up to and frame.";
    case MakingStage::dry:
        return "Under polythene, slowly and evenly, until it is bone dry.";
    case MakingStage::first_firing:
        return "The clay becomes bisque.";
    case MakingStage::finish:
        return "Oxides, slips or glaze, before the last firing.";
    case MakingStage::last_firing:
        return "The clay comes to its final size.";
    case MakingStage::hang:
        return "On the wall.";
    }
    return "";
}

// A remark that speaks of single leaves chooses them, so that they are seen: by a click on it or on its button.
void remarks_of_plan(Worktop const& top) {
    for (Warning const& warning : top.plan->warnings) {
        if (warning.stage != label(top.ui.stage)) continue;
        remarks_of(top.ui, {warning}, top.ui.stage);
        bool chosen = ImGui::IsItemClicked();
        std::vector<int> const ids = leaves_meant(*top.plan, warning.code);
        if (ids.empty()) continue;
        ImGui::PushID(warning.code.c_str());
        std::string const name = ids.size() == 1 ? "Show that leaf" : fmt::format("Show those {} leaves", ids.size());
        chosen |= button(top.ui, name.c_str());
        ImGui::PopID();
        if (chosen) top.intents.emplace_back(ChooseLeaves{ids});
    }
}

void first_remarks(Worktop const& top, Desk const& desk) {
    if (desk.state.plan_problem) {
        std::string const words = desk.state.plan_problem->sentence();
        remark(top.ui, MarkKind::refusal, words, "The answers are those of before.");
    }
    if (top.plan) remarks_of_plan(top);
    if (top.second) remarks_of(top.ui, top.second->warnings, top.ui.stage);
}

void stage_panel(Worktop const& top) {
    switch (top.ui.stage) {
    case MakingStage::knead:
        return knead_panel(top);
    case MakingStage::roll:
        return roll_panel(top);
    case MakingStage::drape:
        return drape_panel(top);
    case MakingStage::leaves:
        return leaves_panel(top);
    case MakingStage::features:
        return features_panel(top);
    case MakingStage::dry:
        return dry_panel(top);
    case MakingStage::first_firing:
        return firing_panel(top, 0);
    case MakingStage::finish:
        return finish_panel(top);
    case MakingStage::last_firing:
        return firing_panel(top, 1);
    case MakingStage::hang:
        return hang_panel(top);
    }
}

} // namespace

void worktop(Area const& area, Desk const& desk, UiState& ui, LeafDrawings& drawings, Intents& intents) {
    float const em = ui.theme.em;
    // A window a stage: each opens at its top, and later where it was left.
    std::string const name = fmt::format("worktop {}", label(ui.stage));
    begin_area(name.c_str(), area, paint::panel, true, 0.9F * em);
    ImGui::GetWindowDrawList()->AddLine({area.x, area.y}, {area.x, area.y + area.height}, paint::border);
    ImGui::PushID(static_cast<int>(ui.stage)); // each stage keeps its own widgets
    Worktop const top{desk.state.history.shown(),
                      desk.state.plan.get(),
                      desk.state.second.get(),
                      desk.state.second_is_old,
                      ui,
                      drawings,
                      intents};
    title(ui, std::string(label(ui.stage)).c_str());
    soft(ui, stage_words(ui.stage));
    first_remarks(top, desk);
    ImGui::Dummy({0, 0.1F * em});
    stage_panel(top);
    ImGui::Dummy({0, em});
    ImGui::PopID();
    ImGui::End();
}

} // namespace leafwright
