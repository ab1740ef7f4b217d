// The finish: what kind, how much of it, and whether the piece may hang outside.
#include "bench/after_inputs.h"

#include <fmt/format.h>

#include <cmath>

namespace leafwright {
namespace {

void finish_kind_card(Worktop const& top) {
    FinishSpec finish = top.piece.finish;
    Card const card(top.ui);
    heading(top.ui, "The finish");
    char const* const labels[] = {"None", "Oxide", "Glaze", "Cold"};
    int kind = static_cast<int>(finish.kind);
    Touch touch =
        segmented(top.ui, "finish", labels, kind, ImGui::GetContentRegionAvail().x) ? Touch::done : Touch::none;
    if (kind != static_cast<int>(finish.kind)) finish.g_per_m2 = 0;
    finish.kind = static_cast<FinishKind>(kind);
    char const* const words[] = {"The fired clay as it is.",
                                 "A wash of iron or other oxide in water: it stays in the veins and laps.",
                                 "A stoneware glaze over the front; back and foot stay bare.",
                                 "Wax, stain or paint on the fired piece, for indoors."};
    soft(top.ui, words[kind]);
    if (finish.kind != FinishKind::none) {
        double layers = finish.layers;
        Touch const moved = value_row(top.ui, "Layers", layers, Quantity::count, {1, 6});
        finish.layers = static_cast<int>(std::lround(layers));
        touch = touch | moved;
        Figure const usual = usual_g_per_m2(finish.kind);
        double amount = finish.g_per_m2 > 0 ? finish.g_per_m2 : usual.value;
        Touch const weighed = value_row(top.ui, "Dry, one layer", amount, Quantity::slip, {10, 900});
        if (weighed != Touch::none) finish.g_per_m2 = amount;
        soft(top.ui, finish.g_per_m2 > 0 ? "As you weighed it."
                                         : fmt::format("{:.0f} to {:.0f} g/m², common practice, no source: weigh a "
                                                       "brushed tile.",
                                                       usual.low, usual.high));
        touch = touch | weighed;
    }
    send(top.intents, touch, SetFinish{finish});
}

void amounts(Worktop const& top) {
    FinishAnswer const& finish = top.second->finish;
    Card const card(top.ui);
    heading(top.ui, "To mix");
    answer(top.ui, "True area of the face", quantity_text(finish.face_mm2, Quantity::area, top.units()),
           fmt::format("leaves and laps counted; the plain face is {}",
                       quantity_text(finish.plain_mm2, Quantity::area, top.units())));
    if (finish.kind == FinishKind::none) return;
    figure_answer(top, "Dry, all layers", finish.dry_g, Quantity::mass);
    if (finish.water_g.value > 0) figure_answer(top, "Water", finish.water_g, Quantity::mass);
    int number = 0;
    for (std::string const& step : finish.steps) sentence(fmt::format("{}. {}", ++number, step));
}

void outdoors(Worktop const& top) {
    FinishSpec finish = top.piece.finish;
    Card const card(top.ui);
    heading(top.ui, "Out of doors");
    Touch touch = check_row(top.ui, "It will hang outside", finish.outdoors);
    if (top.second) {
        OutdoorAnswer const& out = top.second->outdoors;
        answer(top.ui, "Stands frost", outdoors_name(out.fit));
        answer(top.ui, "Absorption group",
               out.group == out.group_low && out.group == out.group_high
                   ? out.group
                   : fmt::format("{} ({} to {})", out.group, out.group_low, out.group_high));
        sentence(out.words + ".");
        for (std::string const& known : out.known) soft(top.ui, known);
    }
    touch =
        touch | value_row(top.ui, "Your test: 24 h in cold water", finish.cold_absorption, Quantity::share, {0, 0.25});
    touch = touch | value_row(top.ui, "Your test: 5 h boiled", finish.boil_absorption, Quantity::share, {0, 0.25},
                              "Water taken up by a tile of the same firing, of its mass; 0: not tested.");
    send(top.intents, touch, SetFinish{finish});
    if (!top.second) return;
    soft(top.ui, "Only a test tells:");
    for (std::string const& test : top.second->outdoors.only_tests) soft(top.ui, test);
}

} // namespace

void finish_panel(Worktop const& top) {
    finish_kind_card(top);
    if (second_is_there(top)) amounts(top);
    outdoors(top);
    state_card(top);
    if (!top.second) return;
    for (std::string const& caution : top.second->finish.cautions) remark(top.ui, MarkKind::caution, caution, "");
}

} // namespace leafwright
