// The worktop: the chosen stage in a sentence, what is wrong with it, and its inputs and answers.
#include "bench/panels.h"

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

void first_remarks(Worktop const& top, Desk const& desk) {
    if (desk.state.plan_problem) {
        std::string const words = desk.state.plan_problem->sentence();
        remark(top.ui, MarkKind::refusal, words, "The answers are those of before.");
    }
    if (top.plan) remarks_of(top.ui, *top.plan, top.ui.stage);
}

} // namespace

void state_card(Worktop const& top) {
    StageAnswer const* const state = top.plan ? state_at(*top.plan, top.ui.stage) : nullptr;
    if (!state) return;
    Card const card(top.ui);
    heading(top.ui, fmt::format("As it is then: {}", stage_name(state->stage)).c_str());
    std::string const mass_range = range_text(state->mass_g, Quantity::mass, top.units());
    std::string const from(from_text(state->mass_g.from));
    answer(top.ui, "Weight", quantity_text(state->mass_g.value, Quantity::mass, top.units()),
           mass_range.empty() ? from : mass_range + ", " + from);
    answer(top.ui, "Size", size_text(state->width_mm, state->height_mm, state->depth_mm, top.units()));
    std::string const length_range = range_text(state->length_factor, Quantity::share, top.units());
    std::string const length_from(from_text(state->length_factor.from));
    answer(top.ui, "Length, of the wet length", fmt::format("{:.1f} %", 100 * state->length_factor.value),
           length_range.empty() ? length_from : length_range + ", " + length_from);
    answer(top.ui, "Water, of the dry clay", quantity_text(state->water_dry_basis, Quantity::share, top.units()));
}

namespace {

void firing_inputs(Worktop const& top, std::size_t index) {
    std::vector<FiringSpec> firings = top.piece.firing;
    if (index >= firings.size()) return;
    Card const card(top.ui);
    heading(top.ui, "The firing");
    send(top.intents, value_row(top.ui, "Top temperature", firings[index].top_degC, Quantity::temperature, {600, 1350}),
         SetFirings{firings});
}

void last_firing(Worktop const& top) {
    if (top.piece.firing.size() >= 2) {
        firing_inputs(top, 1);
        if (!button(top.ui, "Leave the second firing out", ButtonLook::plain, -1)) return;
        std::vector<FiringSpec> firings = top.piece.firing;
        firings.resize(1);
        top.intents.emplace_back(Commit{SetFirings{firings}});
        return;
    }
    sentence("The piece is fired once, and that firing is its last.");
    if (!button(top.ui, "Add a second firing", ButtonLook::plain, -1)) return;
    std::vector<FiringSpec> firings = top.piece.firing;
    if (firings.empty()) firings.push_back({});
    firings.push_back({"second", 1220});
    top.intents.emplace_back(Commit{SetFirings{firings}});
}

void hanging_inputs(Worktop const& top) {
    HangingSpec hanging = top.piece.hanging;
    Card const card(top.ui);
    heading(top.ui, "Hanging points");
    char const* const labels[] = {"Lugs", "Holes"};
    int kind = hanging.kind == "holes" ? 1 : 0;
    Touch touch =
        segmented(top.ui, "hanging", labels, kind, ImGui::GetContentRegionAvail().x) ? Touch::done : Touch::none;
    hanging.kind = kind == 1 ? "holes" : "lugs";
    touch = touch | value_row(top.ui, "Above the middle", hanging.above_centre_mm, Quantity::length, {0, 500});
    touch = touch | value_row(top.ui, "Each from the upright line", hanging.half_span_mm, Quantity::length, {5, 500});
    send(top.intents, touch, SetHanging{hanging});
}

void cautions(Worktop const& top) {
    auto const caution = [&](char const* text, char const* hint) { remark(top.ui, MarkKind::caution, text, hint); };
    switch (top.ui.stage) {
    case MakingStage::dry:
        caution("Thick and thin places dry at different speeds and may part.",
                "Cover the edges longest; uncover the middle first.");
        caution("Dry clay gives dust that harms the lungs.", "Do not sand or scrape it dry; wipe it down wet.");
        break;
    case MakingStage::first_firing:
    case MakingStage::last_firing:
        caution("A piece that is not bone dry can burst in the kiln.", "Heat slowly until past 100 °C.");
        caution("Kilns give off heat and fumes.",
                "Vent to the open air, keep the maker's clearances, and have the wiring or gas done by "
                "a licensed fitter, by your local code.");
        break;
    case MakingStage::finish:
        caution("Oxides and glazes may hold soluble or toxic metals.",
                "Read the safety sheet, wear gloves and a mask, and have "
                "pieces that touch food or rain tested by a laboratory.");
        break;
    case MakingStage::hang:
        caution("A hung piece can fall and hurt someone.",
                "Choose fixings for several times its weight and for your wall; have "
                "them checked by a qualified person, and follow your local code, above all outdoors and over a way.");
        break;
    default:
        break;
    }
}

void after_panel(Worktop const& top) {
    state_card(top);
    if (top.ui.stage == MakingStage::first_firing) firing_inputs(top, 0);
    if (top.ui.stage == MakingStage::last_firing) last_firing(top);
    if (top.ui.stage == MakingStage::hang) hanging_inputs(top);
    cautions(top);
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
    default:
        return after_panel(top);
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
    Worktop const top{desk.state.history.shown(), desk.state.plan.get(),     desk.state.second.get(),
                      desk.state.second_is_old,   ui, drawings, intents};
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
