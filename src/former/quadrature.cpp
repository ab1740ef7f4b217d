#include "former/quadrature.h"

#include "base/units.h"

#include <cmath>

namespace leafwright {

namespace {

struct LegendreJet {
    double value;
    double slope;
};

LegendreJet legendre(int degree, double x) {
    double before = 1, now = x;
    for (int k = 2; k <= degree; ++k) {
        double const next = ((2 * k - 1) * x * now - (k - 1) * before) / k;
        before = now;
        now = next;
    }
    return {now, degree * (x * now - before) / (x * x - 1)};
}

} // namespace

GaussRule gauss_rule(int points) {
    GaussRule rule;
    for (int i = 0; i < points; ++i) {
        double x = -std::cos(kPi * (i + 0.75) / (points + 0.5));
        for (int step = 0; step < 8; ++step) {
            LegendreJet const jet = legendre(points, x);
            x -= jet.value / jet.slope;
        }
        double const slope = legendre(points, x).slope;
        rule.node.push_back(x);
        rule.weight.push_back(2 / ((1 - x * x) * slope * slope));
    }
    return rule;
}

std::vector<double> split_panels(std::vector<double> const& edges, double widest) {
    std::vector<double> fine{edges.front()};
    for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
        double const width = edges[i + 1] - edges[i];
        int const parts = std::max(1, static_cast<int>(std::ceil(width / widest - 1e-9)));
        for (int k = 1; k < parts; ++k) fine.push_back(edges[i] + width * k / parts);
        fine.push_back(edges[i + 1]);
    }
    return fine;
}

} // namespace leafwright
