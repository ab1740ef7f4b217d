// The cutting sheets on the worktop: how they are rolled and cut, what comes of it, and the layout at work.
#include "bench/cutting_view.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

// Density as a bar that grows while it gets better; a mark where it began.
void density_bar(Worktop const& top, CuttingView const& view) {
    UiState& ui = top.ui;
    CuttingAnswer const& answer = *view.answer;
    float const em = ui.theme.em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const width = ImGui::GetContentRegionAvail().x, height = 1.5F * em;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    auto const x_of = [&](double share) { return at.x + width * static_cast<float>(std::clamp(share, 0.0, 1.0)); };
    draw.AddRectFilled(at, {at.x + width, at.y + height}, paint::clay_pale, 0.3F * em);
    draw.AddRectFilled(at, {x_of(answer.density), at.y + height}, paint::leaf, 0.3F * em);
    float const first = x_of(answer.first_density);
    draw.AddLine({first, at.y}, {first, at.y + height}, paint::card, 0.12F * em);
    ImGui::Dummy({width, height});
    if (view.running) {
        float const y = at.y + height + 0.2F * em;
        draw.AddRectFilled({at.x, y}, {at.x + width, y + 0.25F * em}, paint::border);
        draw.AddRectFilled({at.x, y}, {x_of(view.progress), y + 0.25F * em}, paint::leaf_dark);
        ImGui::Dummy({width, 0.5F * em});
    }
    soft(ui, answer.density > answer.first_density + 5e-5
                 ? fmt::format("{:.1f} % of what is rolled becomes pieces; {:.1f} % at first.", 100 * answer.density,
                               100 * answer.first_density)
                 : fmt::format("{:.1f} % of what is rolled becomes pieces.", 100 * answer.density));
}

void run_buttons(Worktop const& top, CuttingView const& view) {
    float const gap = ImGui::GetStyle().ItemSpacing.x;
    float const half = 0.5F * (ImGui::GetContentRegionAvail().x - gap);
    if (view.running) {
        if (button(top.ui, "Stop", ButtonLook::strong, half, true, "Keep the best layout so far"))
            top.intents.emplace_back(RunNest{RunNest::How::stop});
    } else if (button(top.ui, "Go on", ButtonLook::strong, half, view.answer != nullptr,
                      "Try to make it better still")) {
        top.intents.emplace_back(RunNest{RunNest::How::further});
    }
    ImGui::SameLine();
    if (button(top.ui, "Start again", ButtonLook::plain, half, true, "Lay it all out anew, around what is pinned"))
        top.intents.emplace_back(RunNest{RunNest::How::anew});
}

void clay_lines(Worktop const& top, CuttingAnswer const& answer) {
    Units const units = top.units();
    leafwright::answer(top.ui, "Clay to roll", quantity_text(answer.rolled_g.value, Quantity::mass, units),
                       range_text(answer.rolled_g, Quantity::mass, units));
    leafwright::answer(top.ui, "Becomes pieces", quantity_text(answer.cut_g.value, Quantity::mass, units));
    leafwright::answer(top.ui, "Offcut, back to the bucket",
                       quantity_text(answer.offcut_g.value, Quantity::mass, units));
    if (answer.beside_slab > 0)
        leafwright::answer(top.ui, "Leaves from the slab's offcut", std::to_string(answer.beside_slab));
    leafwright::answer(top.ui, "Clay to knead, with these sheets",
                       quantity_text(answer.clay.knead_g.value, Quantity::mass, units),
                       top.plan ? fmt::format("{} is shown above now",
                                              quantity_text(top.plan->clay.knead_g.value, Quantity::mass, units))
                                : "");
}

// The maker's choice to knead by these sheets.
void use_button(Worktop const& top, CuttingAnswer const& answer) {
    using By = ClayAnswer::OffcutsBy;
    By const by = top.plan ? top.plan->clay.offcuts_by : By::usual_share;
    bool const whole = answer.left_out.empty() && answer.share > 0;
    bool const used = by == By::sheets && top.piece.cutting.nested_share == answer.share;
    if (button(top.ui, used ? "The clay to knead goes by these sheets" : "Knead by these sheets", ButtonLook::plain, -1,
               whole && !used, "Offcuts are reckoned by this layout rather than by the usual share"))
        top.intents.emplace_back(Commit{UseNest{answer.share, answer.piece_mm2}});
    if (by == By::usual_share) return;
    if (by == By::sheets_of_before) soft(top.ui, "The clay to knead goes by sheets of an earlier arrangement.");
    if (button(top.ui, "Knead by the usual share again", ButtonLook::quiet, -1))
        top.intents.emplace_back(Commit{UseNest{}});
}

void sheet_list(Worktop const& top, CuttingAnswer const& answer) {
    UiState& ui = top.ui;
    float const em = ui.theme.em;
    Card const card(ui);
    heading(ui, "Sheets, in the order of making");
    for (std::size_t s = 0; s < answer.sheets.size(); ++s) {
        CutSheet const& sheet = answer.sheets[s];
        ImVec2 const at = ImGui::GetCursorScreenPos();
        float const width = ImGui::GetContentRegionAvail().x;
        ImGui::PushID(static_cast<int>(s));
        if (ImGui::InvisibleButton("sheet", {width, 2.9F * em})) show_sheet(ui, s);
        mark(ui, fmt::format("sheet.{}", sheet.number));
        bool const lit = ImGui::IsItemHovered();
        ImGui::PopID();
        ImDrawList& draw = *ImGui::GetWindowDrawList();
        if (lit) draw.AddRectFilled(at, {at.x + width, at.y + 2.9F * em}, paint::leaf_pale, 0.3F * em);
        std::string const head = fmt::format("{}   {} thick, {}", sheet.number,
                                             quantity_text(sheet.thickness_mm, Quantity::length, top.units()),
                                             size_text(sheet.size_mm.x, sheet.size_mm.y, top.units()));
        fitted_text(draw, ui.theme.strong, {at.x + 0.3F * em, at.y + 0.2F * em}, width - 0.6F * em, paint::ink, head);
        fitted_text(draw, ui.theme.small, {at.x + 0.3F * em, at.y + 1.6F * em}, width - 0.6F * em, paint::ink_soft,
                    fmt::format("{}, {:.0f} % used", contents_words(answer, sheet),
                                100 * sheet.cut_mm2 / std::max(1.0, sheet.rolled_mm2())));
    }
    if (button(ui, "Show all sheets", ButtonLook::quiet)) show_board(ui);
}

void pins_card(Worktop const& top) {
    std::size_t const pins = top.piece.cutting.pins.size();
    Card const card(top.ui);
    heading(top.ui, "By hand");
    soft(top.ui,
         "Drag a piece to put it down and pin it; the others are laid out round it. Turn it by the round handle, "
         "by R, or by the wheel while it is in hand. Double click pins or frees.");
    if (pins == 0) return;
    if (button(top.ui, fmt::format("Free all {} pinned", pins).c_str(), ButtonLook::plain, -1))
        top.intents.emplace_back(Commit{UnpinCut{}});
}

void layout_card(Worktop const& top) {
    CuttingView const& view = *top.ui.cutting;
    Card const card(top.ui);
    heading(top.ui, "Cutting sheets");
    if (top.ui.look != Look::cutting) {
        soft(top.ui, "Everything cut from as little rolled clay as possible.");
        if (button(top.ui, "Lay out the cutting sheets", ButtonLook::strong, -1))
            top.intents.emplace_back(SetLook{Look::cutting});
        return;
    }
    if (view.answer) density_bar(top, view);
    run_buttons(top, view);
    if (!view.answer) return;
    clay_lines(top, *view.answer);
    use_button(top, *view.answer);
}

void inputs_card(Worktop const& top) {
    CuttingSpec spec = top.piece.cutting;
    Card const card(top.ui);
    heading(top.ui, "How you roll and cut");
    Touch touch = value_row(top.ui, "Longest sheet", spec.table_length_mm, Quantity::length, {200, 3000},
                            "As long as your table or your guides.");
    touch = touch | value_row(top.ui, "Width of the mat", spec.mat_width_mm, Quantity::length, {0, 1500},
                              "0: as wide as the widest sheet.");
    touch = touch | value_row(top.ui, "Between pieces", spec.gap_mm, Quantity::length, {0, 30}, "A knife's breadth.");
    touch = touch | value_row(top.ui, "Clear at the edges", spec.edge_mm, Quantity::length, {0, 60},
                              "Rolled edges are ragged and thin.");
    char const* const grains[] = {"Leaves any way", "Along the rolling"};
    int grain = spec.grain == Grain::along ? 1 : 0;
    if (segmented(top.ui, "grain", grains, grain, ImGui::GetContentRegionAvail().x)) touch = Touch::done;
    spec.grain = grain == 1 ? Grain::along : Grain::free;
    soft(top.ui, "Clay shrinks a little more along the way it was rolled.");
    double bars = spec.test_bars;
    touch = touch | value_row(top.ui, "Test bars", bars, Quantity::count, {0, 20},
                              "With a line of 100 mm, to measure shrinkage by.");
    spec.test_bars = static_cast<int>(std::lround(bars));
    if (touch != Touch::none) send(top.intents, touch, SetCutting{spec});
}

} // namespace

void cutting_cards(Worktop const& top) {
    layout_card(top);
    CuttingView const& view = *top.ui.cutting;
    if (top.ui.look == Look::cutting && view.answer) {
        for (Warning const& warning : view.answer->warnings)
            remark(top.ui, warning.refusal ? MarkKind::refusal : MarkKind::caution, warning.text, warning.hint);
        sheet_list(top, *view.answer);
        pins_card(top);
    }
    inputs_card(top);
}

} // namespace leafwright
