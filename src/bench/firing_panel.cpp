// A firing: hours, energy, what the clay feels, and its schedule.
#include "bench/after_inputs.h"

#include <fmt/format.h>

namespace leafwright {
namespace {

// The piece's firings, or those that are reckoned with while it names none.
std::vector<FiringSpec> firings_of(Worktop const& top) {
    if (!top.piece.firing.empty()) return top.piece.firing;
    return {{"first", 1000, {}}, {"last", 1260, {}}};
}

void hours_card(Worktop const& top, FiringAnswer const& firing) {
    Card const card(top.ui);
    heading(top.ui, "The firing");
    answer(top.ui, "Up to the top", quantity_text(firing.hours_up, Quantity::hours, top.units()));
    answer(top.ui, "Down to 100 °C", quantity_text(firing.hours_down, Quantity::hours, top.units()),
           top.piece.kiln.cooling.size() > 1 ? "by your kiln's readings" : "by the kiln's usual cooling");
    answer(top.ui, "In all", quantity_text(firing.hours_up + firing.hours_down, Quantity::hours, top.units()),
           "open it below 100 °C only");
    KilnSpec const& kiln = top.piece.kiln;
    answer(top.ui, "Energy, whole kiln", fmt::format("{:.0f} kWh", firing.kWh),
           kiln.kWh > 0 ? "from your meter" : "reckoned from the lining; read your meter once");
    answer(top.ui, "Costs this piece",
           fmt::format("{:.2f} {}", firing.kWh * kiln.share * top.piece.cost.kWh_price, top.piece.cost.currency),
           fmt::format("{:.0f} % of the load, {:g} a kWh", 100 * kiln.share, top.piece.cost.kWh_price));
}

void curves_card(Worktop const& top, FiringAnswer const& firing) {
    float const em = top.ui.theme.em;
    Card const card(top.ui);
    show_plot(top.ui, "temperature", firing_plot(firing), 13 * em);
    show_plot(top.ui, "gradient", gradient_plot(firing), 9 * em);
    answer(top.ui, "Most while it warms", fmt::format("{:.0f} K", firing.worst_gradient_K),
           fmt::format("at {:.1f} h; bears about {:.0f} K ({:.0f} to {:.0f})", firing.worst_hour,
                       firing.bearable_K.value, firing.bearable_K.low, firing.bearable_K.high));
    answer(top.ui, "Most while it cools", fmt::format("{:.0f} K", firing.worst_cooling_K),
           fmt::format("below 900 °C; bears about {:.0f} K ({:.0f} to {:.0f})", firing.bearable_cooling_K.value,
                       firing.bearable_cooling_K.low, firing.bearable_cooling_K.high));
    answer(top.ui, "Falls through 573 °C by", quantity_text(firing.quartz_rate_K_h, Quantity::rate, top.units()));
    soft(top.ui,
         "What it bears: from the stretch at breaking and the expansion of usual clays. Not calibrated for yours.");
}

// Rate, target, hold in a row.
Touch segment_row(Worktop const& top, FiringSegment& s, bool& out) {
    float const em = top.ui.theme.em;
    float const box = (ImGui::GetContentRegionAvail().x - 2.4F * em) / 3 - 0.3F * em;
    Touch touch = value_box(top.ui, "##rate", s.rate_K_h, Quantity::rate, {1, 1000}, box);
    ImGui::SameLine(0, 0.3F * em);
    touch = touch | value_box(top.ui, "##target", s.target_degC, Quantity::temperature, {20, 1400}, box);
    ImGui::SameLine(0, 0.3F * em);
    touch = touch | value_box(top.ui, "##hold", s.hold_h, Quantity::hours, {0, 100}, box);
    ImGui::SameLine(0, 0.3F * em);
    out = take_out(top.ui, "out", "Take this segment out.");
    return touch;
}

void schedule_card(Worktop const& top, FiringAnswer const& firing, std::size_t index) {
    std::vector<FiringSpec> firings = firings_of(top);
    if (index >= firings.size()) return;
    FiringSpec& spec = firings[index];
    Card const card(top.ui);
    heading(top.ui, "Schedule");
    Touch touch = Touch::none;
    double top_degC = spec.segments.empty() ? spec.top_degC : firing.top_degC;
    if (spec.segments.empty()) {
        touch = value_row(top.ui, "Top temperature", top_degC, Quantity::temperature, {600, 1350});
        spec.top_degC = top_degC;
        soft(top.ui, sentence_in(fmt::format("Proposed by the thickest place, {:.0f} mm wet. Change any figure to make "
                                             "it your own.",
                                             top.second->thickest_mm),
                                 top.units()));
    } else {
        soft(top.ui, "Your own schedule.");
    }
    float const em = top.ui.theme.em;
    float const column = (ImGui::GetContentRegionAvail().x - 2.4F * em) / 3;
    float const left = ImGui::GetCursorPosX();
    soft(top.ui, "Rate");
    ImGui::SameLine(left + column);
    soft(top.ui, "To");
    ImGui::SameLine(left + 2 * column);
    soft(top.ui, "Hold");
    std::vector<FiringSegment> segments = firing.segments;
    bool own = false;
    for (std::size_t i = 0; i < segments.size(); ++i) {
        bool out = false;
        ImGui::PushID(static_cast<int>(i));
        own = segment_row(top, segments[i], out) != Touch::none || own;
        ImGui::PopID();
        if (!out || segments.size() < 2) continue;
        segments.erase(segments.begin() + static_cast<std::ptrdiff_t>(i));
        own = true;
        break;
    }
    bool const full = segments.size() >= 20;
    if (button(top.ui, "Add a segment", ButtonLook::plain, -1, !full)) {
        segments.push_back({100, segments.empty() ? 600 : segments.back().target_degC, 0.5});
        own = true;
    }
    if (own) {
        spec.segments = segments;
        touch = Touch::done;
    }
    if (!spec.segments.empty() && !own &&
        button(top.ui, "Propose a schedule", ButtonLook::strong, -1, true,
               "By the thickest place of the piece and common practice.")) {
        spec.top_degC = std::clamp(firing.top_degC, 600.0, 1350.0);
        spec.segments.clear();
        touch = Touch::done;
    }
    soft(top.ui, "The top is heat-work: time counts too. Check it with a cone of its maker.");
    send(top.intents, touch, SetFirings{firings});
}

void how_often(Worktop const& top, std::size_t index) {
    std::vector<FiringSpec> firings = firings_of(top);
    if (index == 1 && firings.size() < 2) {
        sentence("The piece is fired once, and that firing is its last.");
        if (!button(top.ui, "Add a second firing", ButtonLook::plain, -1)) return;
        firings.push_back({"last", 1220, {}});
    } else if (index == 1) {
        if (!button(top.ui, "Leave the second firing out", ButtonLook::plain, -1)) return;
        firings.resize(1);
    } else {
        return;
    }
    top.intents.emplace_back(Commit{SetFirings{firings}});
}

void clay_card(Worktop const& top) {
    BodySpec body = top.piece.body;
    Card const card(top.ui);
    heading(top.ui, "What the clay bears in the fire");
    double strain = 1e6 * body.fracture_strain.value;
    double expansion = 1e6 * body.expansion_per_K.value;
    Touch touch = value_row(top.ui, "Stretch at breaking, millionths", strain, Quantity::count, {50, 1500});
    touch = touch | value_row(top.ui, "Expansion, millionths a °C", expansion, Quantity::plain, {2, 12},
                              "Estimates with wide ranges, no source for your clay; the supplier may tell.");
    auto const moved = [](Figure& figure, double value) {
        figure = figure * (value / figure.value);
        figure.from = FigureFrom::measured;
    };
    if (strain != 1e6 * body.fracture_strain.value) moved(body.fracture_strain, 1e-6 * strain);
    if (expansion != 1e6 * body.expansion_per_K.value) moved(body.expansion_per_K, 1e-6 * expansion);
    send(top.intents, touch, SetBody{body});
}

} // namespace

void firing_panel(Worktop const& top, std::size_t index) {
    how_often(top, index);
    bool const there = second_is_there(top) && index < top.second->firings.size();
    if (there) {
        FiringAnswer const& firing = top.second->firings[index];
        hours_card(top, firing);
        curves_card(top, firing);
        schedule_card(top, firing, index);
        kiln_card(top, index);
        clay_card(top);
    }
    state_card(top);
    if (index == 0)
        remark(top.ui, MarkKind::caution, "A piece that is not bone dry can burst in the kiln.",
               "Hold it below 100 °C until no damp shows at the vent.");
    remark(
        top.ui, MarkKind::caution, "A kiln burns, and gives off fumes.",
        "Vent it to the open air, wear tinted glasses at the spy hole, never open it hot, and have wiring or gas done "
        "by a licensed fitter, by your local code.");
}

} // namespace leafwright
