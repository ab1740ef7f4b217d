// Gauss-Legendre quadrature over panels.
#pragma once

#include <vector>

namespace leafwright {

struct GaussRule {
    std::vector<double> node;   // on (-1, 1)
    std::vector<double> weight; // sum 2
};

// The rule of `points` points, exact for polynomials of degree 2 points - 1; roots of the Legendre polynomial by
// Newton's method (any numerical analysis text).
GaussRule gauss_rule(int points);

// Ascending edges, each gap between neighbours cut into equal parts no wider than `widest`.
std::vector<double> split_panels(std::vector<double> const& edges, double widest);

template <class Function>
double integrate(GaussRule const& rule, std::vector<double> const& edges, Function const& function) {
    double sum = 0;
    for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
        double const half = 0.5 * (edges[i + 1] - edges[i]);
        double const middle = 0.5 * (edges[i + 1] + edges[i]);
        for (std::size_t k = 0; k < rule.node.size(); ++k)
            sum += half * rule.weight[k] * function(middle + half * rule.node[k]);
    }
    return sum;
}

} // namespace leafwright
