#include "leaf/leaf_margin.h"

#include "leaf/segment.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leafwright {

namespace {

using Points = std::vector<Vec2>;

constexpr int kSidePoints = 600;
constexpr double kLobe = 0.25;    // of the way to the midrib
constexpr double kSmooth = 0.05;  // of a side: what teeth stand out from is smooth over that
constexpr double kLowest = 0.006; // of the leaf's length
constexpr double kForward = 1.4;  // the flank toward the base so many times the other: toward the tip
constexpr double kRounded = 1.22; // the tooth so many times its triangle
constexpr int kLeastTeeth = 3;    // to a side

// Both sides from the base to the tip.
std::array<Points, 2> sides_of(OwnLeaf const& leaf) {
    Ring const& ring = leaf.outline_mm.outer;
    auto const nearest = [&](Vec2 const& p) {
        return static_cast<std::size_t>(
            std::ranges::min_element(ring, {}, [&](Vec2 const& q) { return glm::length(q - p); }) - ring.begin());
    };
    std::size_t const base = nearest({0, leaf.stalk_mm});
    std::size_t const tip = nearest(leaf.tip_mm());
    std::array<Points, 2> sides;
    if (base == tip) return sides;
    std::size_t const n = ring.size();
    for (std::size_t k = base;; k = (k + 1) % n) {
        sides[0].push_back(ring[k]);
        if (k == tip) break;
    }
    for (std::size_t k = base;; k = (k + n - 1) % n) {
        sides[1].push_back(ring[k]);
        if (k == tip) break;
    }
    for (Points& side : sides) side = evenly_spaced(side, length_along(side) / kSidePoints);
    return sides;
}

// Places of peaks and valleys by turns, each standing out from the next by at least `rise`.
std::vector<std::size_t> turning_points(std::vector<double> const& heights, double rise) {
    std::vector<std::size_t> turns{0};
    bool up = true;
    std::size_t best = 0;
    for (std::size_t k = 1; k < heights.size(); ++k) {
        double const here = heights[k];
        if (up ? here > heights[best] : here < heights[best]) best = k;
        if (up ? heights[best] - here > rise : here - heights[best] > rise) {
            turns.push_back(best);
            up = !up;
            best = k;
        }
    }
    turns.push_back(heights.size() - 1);
    return turns; // the second is a peak, then a valley, ...
}

bool is_lobed(Points const& side) {
    std::vector<double> aside;
    for (Vec2 const& p : side) aside.push_back(std::abs(p.x));
    double const most = *std::ranges::max_element(aside);
    std::vector<std::size_t> const turns = turning_points(aside, 0.1 * most);
    for (std::size_t k = 2; k + 1 < turns.size(); k += 2) {
        double const peak = std::min(aside[turns[k - 1]], aside[turns[k + 1]]);
        if (peak > 0.2 * most && peak - aside[turns[k]] > kLobe * peak) return true;
    }
    return false;
}

struct Teeth {
    std::vector<double> forward;  // flank toward the base over the other
    std::vector<double> fullness; // area over that of the triangle
};

void find_teeth(Points const& side, double length_mm, Teeth& teeth) {
    auto const n = static_cast<int>(side.size());
    int const reach = static_cast<int>(kSmooth * n);
    std::vector<double> heights;
    double const out = side[side.size() / 2].x < 0 ? 1 : -1; // which way is off the leaf, walking to the tip
    for (int k = 0; k < n; ++k) {
        int const half = std::min({reach, k, n - 1 - k});
        Vec2 mean{0, 0};
        for (int j = k - half; j <= k + half; ++j) mean += side[static_cast<std::size_t>(j)];
        mean /= 2 * half + 1;
        Vec2 const way = side[static_cast<std::size_t>(std::min(n - 1, k + std::max(1, half)))] -
                         side[static_cast<std::size_t>(std::max(0, k - std::max(1, half)))];
        double const long_way = glm::length(way);
        Vec2 const outward = long_way > 0 ? out * Vec2{-way.y, way.x} / long_way : Vec2{0, 0};
        heights.push_back(glm::dot(side[static_cast<std::size_t>(k)] - mean, outward));
    }
    std::vector<std::size_t> const turns = turning_points(heights, kLowest * length_mm);
    double const step = length_along(side) / n;
    for (std::size_t k = 3; k + 1 < turns.size(); k += 2) { // whole teeth: between two valleys
        std::size_t const low = turns[k - 1];
        std::size_t const peak = turns[k];
        std::size_t const high = turns[k + 1];
        if (peak <= low || high <= peak || k + 2 >= turns.size()) continue;
        Ring const tooth(side.begin() + static_cast<std::ptrdiff_t>(low),
                         side.begin() + static_cast<std::ptrdiff_t>(high) + 1);
        double const triangle = 0.5 * std::abs(cross(side[peak] - side[low], side[high] - side[low]));
        if (triangle < 0.1 * step * step) continue;
        teeth.forward.push_back(static_cast<double>(peak - low) / static_cast<double>(high - peak));
        teeth.fullness.push_back(std::abs(signed_area(tooth)) / triangle);
    }
}

double middle_of(std::vector<double> values) {
    auto const at = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

} // namespace

LeafMargin margin_of(OwnLeaf const& leaf) {
    std::array<Points, 2> const sides = sides_of(leaf);
    if (sides[0].size() < 20 || sides[1].size() < 20) return {"entire", 0};
    if (is_lobed(sides[0]) || is_lobed(sides[1])) return {"lobed", 0};
    Teeth teeth;
    for (Points const& side : sides) find_teeth(side, length_mm(leaf), teeth);
    if (teeth.forward.size() < 2 * kLeastTeeth) return {"entire", 0};
    LeafMargin margin{"dentate", static_cast<int>(teeth.forward.size())};
    if (middle_of(teeth.fullness) > kRounded)
        margin.word = "crenate";
    else if (middle_of(teeth.forward) > kForward)
        margin.word = "serrate";
    return margin;
}

} // namespace leafwright
