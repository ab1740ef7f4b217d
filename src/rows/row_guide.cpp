#include "rows/row_guide.h"

#include "base/units.h"

#include <cmath>
#include <map>

namespace leafwright {

namespace {

constexpr double kBreadth_rad = 0.22;
constexpr double kFar = 1e-9; // weight of leaves all round, where none is near

} // namespace

double RowGuide::from_crown_mm(double azimuth_rad) const {
    double sum = 0;
    double weight = 0;
    for (Spot const& spot : middles_) {
        double const apart = std::remainder(spot.azimuth_rad - azimuth_rad, kTwoPi) / kBreadth_rad;
        double const w = std::exp(-apart * apart) + kFar;
        sum += w * spot.from_crown_mm;
        weight += w;
    }
    return sum / weight;
}

std::vector<RowGuide> row_guides(std::span<LeafPlacement const> leaves) {
    std::map<int, std::vector<Spot>> rows;
    for (LeafPlacement const& leaf : leaves) rows[leaf.row].push_back({radians(leaf.azimuth_deg), leaf.from_crown_mm});
    std::vector<RowGuide> guides;
    for (auto& [row, middles] : rows)
        if (middles.size() > 2) guides.emplace_back(row, std::move(middles));
    return guides;
}

RowPlace row_place(std::span<RowGuide const> guides, Spot const& spot, double reach_mm) {
    RowPlace best;
    for (RowGuide const& guide : guides) {
        double const at = guide.from_crown_mm(spot.azimuth_rad);
        double const apart = std::abs(at - spot.from_crown_mm);
        if (apart > reach_mm) continue;
        reach_mm = apart;
        best = {guide.row(), {spot.azimuth_rad, at}};
    }
    return best;
}

} // namespace leafwright
