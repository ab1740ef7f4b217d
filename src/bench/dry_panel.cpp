// Drying: cover by days, when it is dry, the water day by day, cracks, and the cover calibrated by weighing.
#include "bench/after_inputs.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

void when_dry(Worktop const& top) {
    DryingAnswer const& drying = *top.second->drying;
    Card const card(top.ui);
    heading(top.ui, "When it is dry");
    figure_answer(top, "Leather-hard after", drying.days_to_leather_hard, Quantity::days);
    answer(top.ui, "Former out on day", fmt::format("{:.1f}", drying.former_out_day),
           top.piece.drying.former_out_day > 0 ? "as you asked" : "when it is leather-hard");
    figure_answer(top, "Bone dry after", drying.days_to_bone_dry, Quantity::days);
    if (!drying.finished) soft(top.ui, "It is not dry within the days that were looked at.");
}

void day_by_day(Worktop const& top) {
    UiState& ui = top.ui;
    AfterUi& after = ui.after;
    DryingAnswer const& drying = *top.second->drying;
    if (drying.moments.empty()) return;
    double const last = drying.moments.back().hour / 24;
    Card const card(ui);
    if (show_plot(ui, "moisture", moisture_plot(*top.second), 13 * ui.theme.em, &after.day)) after.plays = false;
    if (value_row(ui, "Day", after.day, Quantity::days, {0, last}) != Touch::none) after.plays = false;
    if (button(ui, after.plays ? "Stop" : "Play the drying", ButtonLook::strong, -1)) {
        if (!after.plays && after.day >= last - 0.05) after.day = 0;
        after.plays = !after.plays;
    }
    check_row(ui, "Show the water on the piece", after.water_shown);
    DryingMoment const now = drying.at(24 * after.day);
    answer(ui, "Mean water, of the dry clay", fmt::format("{:.1f} %", 100 * now.mean));
    answer(ui, "Driest to wettest place", fmt::format("{:.1f} to {:.1f} %", 100 * now.driest, 100 * now.wettest));
    answer(ui, "Weight on that day", quantity_text(now.mass_g, Quantity::mass, top.units()),
           "clay and water, without former and board");
}

void cracks(Worktop const& top) {
    CrackAnswer const& crack = top.second->drying->crack;
    Card const card(top.ui);
    heading(top.ui, "Cracks");
    answer(top.ui, "Risk", crack_class_name(crack.found), "Not calibrated: three classes, no probability.");
    if (crack.index_most > 0) {
        sentence(sentence_in(fmt::format("Most about day {:.0f}. {}.", crack.day, crack.why), top.units()));
        sentence(sentence_in(fmt::format("What helps: {}.", crack.help), top.units()));
        soft(top.ui, fmt::format("Pull there {:.1f} %; clay of that dampness bears {:.1f} to {:.1f} %, by an estimate "
                                 "without a source.",
                                 100 * crack.pull, 100 * crack.bears.low, 100 * crack.bears.high));
    }
    DryingSpec drying = top.piece.drying;
    send(top.intents,
         estimate_row(top, "Stiff clay bears", drying.stretch, Quantity::share, {0.0005, 0.03},
                      "An estimate, no source: set it by pieces that you saw crack or hold"),
         SetDrying{drying});
}

Touch cover_phase(Worktop const& top, std::vector<CoverPhase>& covers, std::size_t i) {
    char const* const labels[] = {"Polythene", "Vented", "Open"};
    float const em = top.ui.theme.em;
    int chosen = static_cast<int>(covers[i].cover);
    float const room = ImGui::GetContentRegionAvail().x - (i > 0 ? 2.2F * em : 0);
    Touch touch = segmented(top.ui, "cover", labels, chosen, room) ? Touch::done : Touch::none;
    covers[i].cover = static_cast<Cover>(chosen);
    if (i == 0) return touch;
    ImGui::SameLine(0, 0.3F * em);
    if (take_out(top.ui, "out", "Take this change of cover out.")) {
        covers.erase(covers.begin() + static_cast<std::ptrdiff_t>(i));
        return Touch::done;
    }
    double const latest = i + 1 < covers.size() ? covers[i + 1].from_day : 60;
    return touch | value_row(top.ui, "From day", covers[i].from_day, Quantity::days, {covers[i - 1].from_day, latest});
}

void cover_card(Worktop const& top) {
    Card const card(top.ui);
    heading(top.ui, "Its cover");
    soft(top.ui, "Vented: polythene with gaps, or cloth. Open: in the air of the room.");
    DryingSpec drying = top.piece.drying;
    if (drying.covers.empty()) drying.covers.push_back({Cover::polythene, 0});
    Touch touch = Touch::none;
    for (std::size_t i = 0; i < drying.covers.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        touch = touch | cover_phase(top, drying.covers, i);
        ImGui::PopID();
    }
    if (drying.covers.size() < 8 && button(top.ui, "Change the cover later", ButtonLook::plain, -1)) {
        Cover const next = drying.covers.back().cover == Cover::polythene ? Cover::vented : Cover::open;
        drying.covers.push_back({next, std::min(120.0, drying.covers.back().from_day + 5)});
        touch = Touch::done;
    }
    bool by_itself = drying.former_out_day <= 0;
    if (check_row(top.ui, "Former out when leather-hard", by_itself) != Touch::none) {
        drying.former_out_day = by_itself ? 0 : 3;
        touch = Touch::done;
    }
    if (!by_itself)
        touch = touch | value_row(top.ui, "Former out on day", drying.former_out_day, Quantity::days, {0.5, 30});
    touch = touch | value_row(top.ui, "Room", drying.room_degC, Quantity::temperature, {2, 40});
    touch = touch | value_row(top.ui, "Damp of the air", drying.room_humidity, Quantity::share, {0.2, 0.95},
                              "Relative humidity, by a hygrometer near the piece.");
    send(top.intents, touch, SetDrying{drying});
}

void fit_words(Worktop const& top) {
    Figure const& flux = top.piece.drying.flux_g_m2h;
    answer(top.ui, "Reckoned with", fmt::format("{:.0f} g/m²h", flux.value),
           fmt::format("{:.0f} to {:.0f}, {}", flux.low, flux.high, from_text(flux.from)));
    if (!top.second) return;
    if (top.second->cover_problem && !top.piece.drying.weighings.empty())
        remark(top.ui, MarkKind::caution, top.second->cover_problem->sentence(), "");
    if (!top.second->cover_fit) return;
    CoverFit const& fit = *top.second->cover_fit;
    answer(top.ui, "Your weighings say", fmt::format("{:.1f} ± {:.1f} g/m²h", fit.flux_g_m2h, fit.uncertainty_g_m2h),
           fmt::format("{} weighings of wet clay, standard uncertainty", fit.used));
    if (!button(top.ui, "Reckon with my weighings", ButtonLook::strong, -1)) return;
    DryingSpec drying = top.piece.drying;
    // Weighed under the cover that the piece had first; the figure is that of polythene.
    Cover const cover = drying.covers.empty() ? Cover::polythene : drying.covers.front().cover;
    double const share = 1 / cover_flux_g_m2h(drying, cover, 1);
    auto const held = [](double g_m2h) { return std::clamp(g_m2h, 1.0, 500.0); };
    drying.flux_g_m2h = {held(share * fit.flux_g_m2h), held(share * (fit.flux_g_m2h - 2 * fit.uncertainty_g_m2h)),
                         held(share * (fit.flux_g_m2h + 2 * fit.uncertainty_g_m2h)), FigureFrom::measured};
    top.intents.emplace_back(Commit{SetDrying{drying}});
}

void weighings_card(Worktop const& top) {
    UiState& ui = top.ui;
    float const em = ui.theme.em;
    Card const card(ui);
    heading(ui, "Weigh it daily");
    soft(ui,
         "Three or more weighings while it is wet tell how your cover really dries. Weigh without board and former.");
    DryingSpec drying = top.piece.drying;
    for (std::size_t i = 0; i < drying.weighings.size(); ++i) {
        ImGui::PushID(static_cast<int>(i));
        answer(ui, fmt::format("Day {:g}", drying.weighings[i].day).c_str(),
               quantity_text(drying.weighings[i].mass_g, Quantity::fine_mass, top.units()) + "        ");
        ImGui::SameLine(ImGui::GetContentRegionAvail().x - 1.3F * em);
        ImGui::SetCursorPosY(ImGui::GetCursorPosY() - 0.35F * em);
        if (take_out(ui, "out", "Take this weighing out.")) {
            drying.weighings.erase(drying.weighings.begin() + static_cast<std::ptrdiff_t>(i));
            top.intents.emplace_back(Commit{SetDrying{drying}});
            ImGui::PopID();
            return;
        }
        ImGui::PopID();
    }
    float const box = 0.5F * (ImGui::GetContentRegionAvail().x - 0.5F * em);
    value_box(ui, "##day", ui.after.weigh_day, Quantity::days, {0, 120}, box);
    ImGui::SameLine(0, 0.5F * em);
    value_box(ui, "##mass", ui.after.weigh_g, Quantity::fine_mass, {0, 100000}, box);
    if (button(ui, "Add this weighing", ButtonLook::plain, -1, ui.after.weigh_g > 0)) {
        drying.weighings.push_back({ui.after.weigh_day, ui.after.weigh_g});
        std::stable_sort(drying.weighings.begin(), drying.weighings.end(),
                         [](Weighing const& a, Weighing const& b) { return a.day < b.day; });
        ui.after.weigh_day += 1;
        top.intents.emplace_back(Commit{SetDrying{drying}});
    }
    fit_words(top);
}

} // namespace

void dry_panel(Worktop const& top) {
    bool const there = second_is_there(top);
    if (there) {
        when_dry(top);
        day_by_day(top);
        cracks(top);
    }
    cover_card(top);
    weighings_card(top);
    state_card(top);
    remark(top.ui, MarkKind::caution, "Thick and thin places dry at different speeds and may part.",
           "Cover thin places and the rim longest.");
    remark(top.ui, MarkKind::caution, "A hard former holds the clay while it shrinks.",
           "Pad it, and take it out when the piece is leather-hard.");
    remark(top.ui, MarkKind::caution, "Dry clay gives dust that harms the lungs.",
           "Do not sand or scrape it dry; wipe it down wet.");
}

} // namespace leafwright
