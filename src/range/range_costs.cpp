// What each piece costs when the kiln is shared, and what that saves.
#include "range/range_parts.h"

#include <algorithm>

namespace leafwright {

namespace {

// The same with another firing: overhead, total and price follow (as cost_answer()).
CostAnswer with_firing(CostAnswer cost, CostSpec const& prices, double kWh) {
    cost.firing = Figure{kWh, kWh, kWh, FigureFrom::by_default} * prices.kWh_price;
    Figure const parts = cost.clay + cost.firing + cost.finish + cost.labour;
    cost.overhead = parts * prices.overhead_share;
    cost.total = parts + cost.overhead;
    cost.price = cost.total * prices.price_factor;
    return cost;
}

double mass_when(RangeEntry const& entry, int firing) {
    return entry.plan->stages[static_cast<std::size_t>(firing == 0 ? Stage::bone_dry : Stage::first_firing)]
        .mass_g.value;
}

// Of all loads, by mass, the mean of the copies.
double shared_kWh(RangePlan const& plan, std::size_t e) {
    double kWh = 0;
    for (KilnLoad const& load : plan.loads)
        if (load.mass_g > 0) kWh += load.kWh * load.of_kind[e] * mass_when(plan.entries[e], load.firing) / load.mass_g;
    return kWh / plan.entries[e].copies;
}

Figure minus(Figure const& a, Figure const& b) { return {a.value - b.value, a.low - b.low, a.high - b.high, a.from}; }

void add(Figure& sum, Figure const& one, int copies) { sum = sum == Figure{} ? one * copies : sum + one * copies; }

} // namespace

void plan_costs(RangePlan& plan) {
    RangeCosts& all = plan.costs;
    all.currency = plan.entries.front().plan->piece.cost.currency;
    for (std::size_t e = 0; e < plan.entries.size(); ++e) {
        RangeEntry& entry = plan.entries[e];
        CostSpec const& prices = entry.plan->piece.cost;
        double alone = 0;
        for (FiringAnswer const& fired : entry.second->firings) alone += fired.kWh;
        entry.kWh = shared_kWh(plan, e);
        entry.firing_alone = Figure{alone, alone, alone, FigureFrom::by_default} * prices.kWh_price;
        entry.cost = with_firing(entry.second->cost, prices, entry.kWh);
        add(all.clay, entry.cost.clay, entry.copies);
        add(all.firing, entry.cost.firing, entry.copies);
        add(all.finish, entry.cost.finish, entry.copies);
        add(all.labour, entry.cost.labour, entry.copies);
        add(all.overhead, entry.cost.overhead, entry.copies);
        add(all.total, entry.cost.total, entry.copies);
        add(all.price, entry.cost.price, entry.copies);
        bool const fired = entry.kWh > 0; // a piece that goes into no load saves nothing
        if (fired)
            add(all.saving, minus(entry.firing_alone, entry.cost.firing) * (1 + prices.overhead_share), entry.copies);
        all.hours += entry.copies * entry.cost.hours_total;
        all.kWh += entry.copies * entry.kWh;
        if (prices.currency != all.currency)
            plan.warnings.push_back({"cost.currency", entry.name,
                                     "It is priced in another currency than the first piece; the sums mix them.",
                                     "Give the range one \"cost\" of its own.", false});
    }
}

} // namespace leafwright
