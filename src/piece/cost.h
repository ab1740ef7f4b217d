// Cost and hours. Prices and times are the maker's to change; the defaults are common practice, no source, and without
// a currency.
#pragma once

#include "base/figure.h"

#include <string>
#include <vector>

namespace leafwright {

struct CostSpec {
    std::string currency;     // at most 8 letters, for show
    double clay_per_kg = 1.2; // plastic
    double kWh_price = 0.3;
    double oxide_per_kg = 20; // dry
    double glaze_per_kg = 8;
    double cold_per_kg = 15;
    double hour_rate = 20;
    double minutes_per_leaf = 0; // 0: the first row of leaves takes about an hour
    double minutes_per_feature = 20;
    double overhead_share = 0.15; // on everything: rent, tools, losses
    double price_factor = 1.5;    // the maker's rule: price = total x factor
    bool operator==(CostSpec const&) const = default;
};

// What the costs are reckoned from.
struct CostInput {
    Figure knead_g;
    int leaves = 0;
    int first_row_leaves = 0;
    int features = 0;
    double drying_days = 0;
    std::vector<double> firing_kWh; // this piece's share of each
    Figure finish_g;
    double finish_per_kg = 0;
    double finish_m2 = 0;
    int finish_layers = 0;
};

struct StageHours {
    std::string stage; // as on the making line
    double hours = 0;  // of the maker's hands
};

struct CostAnswer {
    std::vector<StageHours> hours;
    double hours_total = 0;
    Figure clay;
    Figure firing;
    Figure finish;
    Figure labour; // a third more or less: hands differ
    Figure overhead;
    Figure total; // the sum of all these
    Figure price;
};
CostAnswer cost_answer(CostSpec const& spec, CostInput const& input);

} // namespace leafwright
