#include "piece/cost.h"

#include <algorithm>
#include <numeric>

namespace leafwright {

namespace {

double minutes_per_leaf(CostSpec const& spec, CostInput const& input) {
    if (spec.minutes_per_leaf > 0) return spec.minutes_per_leaf;
    // Press, cut out, score, slip and join: about an hour for the first row, whatever its number, within reason.
    return std::clamp(60.0 / std::max(1, input.first_row_leaves), 1.0, 4.0);
}

std::vector<StageHours> hours_of(CostSpec const& spec, CostInput const& in) {
    std::vector<StageHours> hours = {{"Knead", 0.15 + 0.05 * in.knead_g.value / 1000},
                                     {"Roll", 0.4},
                                     {"Drape", 0.5},
                                     {"Leaves", in.leaves * minutes_per_leaf(spec, in) / 60},
                                     {"Features", in.features * spec.minutes_per_feature / 60},
                                     {"Dry", 0.25 + in.drying_days * 5 / 60}};
    if (!in.firing_kWh.empty()) hours.push_back({"First firing", 0.75});
    if (in.finish_layers > 0) hours.push_back({"Finish", 0.3 + in.finish_layers * in.finish_m2 * 2.5});
    if (in.firing_kWh.size() > 1)
        hours.push_back({"Last firing", 0.75 * static_cast<double>(in.firing_kWh.size() - 1)});
    hours.push_back({"Hang", 0.5});
    return hours;
}

} // namespace

CostAnswer cost_answer(CostSpec const& spec, CostInput const& input) {
    constexpr double kHandsDiffer = 1.0 / 3;
    CostAnswer a;
    a.hours = hours_of(spec, input);
    for (StageHours const& h : a.hours) a.hours_total += h.hours;
    double const kWh = std::accumulate(input.firing_kWh.begin(), input.firing_kWh.end(), 0.0);
    double const work = a.hours_total * spec.hour_rate;
    a.clay = input.knead_g * (spec.clay_per_kg / 1000);
    a.firing = Figure{kWh, kWh, kWh, FigureFrom::by_default} * spec.kWh_price;
    a.finish = input.finish_g * (input.finish_per_kg / 1000);
    a.labour = {work, work * (1 - kHandsDiffer), work * (1 + kHandsDiffer), FigureFrom::by_default};
    Figure const parts = a.clay + a.firing + a.finish + a.labour;
    a.overhead = parts * spec.overhead_share;
    a.total = parts + a.overhead;
    a.price = a.total * spec.price_factor;
    return a;
}

} // namespace leafwright
