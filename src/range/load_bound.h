// Loads that no filling can do without. Internal to the room.
#pragma once

#include "range/shelf_fit.h"

namespace leafwright {

// Least number of bins of that capacity for these weights (Martello and Toth 1990, L2): exact where all are above half.
int least_bins(std::vector<double> weights, double capacity);

struct LoadBound {
    int least = 0;
    std::string by; // a sentence without full stop
};
// As if all these kinds might share a load.
LoadBound least_loads(ShelfSpec const& shelves, ShelfFit const& fit, std::vector<LoadPiece> const& pieces,
                      std::vector<int> const& kinds);

} // namespace leafwright
