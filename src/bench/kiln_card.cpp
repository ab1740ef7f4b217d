// The kiln: its room with the piece in it, how it cools, what it eats.
#include "bench/after_inputs.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

Touch room_inputs(Worktop const& top, KilnSpec& kiln) {
    char const* const labels[] = {"Box", "Round"};
    int shape = static_cast<int>(kiln.shape);
    Touch touch =
        segmented(top.ui, "shape", labels, shape, ImGui::GetContentRegionAvail().x) ? Touch::done : Touch::none;
    kiln.shape = static_cast<KilnShape>(shape);
    bool const box = kiln.shape == KilnShape::box;
    touch =
        touch | value_row(top.ui, box ? "Room, wide" : "Room, across", kiln.width_mm, Quantity::length, {200, 1500});
    if (box) touch = touch | value_row(top.ui, "Room, deep", kiln.depth_mm, Quantity::length, {200, 1500});
    touch = touch | value_row(top.ui, "Room, high", kiln.height_mm, Quantity::length, {200, 1500});
    return touch | value_row(top.ui, "Kept free all round", kiln.clearance_mm, Quantity::length, {0, 100});
}

Touch energy_inputs(Worktop const& top, KilnSpec& kiln) {
    double share = kiln.share;
    Touch touch = value_row(top.ui, "Of the load, this piece", share, Quantity::share, {0.02, 1});
    kiln.share = share;
    return touch | value_row(top.ui, "Meter, a firing to 1000 °C, kWh", kiln.kWh, Quantity::count, {0, 300},
                             "0: reckoned from the lining.");
}

Touch cooling_inputs(Worktop const& top, KilnSpec& kiln) {
    UiState& ui = top.ui;
    float const em = ui.theme.em;
    Touch touch = Touch::none;
    for (std::size_t i = 0; i < kiln.cooling.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        bool const out = take_out(ui, "out", "Take this reading out.");
        ImGui::SameLine(0, 0.3F * em);
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() + 0.4F * em);
        answer(ui, fmt::format("{:g} h", kiln.cooling[i].hour).c_str(),
               quantity_text(kiln.cooling[i].degC, Quantity::temperature, top.units()));
        ImGui::PopID();
        if (!out) continue;
        kiln.cooling.erase(kiln.cooling.begin() + static_cast<std::ptrdiff_t>(i));
        return Touch::done;
    }
    float const box = 0.5F * (ImGui::GetContentRegionAvail().x - 0.5F * em);
    value_box(ui, "##hour", ui.after.cool_hour, Quantity::hours, {0, 500}, box);
    ImGui::SameLine(0, 0.5F * em);
    value_box(ui, "##degC", ui.after.cool_degC, Quantity::temperature, {0, 1400}, box);
    if (button(ui, "Add this reading", ButtonLook::plain, -1, ui.after.cool_degC > 0)) {
        kiln.cooling.push_back({ui.after.cool_hour, ui.after.cool_degC});
        std::stable_sort(kiln.cooling.begin(), kiln.cooling.end(),
                         [](CoolingReading const& a, CoolingReading const& b) { return a.hour < b.hour; });
        ui.after.cool_hour += 2;
        touch = Touch::done;
    }
    return touch;
}

void cooling_words(Worktop const& top, std::size_t firing) {
    if (top.second->cooling_problem) {
        std::string const words = top.second->cooling_problem->sentence();
        remark(top.ui, MarkKind::caution, words, "");
    }
    double const tau = top.second->firings[firing].tau_h;
    answer(top.ui, "Falls to 37 % in", quantity_text(tau, Quantity::hours, top.units()),
           "above the room, by Newton's law: real kilns radiate, so this is a fit");
}

} // namespace

void kiln_card(Worktop const& top, std::size_t firing) {
    KilnSpec kiln = top.piece.kiln;
    Touch touch = Touch::none;
    {
        Card const card(top.ui);
        heading(top.ui, "In your kiln");
        KilnFit const& fit = top.second->fits[firing];
        remark(top.ui, fit.place == KilnPlace::none ? MarkKind::refusal : MarkKind::tick,
               sentence_in(fit.words + ".", top.units()), "");
        show_drawing(top.ui, kiln_drawing(*top.second, firing), 12 * top.ui.theme.em);
        if (fit.place != KilnPlace::none)
            answer(top.ui, "To spare, beyond what is kept free",
                   quantity_text(fit.spare_mm, Quantity::length, top.units()));
        touch = room_inputs(top, kiln);
        touch = touch | energy_inputs(top, kiln);
    }
    {
        Card const card(top.ui);
        heading(top.ui, "How your kiln cools");
        if (kiln.cooling.size() < 2)
            touch = touch | value_row(top.ui, "From 1000 to 100 °C", kiln.cool_hours, Quantity::hours, {6, 72});
        soft(top.ui, "Or read its pyrometer at least twice: hours since it was switched off, and degrees.");
        touch = touch | cooling_inputs(top, kiln);
        cooling_words(top, firing);
    }
    send(top.intents, touch, SetKiln{kiln});
}

} // namespace leafwright
