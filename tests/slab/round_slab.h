// A twin for round formers, by its own road: one unknown a ring, energy of each ring by plain formulas, derivatives by
// differences. Shares no code with src/slab.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <vector>

namespace twin {

// W of log strains e1 >= e2, cap at delta, weaker slope eta beyond.
inline double strain_energy(double e1, double e2, double delta, double eta) {
    auto const capped = [&](double e, double c) {
        return e > -c ? e * e : c * c - 2 * c * (e + c) + eta * (e + c) * (e + c);
    };
    return 0.75 * capped(e1, 2 * delta / 3) + capped(e2 + e1 / 2, delta);
}

struct RoundSlab {
    std::vector<double> flat_radius; // at equal steps of the meridian, the crown first
    double energy = 0;
};

// radius(s): distance from the axis at length s along the meridian, which is `length` long.
inline RoundSlab solve_round(std::function<double(double)> const& radius, double length, double delta, double eta,
                             int rings = 1500) {
    double const ds = length / rings;
    auto const ring = [&](int i, double a, double b) {
        double const laid = radius((i + 0.5) * ds), along = std::log(ds / (b - a)),
                     round = std::log(laid / ((a + b) / 2));
        double const flat_area = 3.14159265358979323846 * (b * b - a * a);
        return flat_area * strain_energy(std::max(along, round), std::min(along, round), delta, eta);
    };
    auto const total = [&](std::vector<double> const& r) {
        double sum = 0;
        for (int i = 0; i < rings; ++i) {
            if (r[std::size_t(i) + 1] <= r[std::size_t(i)]) return 1e300;
            sum += ring(i, r[std::size_t(i)], r[std::size_t(i) + 1]);
        }
        return sum;
    };
    std::vector<double> r(std::size_t(rings) + 1);
    for (std::size_t i = 0; i < r.size(); ++i) r[i] = double(i) * ds;
    double const h = 1e-4 * ds;
    for (int step = 0; step < 100; ++step) {
        std::vector<double> force(r.size(), 0), main(r.size(), 1e-9), off(r.size(), 0);
        for (int i = 0; i < rings; ++i) {
            auto const k = std::size_t(i);
            double const a = r[k], b = r[k + 1], f = ring(i, a, b);
            double const ap = ring(i, a + h, b), am = ring(i, a - h, b), bp = ring(i, a, b + h), bm = ring(i, a, b - h);
            double const pp = ring(i, a + h, b + h), mm = ring(i, a - h, b - h);
            double aa = (ap + am - 2 * f) / (h * h), bb = (bp + bm - 2 * f) / (h * h);
            double ab = (pp + mm - 2 * f) / (2 * h * h) - 0.5 * (aa + bb);
            // Negative curvature left out.
            double const mean = (aa + bb) / 2, root = std::hypot((aa - bb) / 2, ab);
            if (mean < root) {
                double const high = std::max(0.0, mean + root), c = root > 0 ? (aa - bb) / 2 / root : 1;
                double const s = root > 0 ? ab / root : 0;
                aa = high * (1 + c) / 2, bb = high * (1 - c) / 2, ab = high * s / 2;
            }
            force[k] += (ap - am) / (2 * h), force[k + 1] += (bp - bm) / (2 * h);
            main[k] += aa, main[k + 1] += bb, off[k] += ab;
        }
        main[0] = 1e30; // the crown stays
        std::vector<double> d(r.size()), way(r.size());
        double carry = 0;
        for (std::size_t i = 0; i < r.size(); ++i) { // tridiagonal elimination
            double const m = i > 0 ? off[i - 1] / d[i - 1] : 0;
            d[i] = main[i] - (i > 0 ? m * off[i - 1] : 0);
            way[i] = carry = -force[i] - (i > 0 ? m * carry : 0);
        }
        for (std::size_t i = r.size(); i-- > 0;)
            way[i] = (way[i] - (i + 1 < r.size() ? off[i] * way[i + 1] : 0)) / d[i];
        double const before = total(r);
        double share = 1, furthest = 0;
        std::vector<double> tried = r;
        for (; share > 1e-6; share /= 2) {
            for (std::size_t i = 0; i < r.size(); ++i) tried[i] = r[i] + share * way[i];
            if (total(tried) <= before) break;
        }
        for (double w : way) furthest = std::max(furthest, std::abs(w));
        if (share > 1e-6) r = tried;
        if (furthest < 1e-6 || share <= 1e-6) break;
    }
    return {r, total(r)};
}

} // namespace twin
