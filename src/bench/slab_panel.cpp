// Drape: what becomes of the slab on the former, darts, and other ways to clothe it.
#include "bench/slab_panel.h"

#include "base/units.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kLayingTakes_s = 3.2;
constexpr double kAlike_deg = 0.3;
constexpr double kApart_deg = 5; // as check_slab asks

std::string share_words(double share) { return fmt::format("{:.1f} %", 100 * share); }

void behaviour_card(Worktop const& top) {
    SlabSpec slab = top.piece.slab;
    Card const card(top.ui);
    heading(top.ui, "How the clay behaves");
    double slides = 1 - slab.grip;
    Touch touch = value_row(top.ui, "It slides on the padding", slides, Quantity::share, {0, 1},
                            "100 %: it slides freely, as over smooth cloth. 0 %: it stays where it first touches.");
    slab.grip = 1 - slides;
    touch = touch | value_row(top.ui, "It tears when drawn longer by", slab.stretch_limit, Quantity::share, {0.01, 1},
                              "15 % is a default without a source: draw out a strip of your clay and measure.");
    send(top.intents, touch, SetSlab{slab});
}

void slab_remarks(Worktop const& top, SlabAnswer const& slab) {
    if (slab.tears)
        remark(top.ui, MarkKind::caution,
               fmt::format("The slab may tear: it is drawn longer by {}.", share_words(slab.stretch_most - 1)),
               "Roll it thicker, let it slide more, choose a flatter former, or cut darts.");
    if (slab.uncovered_mm > 0)
        remark(top.ui, MarkKind::refusal,
               fmt::format("A sheet of your width leaves {} bare.",
                           quantity_text(slab.uncovered_mm2, Quantity::area, top.units())),
               fmt::format("It falls short of the rim by {} on each side: join two sheets or roll a wider one.",
                           quantity_text(slab.uncovered_mm, Quantity::length, top.units())));
    if (!slab.settled) remark(top.ui, MarkKind::caution, "These figures are doubtful.", slab.why_not);
}

void answer_card(Worktop const& top) {
    if (!top.plan || !top.plan->slab) return;
    SlabAnswer const& slab = *top.plan->slab;
    Card const card(top.ui);
    heading(top.ui, "Once it is laid");
    auto const length = [&](double mm) { return quantity_text(mm, Quantity::length, top.units()); };
    SlabThickness const& t = slab.thickness_mm;
    answer(top.ui, "Thickness", fmt::format("{} to {}", length(t.least), length(t.most)),
           fmt::format("Rolled {}, on the mean {}", length(t.rolled), length(t.mean)));
    answer(top.ui, "Drawn longest by", share_words(slab.stretch_most - 1));
    answer(top.ui, "Pushed together most by", share_words(1 - slab.stretch_least));
    answer(top.ui, "Puckers", quantity_text(slab.pucker_mm2, Quantity::area, top.units()),
           "Where clay is pushed together by more than 5 %");
    answer(top.ui, "Too much rim", length(slab.surplus_rim_mm), "What pleats, pats in or is cut out round the rim");
    answer(top.ui, "Flat size to cut", size_text(slab.bounds_mm.x, slab.bounds_mm.y, top.units()),
           "With trim; the pale band in the flat look is where the rim may come to lie");
    if (top.plan->coarse) soft(top.ui, "Roughly reckoned while it moves.");
    slab_remarks(top, slab);
}

// ---- Darts
// ------------------------------------------------------------------------------------------------------------

double apart(double a_deg, double b_deg) { return std::abs(std::remainder(a_deg - b_deg, 360.0)); }

// The dart that is this one's mirror image across the upright line; its own index when it lies on that line or has
// none.
std::size_t mirror_of(std::vector<SlabCut> const& cuts, std::size_t index) {
    for (std::size_t i = 0; i < cuts.size(); ++i)
        if (i != index && apart(cuts[i].azimuth_deg, 180 - cuts[index].azimuth_deg) < kAlike_deg) return i;
    return index;
}

Touch dart_row(Worktop const& top, std::vector<SlabCut>& cuts, std::size_t index, bool alike, bool& removed) {
    ImGui::PushID(static_cast<int>(index));
    std::size_t const twin = alike ? mirror_of(cuts, index) : index;
    bool const on_line = alike && apart(cuts[index].azimuth_deg, 180 - cuts[index].azimuth_deg) < kAlike_deg;
    double azimuth = std::remainder(cuts[index].azimuth_deg, 360.0);
    if (azimuth < 0) azimuth += 360;
    Touch touch = Touch::none;
    std::string const name = fmt::format("Dart {}: towards", index + 1);
    if (!on_line) touch = value_row(top.ui, name.c_str(), azimuth, Quantity::angle, {0, 360});
    touch = touch | value_row(top.ui, on_line ? fmt::format("Dart {}: length", index + 1).c_str() : "Length",
                              cuts[index].length_mm, Quantity::length, {5, 600});
    if (touch != Touch::none) {
        cuts[index].azimuth_deg = std::remainder(azimuth, 360.0);
        if (twin != index) cuts[twin] = {std::remainder(180 - azimuth, 360.0), cuts[index].length_mm};
    }
    if (top.plan && top.plan->slab && index < top.plan->slab->cuts.size())
        soft(top.ui, fmt::format("Opens {} at the rim.",
                                 quantity_text(top.plan->slab->cuts[index].opening_mm, Quantity::length, top.units())));
    removed = button(top.ui, twin == index ? "Take it out" : "Take both out");
    ImGui::PopID();
    return touch;
}

// The middle of the widest gap.
std::optional<double> free_azimuth(std::vector<SlabCut> const& cuts) {
    if (cuts.empty()) return -45.0;
    std::vector<double> at;
    at.reserve(cuts.size());
    for (SlabCut const& cut : cuts) at.push_back(cut.azimuth_deg - 360 * std::floor(cut.azimuth_deg / 360));
    std::sort(at.begin(), at.end());
    double best = 0, widest = 0;
    for (std::size_t i = 0; i < at.size(); ++i) {
        double const next = i + 1 < at.size() ? at[i + 1] : at.front() + 360;
        if (next - at[i] > widest) widest = next - at[i], best = at[i] + 0.5 * widest;
    }
    if (widest < 2 * kApart_deg) return std::nullopt;
    return std::remainder(best, 360.0);
}

void add_dart(std::vector<SlabCut>& cuts, bool alike) {
    auto const azimuth = free_azimuth(cuts);
    if (!azimuth) return;
    SlabCut const cut{std::round(*azimuth), cuts.empty() ? 60 : cuts.back().length_mm};
    cuts.push_back(cut);
    double const image = std::remainder(180 - cut.azimuth_deg, 360.0);
    bool const room = std::all_of(cuts.begin(), cuts.end(),
                                  [&](SlabCut const& other) { return apart(other.azimuth_deg, image) >= kApart_deg; });
    if (alike && room) cuts.push_back({image, cut.length_mm});
}

void propose_buttons(Worktop const& top) {
    SlabAnswer const* const answer = top.plan ? top.plan->slab.get() : nullptr;
    std::vector<SlabCut> const proposed = answer ? answer->proposed_cuts : std::vector<SlabCut>{};
    if (proposed.empty()) {
        soft(top.ui, top.piece.slab.cuts.empty()
                         ? "Its puckers pat down if it is eased on a little at a time: no darts are needed."
                         : "More darts would not help.");
        return;
    }
    SlabSpec slab = top.piece.slab;
    soft(top.ui, fmt::format("{} darts of {} or so would take most of the puckers out.", proposed.size(),
                             quantity_text(proposed.front().length_mm, Quantity::length, top.units())));
    slab.cuts = proposed;
    char const* const words = top.piece.slab.cuts.empty() ? "Use these darts" : "Use these darts instead";
    if (button(top.ui, words, ButtonLook::strong, -1)) top.intents.emplace_back(Commit{SetSlab{slab}});
}

void darts_card(Worktop const& top) {
    Card const card(top.ui);
    heading(top.ui, "Darts");
    soft(top.ui, "A wedge cut out from the rim inward; its edges are scored, slipped and joined on the former.");
    propose_buttons(top);
    SlabSpec slab = top.piece.slab;
    bool& alike = *ImGui::GetStateStorage()->GetBoolRef(ImGui::GetID("alike on both sides"), true);
    if (!slab.cuts.empty()) check_row(top.ui, "Alike on both sides", alike);
    Touch touch = Touch::none;
    std::optional<std::size_t> gone;
    for (std::size_t i = 0; i < slab.cuts.size(); ++i) {
        // Of two alike only the right one is shown.
        if (alike && mirror_of(slab.cuts, i) != i && std::cos(radians(slab.cuts[i].azimuth_deg)) < 0) continue;
        bool removed = false;
        touch = touch | dart_row(top, slab.cuts, i, alike, removed);
        if (removed) gone = i;
    }
    if (gone) {
        std::size_t const twin = alike ? mirror_of(slab.cuts, *gone) : *gone;
        slab.cuts.erase(slab.cuts.begin() + static_cast<std::ptrdiff_t>(std::max(*gone, twin)));
        if (twin != *gone) slab.cuts.erase(slab.cuts.begin() + static_cast<std::ptrdiff_t>(std::min(*gone, twin)));
        touch = Touch::done;
    }
    bool const room = slab.cuts.size() + 2 <= 24 && free_azimuth(slab.cuts).has_value();
    if (button(top.ui, "Add a dart", ButtonLook::plain, 0, room)) {
        add_dart(slab.cuts, alike);
        touch = Touch::done;
    }
    if (!slab.cuts.empty()) {
        ImGui::SameLine();
        if (button(top.ui, "Take all out")) slab.cuts.clear(), touch = Touch::done;
    }
    send(top.intents, touch, SetSlab{slab});
}

// ---- Ways
// -------------------------------------------------------------------------------------------------------------

char const* way_name(SlabWay::Kind kind) {
    switch (kind) {
    case SlabWay::Kind::one_slab:
        return "One slab";
    case SlabWay::Kind::with_cuts:
        return "One slab with darts";
    case SlabWay::Kind::two_halves:
        return "Two halves, joined";
    }
    return "";
}

void ways_card(Worktop const& top) {
    if (!top.plan || !top.plan->slab || top.plan->slab->ways.size() < 2) return;
    std::vector<SlabWay> const& ways = top.plan->slab->ways;
    Card const card(top.ui);
    heading(top.ui, "Ways to clothe it");
    auto const least = [&](double SlabWay::*of) {
        return std::min_element(ways.begin(), ways.end(),
                                [&](SlabWay const& a, SlabWay const& b) { return a.*of < b.*of; });
    };
    auto const thrift = least(&SlabWay::waste_mm2), true_one = least(&SlabWay::rms_stretch);
    for (auto way = ways.begin(); way != ways.end(); ++way) {
        std::string note =
            fmt::format("Puckers {}, too much rim {}", quantity_text(way->pucker_mm2, Quantity::area, top.units()),
                        quantity_text(way->surplus_rim_mm, Quantity::length, top.units()));
        if (way == thrift) note += ". Wastes least";
        if (way == true_one) note += way == thrift ? " and stays truest" : ". Stays truest";
        answer(top.ui, way_name(way->kind), "offcut " + quantity_text(way->waste_mm2, Quantity::area, top.units()),
               note);
    }
    soft(top.ui,
         "Roughly reckoned. Truest: drawn and pushed together least. Offcut: of the rectangles it is cut from; it "
         "goes back into the bucket.");
}

} // namespace

void laying_card(Worktop const& top) {
    LayingOver& laying = top.ui.laying_over;
    Card const card(top.ui);
    heading(top.ui, "Lay it over");
    if (button(top.ui, laying.start_s ? "Stop" : "Lay it over", ButtonLook::strong, -1)) {
        if (laying.start_s)
            laying.start_s.reset();
        else
            laying = {0, top.ui.now_s};
        if (top.ui.look == Look::flat) top.intents.emplace_back(SetLook{Look::piece});
    }
    double laid = laying.laid;
    if (value_row(top.ui, "Laid so far", laid, Quantity::share, {0, 1}) != Touch::none) {
        laying = {laid, std::nullopt};
        if (top.ui.look == Look::flat) top.intents.emplace_back(SetLook{Look::piece});
        top.ui.moved_s = top.ui.now_s;
    }
}

void slab_cards_at_drape(Worktop const& top) {
    answer_card(top);
    behaviour_card(top);
    darts_card(top);
    ways_card(top);
}

bool refresh_laying(UiState& ui) {
    LayingOver& laying = ui.laying_over;
    if (ui.stage != MakingStage::drape) {
        laying = {};
        return false;
    }
    if (!laying.start_s) return false;
    double const share = (ui.now_s - *laying.start_s) / kLayingTakes_s;
    laying.laid = std::clamp(share, 0.0, 1.0);
    if (share >= 1) laying.start_s.reset();
    return true;
}

} // namespace leafwright
