#include "range/load_bound.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leafwright {

namespace {

constexpr double kHair = 1e-9;

struct Big {
    double height = 0;
    double radius = 0;
    int kind = 0;
};

} // namespace

int least_bins(std::vector<double> weights, double capacity) {
    std::ranges::sort(weights, std::greater<>());
    int least = 0;
    std::vector<double> limits = {0};
    for (double w : weights)
        if (w <= capacity / 2) limits.push_back(w);
    for (double limit : limits) {
        int large = 0, half = 0;
        double half_sum = 0, small_sum = 0;
        for (double w : weights) {
            if (w > capacity - limit)
                ++large;
            else if (w > capacity / 2)
                ++half, half_sum += w;
            else if (w >= limit)
                small_sum += w;
        }
        double const over = (small_sum - (half * capacity - half_sum)) / capacity;
        least = std::max(least, large + half + std::max(0, static_cast<int>(std::ceil(over - kHair))));
    }
    return least;
}

LoadBound least_loads(ShelfSpec const& shelves, ShelfFit const& fit, std::vector<LoadPiece> const& pieces,
                      std::vector<int> const& kinds) {
    double const gap = shelves.post_gap_mm + shelves.shelf_thickness_mm;
    double const capacity = fit.room_height_mm() + gap;
    double volume = 0;
    std::vector<Big> all;
    for (int kind : kinds) {
        Stance const& stance = fit.stances()[static_cast<std::size_t>(kind)];
        Big const big{stance.height_mm + gap, stance.radius_mm, kind};
        for (int i = 0; i < pieces[static_cast<std::size_t>(kind)].copies; ++i) all.push_back(big);
        volume += pieces[static_cast<std::size_t>(kind)].copies * stance.area_mm2 * big.height;
    }
    if (all.empty()) return {};
    int const by_volume = std::max(1, static_cast<int>(std::ceil(volume / (fit.floor_mm2() * capacity) - kHair)));
    // Pieces of which no two share a shelf: each asks for a shelf of its own.
    std::ranges::stable_sort(all, std::greater<>(), &Big::radius);
    std::vector<Big> apart;
    for (Big const& big : all)
        if (std::ranges::all_of(apart, [&](Big const& b) { return fit.never_together(big.kind, b.kind); }))
            apart.push_back(big);
    std::vector<double> heights;
    for (Big const& big : apart) heights.push_back(big.height);
    int const by_shelves = least_bins(heights, capacity);
    if (by_shelves > by_volume)
        return {by_shelves, "no two of the large pieces have room on one shelf, and so many shelves are too high"};
    return {by_volume, by_volume == 1 ? "one is needed in any case" : "area times height of all pieces needs so many"};
}

} // namespace leafwright
