// One row after the fact: slide it along, draw it closer or wider, give it another leaf.
#include "bench/panels.h"

#include "base/units.h"
#include "rows/row_adjust.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

int rows_of(Piece const& piece) {
    int last = 0;
    for (LeafPlacement const& leaf : piece.leaves) last = std::max(last, leaf.row);
    return last;
}

void choose_row(Worktop const& top, int last) {
    UiState& ui = top.ui;
    float const em = ui.theme.em;
    float const arrow = 3.4F * em;
    float const gap = 0.4F * em;
    float const middle = ImGui::GetContentRegionAvail().x - 2 * (arrow + gap);
    ImGui::PushID("row");
    if (button(ui, "‹", ButtonLook::plain, arrow, ui.row_shown > 1, "The row further out")) --ui.row_shown;
    ImGui::SameLine(0, gap);
    std::string const name = fmt::format("Row {} of {}", ui.row_shown, last);
    if (button(ui, name.c_str(), ButtonLook::quiet, middle, true, "Choose all its leaves")) {
        std::vector<int> ids;
        for (LeafPlacement const& leaf : top.piece.leaves)
            if (leaf.row == ui.row_shown) ids.push_back(leaf.id);
        top.intents.emplace_back(ChooseLeaves{ids});
    }
    ImGui::SameLine(0, gap);
    if (button(ui, "›", ButtonLook::plain, arrow, ui.row_shown < last, "The row further in")) ++ui.row_shown;
    ImGui::PopID();
}

// Nudges: a row has no place of its own to show, it only moves on from where it lies.
void slide(Worktop const& top) {
    sentence(top.piece.rows.mirror ? "Slide it along, both halves alike" : "Slide it along");
    bool const metric = top.units() == Units::metric;
    double const wide_mm = metric ? 5.0 : 0.25 * kMmPerInch;
    double const small_mm = metric ? 1.0 : kMmPerInch / 16;
    float const gap = 0.4F * top.ui.theme.em;
    float const width = 0.25F * (ImGui::GetContentRegionAvail().x - 3 * gap);
    auto const nudge = [&](double by_mm) {
        std::string const size = metric                       ? fmt::format("{:.0f}", std::abs(by_mm))
                                 : std::abs(by_mm) == wide_mm ? "1/4"
                                                              : "1/16";
        std::string const name = by_mm < 0 ? fmt::format("‹ {} {}", size, metric ? "mm" : "in")
                                           : fmt::format("{} {} ›", size, metric ? "mm" : "in");
        char const* const hint = !top.piece.rows.mirror ? (by_mm < 0 ? "Clockwise" : "Counter-clockwise")
                                 : by_mm < 0            ? "Both halves downward"
                                                        : "Both halves upward";
        if (!button(top.ui, name.c_str(), ButtonLook::plain, width, true, hint)) return;
        AdjustRow adjust;
        adjust.row = top.ui.row_shown;
        adjust.slide_mm = by_mm;
        top.intents.emplace_back(adjust);
    };
    for (double const by_mm : {-wide_mm, -small_mm, small_mm, wide_mm}) {
        if (by_mm != -wide_mm) ImGui::SameLine(0, gap);
        nudge(by_mm);
    }
}

void spacing(Worktop const& top) {
    int const row = top.ui.row_shown;
    int const count = loose_leaves_in_row(top.piece.leaves, row);
    int const step = top.piece.rows.mirror ? 2 : 1; // halves stay alike
    float const gap = 0.4F * top.ui.theme.em;
    float const width = 0.5F * (ImGui::GetContentRegionAvail().x - gap);
    auto const space = [&](int wanted) {
        AdjustRow adjust;
        adjust.what = AdjustRow::What::space;
        adjust.row = row;
        adjust.count = wanted;
        top.intents.emplace_back(adjust);
    };
    std::string const closer = fmt::format("Closer ({} leaves)", count + step);
    std::string const wider = fmt::format("Wider ({} leaves)", count - step);
    if (button(top.ui, closer.c_str(), ButtonLook::plain, width, count > 0)) space(count + step);
    ImGui::SameLine(0, gap);
    if (button(top.ui, wider.c_str(), ButtonLook::plain, width, count > step)) space(count - step);
}

void kinds(Worktop const& top) {
    sentence("Lay it with");
    auto const of_row = [&](LeafPlacement const& leaf) { return leaf.row == top.ui.row_shown && !leaf.pinned; };
    float const gap = 0.3F * top.ui.theme.em;
    float x = 0;
    float const room = ImGui::GetContentRegionAvail().x;
    for (LeafKindSpec const& kind : top.piece.leaf_kinds) {
        bool const all = std::ranges::all_of(
            top.piece.leaves, [&](LeafPlacement const& leaf) { return !of_row(leaf) || leaf.kind == kind.id; });
        std::string const name = top.drawings.label(kind.outline, kind.id);
        float const width = text_size(top.ui.theme.text, name).x + 1.6F * top.ui.theme.em;
        if (x > 0 && x + gap + width < room)
            ImGui::SameLine(0, gap);
        else
            x = 0;
        x += width + gap;
        ImGui::PushID(("lay with " + kind.id).c_str());
        if (button(top.ui, name.c_str(), all ? ButtonLook::strong : ButtonLook::plain) && !all) {
            AdjustRow adjust;
            adjust.what = AdjustRow::What::kind;
            adjust.row = top.ui.row_shown;
            adjust.kind = kind.id;
            top.intents.emplace_back(adjust);
        }
        ImGui::PopID();
    }
}

} // namespace

void row_card(Worktop const& top) {
    int const last = rows_of(top.piece);
    if (last == 0) return;
    top.ui.row_shown = std::clamp(top.ui.row_shown, 1, last);
    Card const card(top.ui);
    heading(top.ui, "Adjust one row");
    choose_row(top, last);
    int const loose = loose_leaves_in_row(top.piece.leaves, top.ui.row_shown);
    auto const whole = std::ranges::count(top.piece.leaves, top.ui.row_shown, &LeafPlacement::row);
    if (loose == 0) {
        soft(top.ui, whole == 0 ? "No leaf lies in this row." : "All its leaves are pinned and stay.");
        return;
    }
    if (loose < whole) soft(top.ui, fmt::format("{} pinned leaves of it stay.", whole - loose));
    slide(top);
    spacing(top);
    kinds(top);
    if (!button(top.ui, "Pin this row", ButtonLook::quiet, 0, true, "So that it stays when rows are laid again"))
        return;
    AdjustRow adjust;
    adjust.what = AdjustRow::What::pin;
    adjust.row = top.ui.row_shown;
    top.intents.emplace_back(adjust);
}

} // namespace leafwright
