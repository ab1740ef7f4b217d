// Hours, costs and price by the maker's rule.
#include "bench/after_inputs.h"

#include <fmt/format.h>

#include <algorithm>

namespace leafwright {
namespace {

std::string money(Worktop const& top, double value) {
    std::string const text = fmt::format("{:.{}f}", value, value < 100 ? 2 : 0);
    return top.piece.cost.currency.empty() ? text : text + ' ' + top.piece.cost.currency;
}

void part(Worktop const& top, char const* label, Figure const& figure, double whole) {
    part_bar(top.ui, label, money(top, figure.value), figure.value / std::max(1e-9, whole));
}

void answers(Worktop const& top) {
    CostAnswer const& cost = top.second->cost;
    {
        Card const card(top.ui);
        answer(top.ui, "Price by your rule", money(top, cost.price.value),
               fmt::format("{} to {}", money(top, cost.price.low), money(top, cost.price.high)));
        answer(top.ui, "It costs you", money(top, cost.total.value),
               fmt::format("{} to {}", money(top, cost.total.low), money(top, cost.total.high)));
        part(top, "Your hours", cost.labour, cost.total.value);
        part(top, "Clay", cost.clay, cost.total.value);
        part(top, "Firings", cost.firing, cost.total.value);
        if (cost.finish.value > 0) part(top, "Finish", cost.finish, cost.total.value);
        part(top, "Overheads", cost.overhead, cost.total.value);
    }
    Card const card(top.ui);
    heading(top.ui, fmt::format("Hours of your hands: {:.1f}", cost.hours_total).c_str());
    for (StageHours const& hours : cost.hours)
        part_bar(top.ui, hours.stage.c_str(), fmt::format("{:.1f} h", hours.hours),
                 hours.hours / std::max(1e-9, cost.hours_total));
    soft(top.ui, "By common practice, no source: the first row of leaves takes about an hour. A third more or less.");
}

void prices(Worktop const& top) {
    CostSpec cost = top.piece.cost;
    Card const card(top.ui);
    heading(top.ui, "Your prices");
    Touch touch = value_row(top.ui, "An hour of your hands", cost.hour_rate, Quantity::plain, {0, 100});
    touch = touch | value_row(top.ui, "A kilogram of clay", cost.clay_per_kg, Quantity::plain, {0, 10});
    touch = touch | value_row(top.ui, "A kWh", cost.kWh_price, Quantity::plain, {0, 2});
    FinishKind const kind = top.piece.finish.kind;
    double& finish = kind == FinishKind::glaze  ? cost.glaze_per_kg
                     : kind == FinishKind::cold ? cost.cold_per_kg
                                                : cost.oxide_per_kg;
    touch = touch | value_row(top.ui, "A kilogram of the finish, dry", finish, Quantity::plain, {0, 200});
    touch = touch | value_row(top.ui, "Minutes a leaf", cost.minutes_per_leaf, Quantity::plain, {0, 15},
                              "0: the first row takes an hour.");
    touch = touch | value_row(top.ui, "Minutes a feature", cost.minutes_per_feature, Quantity::count, {0, 240});
    touch = touch | value_row(top.ui, "Overheads", cost.overhead_share, Quantity::share, {0, 1},
                              "Rent, tools, losses; on everything.");
    touch = touch | value_row(top.ui, "Price, times the cost", cost.price_factor, Quantity::plain, {0.5, 5});
    send(top.intents, touch, SetCost{cost});
}

} // namespace

void cost_page(Worktop const& top) {
    if (second_is_there(top)) answers(top);
    prices(top);
}

} // namespace leafwright
