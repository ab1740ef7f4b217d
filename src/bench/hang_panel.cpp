// On the wall: from the side and from behind, wire, lugs, lean, and what a fall asks for.
#include "bench/after_inputs.h"

#include <fmt/format.h>

#include <cmath>

namespace leafwright {
namespace {

std::string lean_words(HangingState const& state) {
    if (std::abs(state.lean_deg) > 45) return "It tips over.";
    switch (state.contact) {
    case Contact::flush:
        return "It hangs true: both rims touch the wall.";
    case Contact::leaning:
        return fmt::format("It leans {:.1f}° off the wall at the top.", state.lean_deg);
    case Contact::top_pressed:
        return fmt::format("Its top presses on the wall and its foot stands {:.1f}° off.", -state.lean_deg);
    }
    return {};
}

void drawings_card(Worktop const& top, HangingAnswer const& hanging) {
    UiState& ui = top.ui;
    float const em = ui.theme.em;
    Card const card(ui);
    heading(ui, "From the side");
    show_drawing(ui, hanging_side(hanging, top.piece.hanging.kind == "lugs"), 16 * em);
    sentence(lean_words(hanging.state));
    bool const untrue = hanging.state.contact != Contact::flush;
    if (untrue && hanging.true_above_centre_mm) {
        std::string const label =
            fmt::format("Hang it true: {} above the middle",
                        quantity_text(*hanging.true_above_centre_mm, Quantity::length, top.units()));
        if (button(ui, label.c_str(), ButtonLook::strong, -1)) {
            HangingSpec spec = top.piece.hanging;
            spec.above_centre_mm = *hanging.true_above_centre_mm;
            top.intents.emplace_back(Commit{SetHanging{spec}});
        }
    } else if (untrue) {
        soft(ui,
             "No height of the lugs lets it hang true: bring the hook closer to the wall, or let the wire rise more.");
    }
    if (std::abs(hanging.side_tilt_deg) > 0.2)
        sentence(fmt::format("Its weight is off the middle and turns it {:.1f}°, the {} side down.",
                             std::abs(hanging.side_tilt_deg), hanging.side_tilt_deg > 0 ? "right" : "left"));
    heading(ui, "From behind");
    if (top.second->plan) show_drawing(ui, hanging_back(*top.second->plan, hanging), 13 * em);
}

void forces_card(Worktop const& top, HangingAnswer const& hanging) {
    UiState& ui = top.ui;
    HangingState const& state = hanging.state;
    auto const force = [&](double N) {
        return fmt::format("{} ({})", quantity_text(N, Quantity::force, top.units()),
                           quantity_text(1000 * N / 9.80665, Quantity::mass, top.units()));
    };
    Card const card(ui);
    heading(ui, "What pulls where");
    figure_answer(top, "Weight as it hangs", hanging.mass_g, Quantity::mass);
    answer(ui, "Pull in each leg of the wire", force(state.tension_N),
           fmt::format("at {:.0f}° from the level", state.angle_deg));
    answer(ui, "Wire breaks at", quantity_text(hanging.breaking_N, Quantity::force, top.units()),
           fmt::format("{:.1f} times the pull; five times is asked for", hanging.factor));
    answer(ui, "Pull-out at the hook, off the wall", force(state.pull_out_N));
    answer(ui, "Down on the hook", force(hanging.rig.weight_N));
    if (hanging.lug_factor > 0)
        answer(ui, "A lug's joint may bear",
               fmt::format("{:.1f} to {:.1f} times", hanging.lug_range.low, hanging.lug_range.high),
               fmt::format(
                   "the pull; about {:.1f}, an estimate without a source, no proof. Bending and shear at its root: "
                   "{:.2f} N/mm²",
                   hanging.lug_factor, hanging.lug_stress_N_mm2));
    answer(ui, "From the edge, along the clay", quantity_text(hanging.edge_mm, Quantity::length, top.units()));
}

// "copper" and 1.0 of "wire:copper-1.0".
std::string material_of(std::string const& wire) {
    std::size_t const dash = wire.rfind('-');
    return dash == std::string::npos || dash < 5 ? std::string("copper") : wire.substr(5, dash - 5);
}
std::string diameter_of(std::string const& wire) {
    std::size_t const dash = wire.rfind('-');
    return dash == std::string::npos ? std::string("1.0") : wire.substr(dash + 1);
}

bool combo(UiState const& ui, char const* id, std::string const& shown, std::vector<std::string> const& items,
           std::string& chosen) {
    bool changed = false;
    if (!ImGui::BeginCombo(id, shown.c_str(), ImGuiComboFlags_HeightLarge)) return false;
    for (std::string const& item : items)
        if (ImGui::Selectable(item.c_str(), item == shown, 0, {0, 1.7F * ui.theme.em})) {
            chosen = item;
            changed = true;
        }
    ImGui::EndCombo();
    return changed;
}

Touch wire_inputs(Worktop const& top, HangingSpec& spec) {
    UiState& ui = top.ui;
    float const em = ui.theme.em;
    float const half = 0.5F * (ImGui::GetContentRegionAvail().x - 0.5F * em);
    std::string material = material_of(spec.wire);
    std::string diameter = diameter_of(spec.wire) + " mm";
    std::vector<std::string> materials;
    for (std::string_view name : wire_materials()) materials.emplace_back(name);
    std::vector<std::string> diameters;
    for (double mm : kUsualWires_mm) diameters.push_back(fmt::format("{:.1f} mm", mm));
    ImGui::SetNextItemWidth(half);
    bool changed = combo(ui, "##material", material, materials, material);
    ImGui::SameLine(0, 0.5F * em);
    ImGui::SetNextItemWidth(half);
    changed = combo(ui, "##diameter", diameter, diameters, diameter) || changed;
    if (changed) spec.wire = fmt::format("wire:{}-{}", material, diameter.substr(0, diameter.find(' ')));
    Touch const touch = value_row(ui, "Breaking load on the packet", spec.breaking_N, Quantity::force, {0, 3000},
                                  "0: by material and thickness, at the least strength of its table.");
    return changed ? Touch::done : touch;
}

void inputs_card(Worktop const& top) {
    HangingSpec spec = top.piece.hanging;
    Card const card(top.ui);
    heading(top.ui, "Hanging points");
    char const* const labels[] = {"Lugs", "Holes"};
    int kind = spec.kind == "holes" ? 1 : 0;
    Touch touch =
        segmented(top.ui, "hanging", labels, kind, ImGui::GetContentRegionAvail().x) ? Touch::done : Touch::none;
    spec.kind = kind == 1 ? "holes" : "lugs";
    soft(top.ui, kind == 1 ? "Two holes with a wire, for light pieces; at least two thicknesses from the edge."
                           : "Two balls of clay joined behind make each lug.");
    touch = touch | value_row(top.ui, "Above the middle", spec.above_centre_mm, Quantity::length, {-200, 300});
    touch = touch | value_row(top.ui, "Each from the upright line", spec.half_span_mm, Quantity::length, {10, 300});
    touch = touch | value_row(top.ui, "Hook above them, wire tight", spec.wire_rise_mm, Quantity::length, {5, 200});
    touch = touch | value_row(top.ui, "Hook off the wall", spec.hook_off_mm, Quantity::length, {0, 60});
    heading(top.ui, "Wire");
    touch = touch | wire_inputs(top, spec);
    if (top.second && top.second->hanging && top.second->hanging->advised_wire) {
        Wire const& wire = *top.second->hanging->advised_wire;
        soft(top.ui,
             fmt::format("Thinnest of this material that breaks at five times the pull: {:.1f} mm.", wire.diameter_mm));
    }
    if (spec.kind == "lugs")
        touch = touch | estimate_row(top, "Joint by hand, of a pressed tile", spec.joint_share, Quantity::share,
                                     {0.01, 0.5}, "An estimate, no source. Pressed tiles: ISO 13006, by absorption");
    send(top.intents, touch, SetHanging{spec});
}

void price_card(Worktop const& top) {
    CostAnswer const& cost = top.second->cost;
    std::string const& currency = top.piece.cost.currency;
    Card const card(top.ui);
    heading(top.ui, "What it comes to");
    answer(top.ui, "Hours of your hands", fmt::format("{:.1f} h", cost.hours_total));
    answer(top.ui, "Price by your rule", fmt::format("{:.0f} {}", cost.price.value, currency),
           fmt::format("{:.0f} to {:.0f}", cost.price.low, cost.price.high));
    if (!button(top.ui, "Hours and costs", ButtonLook::plain, -1)) return;
    top.ui.after.page = KneadPage::cost;
    top.intents.emplace_back(GoToStage{MakingStage::knead});
}

} // namespace

void hang_panel(Worktop const& top) {
    remark(top.ui, MarkKind::caution, "A hung piece can fall and hurt or kill someone.",
           "These figures help to think; they do not show that it is safe.");
    bool const there = second_is_there(top);
    HangingAnswer const* const hanging = there && top.second->hanging ? &*top.second->hanging : nullptr;
    if (hanging) drawings_card(top, *hanging);
    inputs_card(top);
    if (hanging) forces_card(top, *hanging);
    if (there) price_card(top);
    state_card(top);
    if (!hanging) return;
    for (std::string const& caution : hanging->cautions) remark(top.ui, MarkKind::caution, caution, "");
}

} // namespace leafwright
