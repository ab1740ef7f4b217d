#include "leaf/vein_growth.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kMidribShare = 0.04; // root width, share of the geometric mean of length and width

} // namespace

std::vector<Vein> grown_veins(Polygon const& outline, std::span<Vec2 const> midrib, double, VeinPattern pattern,
                              std::uint64_t) {
    if (pattern == VeinPattern::none || midrib.size() < 2) return {};
    Vec2 const size = bounds(outline.outer).size();
    double const root = kMidribShare * std::sqrt(size.x * size.y);
    return {Vein{{midrib.begin(), midrib.end()}, root, 0.2 * root, 1}};
}

} // namespace leafwright
