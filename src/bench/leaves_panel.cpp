// Leaves: laying rows by rules, and what they come to.
#include "bench/panels.h"

#include "piece/spots.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

// Leaves laid or moved by hand count as pinned.
void pins(Worktop const& top) {
    std::vector<LeafPlacement> pinned;
    for (LeafPlacement const& leaf : top.piece.leaves)
        if (leaf.pinned) pinned.push_back(leaf);
    if (pinned.empty()) {
        soft(top.ui, "Leaves that you lay or move by hand are pinned and stay when rows are laid.");
        return;
    }
    soft(top.ui, fmt::format("{} {} pinned, as laid or moved by hand, and will stay; a pin marks each in the picture.",
                             pinned.size(), pinned.size() == 1 ? "leaf is" : "leaves are"));
    if (!button(top.ui, "Take all pins out", ButtonLook::quiet, 0, true, "Laying rows then moves these leaves too"))
        return;
    for (LeafPlacement& leaf : pinned) leaf.pinned = false;
    top.intents.emplace_back(Commit{SetLeaves{std::move(pinned)}});
}

void laying(Worktop const& top) {
    Card const card(top.ui);
    heading(top.ui, "Rows from the edge inward");
    float const em = top.ui.theme.em;
    if (top.ui.laying) {
        ImVec2 const at = ImGui::GetCursorScreenPos();
        float const width = ImGui::GetContentRegionAvail().x;
        ImDrawList& draw = *ImGui::GetWindowDrawList();
        auto const share = static_cast<float>(std::clamp(top.ui.laying_progress, 0.02, 1.0));
        draw.AddRectFilled(at, {at.x + width, at.y + 0.9F * em}, paint::clay_pale, 0.45F * em);
        draw.AddRectFilled(at, {at.x + std::max(0.9F * em, share * width), at.y + 0.9F * em}, paint::leaf, 0.45F * em);
        ImGui::Dummy({width, 0.9F * em});
        if (button(top.ui, "Stop laying", ButtonLook::plain, -1)) top.intents.emplace_back(CancelLaying{});
        return;
    }
    bool const can = !top.piece.rows.rules.empty() && !top.piece.leaf_kinds.empty();
    if (button(top.ui, "Lay rows", ButtonLook::strong, -1, can,
               "Fills the clay by the rules below; pinned leaves stay (F8)"))
        top.intents.emplace_back(DoAct{Act::lay_rows});
    if (button(top.ui, "Try another arrangement", ButtonLook::plain, -1, can,
               "The same rules with other chances (Shift+F8)"))
        top.intents.emplace_back(DoAct{Act::another_arrangement});
    if (button(top.ui, "Four to choose from", ButtonLook::plain, -1, can,
               "Four arrangements by the same rules, side by side as pictures (F9)"))
        top.intents.emplace_back(DoAct{Act::show_proposals});
    pins(top);
    RowRules rows = top.piece.rows;
    Touch touch =
        value_row(top.ui, "Calm to lively", rows.liveliness, Quantity::share, {0, 1},
                  "0\u00A0%: straight and alike. 50\u00A0%: as the rules say. 100\u00A0%: turned, varied, mixed.");
    touch = touch | check_row(top.ui, "Left and right are mirror images", rows.mirror);
    send(top.intents, touch, SetRows{rows});
    check_row(top.ui, "Show the rows' lines", top.ui.show_row_lines);
    check_row(top.ui, "Leaves settle on a row near by", top.ui.snap_to_rows);
    soft(top.ui, fmt::format("Arrangement number {}. The same number gives the same arrangement.", top.piece.seed));
}

void answers(Worktop const& top) {
    if (!top.plan || top.plan->leaves.count == 0) return;
    LeavesAnswer const& leaves = top.plan->leaves;
    Card const card(top.ui);
    heading(top.ui, "What they come to");
    answer(top.ui, "Leaves to press", fmt::format("{}", leaves.count));
    answer(top.ui, "Their clay", quantity_text(top.plan->clay.leaves_g.value, Quantity::mass, top.units()));
    answer(top.ui, "Lap, on average", quantity_text(leaves.lap, Quantity::share, top.units()));
    answer(top.ui, "Clay covered",
           quantity_text(leaves.overlap.union_mm2 - leaves.overlap.overhang_mm2, Quantity::area, top.units()));
    answer(top.ui, "Bare clay", quantity_text(leaves.overlap.bare_mm2, Quantity::area, top.units()));
    answer(top.ui, "Beyond the rim", quantity_text(leaves.overlap.overhang_mm2, Quantity::area, top.units()));
    answer(top.ui, "Thickest stack", quantity_text(leaves.stack_most_mm, Quantity::length, top.units()),
           "Leaves alone, without the slab.");
    answer(top.ui, "Joined", quantity_text(leaves.bonded_mm2, Quantity::area, top.units()),
           "An estimate: where leaves lie close on slab or leaf.");
    answer(top.ui, "Hollow beneath leaves", fmt::format("{:.0f} cm³", leaves.hollow_mm3 / 1000),
           "An estimate. Press leaves down over hollows, or fill them with soft clay.");
    auto const& layers = leaves.overlap.layers_mm2;
    answer(top.ui, "Most layers",
           fmt::format("{}", std::count_if(layers.begin(), layers.end(), [](double a) { return a > 1; })));
}

// Bare clay, and piles that dry badly, place by place.
void places(Worktop const& top) {
    if (!top.plan || top.plan->leaves.count == 0) return;
    LeavesAnswer const& leaves = top.plan->leaves;
    if (leaves.bare_spots.empty() && leaves.thick_spots.empty()) return;
    constexpr std::size_t kListed = 8;
    Card const card(top.ui);
    heading(top.ui, "Look at these places");
    for (std::size_t k = 0; k < std::min(kListed, leaves.bare_spots.size()); ++k) {
        BareSpot const& spot = leaves.bare_spots[k];
        answer(top.ui, fmt::format("{}  Bare, {}", k + 1, place_words(*top.plan, spot.at)).c_str(),
               quantity_text(std::max(1.0, spot.area_mm2), Quantity::area, top.units()));
    }
    if (leaves.bare_spots.size() > kListed)
        soft(top.ui, fmt::format("and {} smaller bare places", leaves.bare_spots.size() - kListed));
    for (std::size_t k = 0; k < std::min(kListed, leaves.thick_spots.size()); ++k) {
        ThickSpot const& spot = leaves.thick_spots[k];
        answer(top.ui, fmt::format("Thick, {}", place_words(*top.plan, spot.at)).c_str(),
               quantity_text(spot.thickness_mm, Quantity::length, top.units()),
               k == 0 ? "Slab and leaves; it dries last and may crack." : "");
    }
}

// Which of the piece's kinds the row takes, in turn.
Touch kinds_of_row(Worktop const& top, RowRule& rule) {
    Touch touch = Touch::none;
    sentence("Kinds, taken in turn");
    for (LeafKindSpec const& kind : top.piece.leaf_kinds) {
        auto const found = std::find(rule.kinds.begin(), rule.kinds.end(), kind.id);
        bool used = found != rule.kinds.end();
        ImGui::PushID(("in turn " + kind.id).c_str());
        Touch const touched = check_row(top.ui, top.drawings.label(kind.outline, kind.id).c_str(), used);
        ImGui::PopID();
        if (touched == Touch::none) continue;
        if (used)
            rule.kinds.push_back(kind.id);
        else if (rule.kinds.size() > 1)
            rule.kinds.erase(found); // a row of no kind cannot be laid
        touch = Touch::done;
    }
    return touch;
}

Touch rule_inputs(Worktop const& top, RowRule& rule) {
    Touch touch = kinds_of_row(top, rule);
    touch = touch | value_row(top.ui, "Side lap", rule.side_lap, Quantity::share, {0, 0.8},
                              "Of a leaf's width, covered by its neighbour.");
    touch = touch | value_row(top.ui, "Head lap", rule.head_lap, Quantity::share, {0, 0.8},
                              "Of a leaf's length, covered by the next row.");
    if (rule.row == 1)
        touch = touch | value_row(top.ui, "Tips beyond the rim", rule.overhang_mm, Quantity::length, {-50, 80});
    touch = touch | value_row(top.ui, "Turned at random up to", rule.turn_spread_deg, Quantity::angle, {0, 45});
    touch = touch | value_row(top.ui, "Sizes vary by", rule.size_spread, Quantity::share, {0, 0.5});
    touch = touch | value_row(top.ui, "Row laps at least", rule.least_lap, Quantity::share, {0, 0.6},
                              "Of the row's leaves, covered by later ones. Not asked of the innermost row.");
    touch = touch | value_row(top.ui, "Row laps at most", rule.most_lap, Quantity::share, {0.2, 1});
    touch = touch | value_row(top.ui, "Seen of each leaf, at least", rule.least_exposed, Quantity::share, {0, 0.6},
                              "So that its veins show.");
    return touch;
}

std::string rule_name(RowRules const& rows, std::size_t index) {
    bool const last = index + 1 == rows.rules.size();
    int const row = rows.rules[index].row;
    if (last && row > 1) return fmt::format("Rows {} on", row);
    if (last) return "All rows";
    int const next = rows.rules[index + 1].row;
    return next > row + 1 ? fmt::format("Rows {} to {}", row, next - 1) : fmt::format("Row {}", row);
}

void rule_tabs(Worktop const& top, RowRules& rows, Touch& touch) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < rows.rules.size(); ++i) names.push_back(rule_name(rows, i));
    float const gap = 0.3F * top.ui.theme.em;
    float x = 0;
    float const room = ImGui::GetContentRegionAvail().x;
    for (std::size_t i = 0; i < names.size(); ++i) {
        float const width = text_size(top.ui.theme.text, names[i]).x + 1.5F * top.ui.theme.em;
        if (i && x + gap + width < room)
            ImGui::SameLine(0, gap);
        else
            x = 0;
        x += width + gap;
        bool const shown = top.ui.rule_shown == static_cast<int>(i);
        ImGui::PushID(static_cast<int>(i));
        if (button(top.ui, names[i].c_str(), shown ? ButtonLook::strong : ButtonLook::plain))
            top.ui.rule_shown = static_cast<int>(i);
        ImGui::PopID();
    }
    if (button(top.ui, "Add a rule", ButtonLook::quiet, 0, true, "For the rows further in")) {
        RowRule next = rows.rules.empty() ? RowRule{} : rows.rules.back();
        if (!rows.rules.empty()) ++next.row;
        if (next.kinds.empty() && !top.piece.leaf_kinds.empty()) next.kinds = {top.piece.leaf_kinds.front().id};
        rows.rules.push_back(next);
        top.ui.rule_shown = static_cast<int>(rows.rules.size()) - 1;
        touch = Touch::done;
    }
    if (rows.rules.size() < 2) return;
    ImGui::SameLine();
    if (button(top.ui, "Drop this rule", ButtonLook::quiet)) {
        rows.rules.erase(rows.rules.begin() + top.ui.rule_shown);
        rows.rules.front().row = 1;
        top.ui.rule_shown = 0;
        touch = Touch::done;
    }
}

void rules(Worktop const& top) {
    Card const card(top.ui);
    heading(top.ui, "Rules of the rows");
    soft(top.ui, "Row 1 is the outer row. They are used when rows are laid.");
    RowRules rows = top.piece.rows;
    Touch touch = Touch::none;
    rule_tabs(top, rows, touch);
    if (touch == Touch::none && top.ui.rule_shown < static_cast<int>(rows.rules.size()))
        touch = rule_inputs(top, rows.rules[static_cast<std::size_t>(top.ui.rule_shown)]);
    send(top.intents, touch, SetRows{rows});
}

} // namespace

void leaves_panel(Worktop const& top) {
    if (!top.ui.selected.empty())
        leaf_card(top);
    else if (!top.ui.kind_shown.empty())
        kind_card(top);
    laying(top);
    row_card(top);
    places(top);
    answers(top);
    rules(top);
}

} // namespace leafwright
