// Linear programs with a few hundred unknowns and sparse rows, by a primal-dual interior point method with Mehrotra's
// predictor and corrector (S. Mehrotra, SIAM J. Optim. 2, 1992).
#pragma once

#include <array>
#include <vector>

namespace leafwright {

// sum of value[k] * x[at[k]] >= bound
struct LinearRow {
    std::array<int, 5> at{};
    std::array<double, 5> value{};
    int count = 0;
    double bound = 0;

    void add(int index, double v) {
        at[static_cast<std::size_t>(count)] = index;
        value[static_cast<std::size_t>(count++)] = v;
    }
};

struct LinearAnswer {
    std::vector<double> x;
    double least_slack = 0; // of all rows at x: negative by what the worst row is broken
    int steps = 0;
};

// Minimises x[goal] over all x, which are free. Values should be near 1. Accuracy about 1e-11 when the program has an
// answer; when it has none, least_slack tells. Cost: some 20 factorisations of a matrix of the unknowns' number.
LinearAnswer minimised(int unknowns, int goal, std::vector<LinearRow> const& rows);

} // namespace leafwright
