// The card of the chosen leaf, or leaves, and that of a leaf kind.
#include "bench/panels.h"

#include "piece/lap_verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

struct ActButton {
    char const* label;
    Act act;
    char const* hint;
};

// As many side by side as fit.
void act_buttons(Worktop const& top, std::span<ActButton const> acts) {
    float const room = ImGui::GetContentRegionAvail().x;
    float const gap = 0.35F * top.ui.theme.em;
    float const width = (room - 2 * gap) / 3;
    int column = 0;
    for (ActButton const& act : acts) {
        if (column++ % 3) ImGui::SameLine(0, gap);
        float const needed = text_size(top.ui.theme.text, act.label).x + 0.6F * top.ui.theme.em;
        ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, {0.2F * top.ui.theme.em, 0.6F * top.ui.theme.em});
        if (button(top.ui, act.label, ButtonLook::plain, std::max(width, std::min(needed, room)), true, act.hint))
            top.intents.emplace_back(DoAct{act.act});
        ImGui::PopStyleVar();
    }
}

void acts_on_chosen(Worktop const& top, bool several) {
    constexpr ActButton kActs[] = {{"Lift", Act::lift, "Take it in hand again (L)"},
                                   {"Copy", Act::copy, "Ctrl+D"},
                                   {"Mirror", Act::mirror, "Adds its mirror image on the other side (M)"},
                                   {"Over", Act::over, "Over the next leaf that touches it ( ] )"},
                                   {"Under", Act::under, "Under the next leaf that touches it ( [ )"},
                                   {"Flip", Act::flip, "Turns it over (F)"},
                                   {"Take off", Act::remove, "Delete"}};
    act_buttons(top, std::span(kActs).subspan(several ? 1 : 0)); // one leaf is lifted at a time
}

Touch leaf_inputs(Worktop const& top, LeafPlacement& leaf) {
    double row = leaf.row;
    Touch touch = value_row(top.ui, "Row", row, Quantity::count, {1, 30});
    leaf.row = static_cast<int>(std::lround(row));
    LeafPattern const* const pattern = top.plan ? top.plan->pattern_of(leaf) : nullptr;
    double const kind_mm = pattern ? pattern->spec.length_mm : 100;
    double length_mm = kind_mm * leaf.scale;
    touch = touch | value_row(top.ui, "Length", length_mm, Quantity::length, {0.3 * kind_mm, 3 * kind_mm});
    leaf.scale = std::clamp(length_mm / kind_mm, 0.3, 3.0);
    touch = touch | value_row(top.ui, "Turned from outward", leaf.turn_deg, Quantity::angle, {-180, 180});
    touch = touch | check_row(top.ui, "Flipped to its mirror image", leaf.flipped);
    touch = touch | check_row(top.ui, "Pinned: stays when rows are laid", leaf.pinned);
    return touch;
}

void one_leaf(Worktop const& top, LeafPlacement leaf) {
    LeafPattern const* const pattern = top.plan ? top.plan->pattern_of(leaf) : nullptr;
    std::string const name = pattern ? top.drawings.label(pattern->spec.outline, leaf.kind) : leaf.kind;
    heading(top.ui, name.c_str());
    if (top.plan) {
        if (auto const* overlap = top.plan->overlap_of(leaf.id)) {
            answer(top.ui, "Lap", quantity_text(overlap->lap, Quantity::share, top.units()),
                   verdict_words(lap_verdict(*top.plan, leaf.id)));
            answer(top.ui, "Seen", quantity_text(overlap->exposed_mm2, Quantity::area, top.units()));
        }
        if (auto const* relief = top.plan->relief_of(leaf.id)) {
            answer(top.ui, "Joined, about", quantity_text(relief->bonded_mm2, Quantity::area, top.units()));
            answer(top.ui, "Hollow beneath, about", fmt::format("{:.1f} cm³", relief->gap_mm3 / 1000));
        }
    }
    acts_on_chosen(top, false);
    double const scale_before = leaf.scale;
    LeafPlacement const before = leaf;
    Touch const touch = leaf_inputs(top, leaf);
    if (touch == Touch::none)
        leaf = before;
    else if (std::abs(leaf.scale - scale_before) < 1e-9)
        leaf.scale = scale_before;
    send(top.intents, touch, SetLeaves{{leaf}});
}

void several_leaves(Worktop const& top) {
    heading(top.ui, fmt::format("{} leaves chosen", top.ui.selected.size()).c_str());
    std::vector<LeafPlacement> leaves = leaves_of(top.piece, top.ui.selected);
    bool pinned = std::all_of(leaves.begin(), leaves.end(), [](auto const& leaf) { return leaf.pinned; });
    acts_on_chosen(top, true);
    Touch const touch = check_row(top.ui, "Pinned: stay when rows are laid", pinned);
    for (LeafPlacement& leaf : leaves) leaf.pinned = pinned;
    send(top.intents, touch, SetLeaves{std::move(leaves)});
}

} // namespace

void leaf_card(Worktop const& top) {
    if (top.ui.scroll_to_card) {
        ImGui::SetScrollHereY(0);
        top.ui.scroll_to_card = false;
    }
    Card const card(top.ui);
    if (top.ui.selected.size() > 1) return several_leaves(top);
    if (auto const* leaf = leaf_of(top.piece, top.ui.selected.front())) one_leaf(top, *leaf);
}

void kind_card(Worktop const& top) {
    auto const& kinds = top.piece.leaf_kinds;
    auto const found =
        std::find_if(kinds.begin(), kinds.end(), [&](auto const& kind) { return kind.id == top.ui.kind_shown; });
    if (found == kinds.end()) return;
    LeafKindSpec kind = *found;
    Card const card(top.ui);
    heading(top.ui, top.drawings.label(kind.outline, kind.id).c_str());
    if (is_carrying(top.ui)) soft(top.ui, "In hand. Each click on the clay lays one; Esc puts it back.");
    Touch touch = value_row(top.ui, "Length", kind.length_mm, Quantity::length, {15, 400});
    touch = touch | value_row(top.ui, "Thickness", kind.thickness_mm, Quantity::length, {2, 20});
    send(top.intents, touch, SetLeafKind{kind});
    auto const used = std::count_if(top.piece.leaves.begin(), top.piece.leaves.end(),
                                    [&](auto const& leaf) { return leaf.kind == kind.id; });
    soft(top.ui, fmt::format("{} of them laid.", used));
    char const* const words = used ? "Take the kind and its leaves off" : "Take the kind out of the tray";
    if (button(top.ui, words, ButtonLook::plain, -1, kinds.size() > 1)) {
        top.intents.emplace_back(Commit{RemoveLeafKind{kind.id}});
        top.ui.hand = Resting{};
    }
}

} // namespace leafwright
