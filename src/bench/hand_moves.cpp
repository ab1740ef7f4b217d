#include "bench/hand_moves.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

double wrapped_deg(double angle, double low) {
    double const turned = std::fmod(angle - low, 360.0);
    return (turned < 0 ? turned + 360.0 : turned) + low;
}

Spot within_reach(ClaySurface const& surface, Spot spot) {
    double const most = surface.rim_from_crown_mm(spot.azimuth_rad) + kBeyondRimMost_mm;
    spot.from_crown_mm = std::clamp(spot.from_crown_mm, 0.0, most);
    return spot;
}

template <class Placed> Placed moved_to(ClaySurface const& surface, Placed placed, Spot const& spot) {
    Spot const kept = within_reach(surface, spot);
    placed.azimuth_deg = wrapped_deg(degrees(kept.azimuth_rad), 0);
    placed.from_crown_mm = kept.from_crown_mm;
    return placed;
}

} // namespace

Spot spot_of(LeafPlacement const& leaf) { return {radians(leaf.azimuth_deg), leaf.from_crown_mm}; }
Spot spot_of(Feature const& feature) { return {radians(feature.azimuth_deg), feature.from_crown_mm}; }

LeafPlacement placed_at(ClaySurface const& surface, LeafPlacement leaf, Spot const& spot) {
    return moved_to(surface, std::move(leaf), spot);
}

Feature placed_at(ClaySurface const& surface, Feature feature, Spot const& spot) {
    return moved_to(surface, feature, spot);
}

std::vector<LeafPlacement> dragged(ClaySurface const& surface, std::span<LeafPlacement const> leaves, Spot const& from,
                                   Spot const& to) {
    std::vector<LeafPlacement> moved;
    if (leaves.size() == 1) {
        Vec2 const step = surface.to_chart(to) - surface.to_chart(from);
        moved.push_back(nudged(surface, leaves[0], step));
        return moved;
    }
    for (LeafPlacement const& leaf : leaves) {
        Spot spot = spot_of(leaf);
        spot.azimuth_rad += to.azimuth_rad - from.azimuth_rad;
        spot.from_crown_mm += to.from_crown_mm - from.from_crown_mm;
        moved.push_back(placed_at(surface, leaf, spot));
    }
    return moved;
}

LeafPlacement nudged(ClaySurface const& surface, LeafPlacement const& leaf, Vec2 const& step_mm) {
    if (step_mm == Vec2(0, 0)) return leaf;
    return placed_at(surface, leaf, surface.from_chart(surface.to_chart(spot_of(leaf)) + step_mm));
}

LeafPlacement turned_by(LeafPlacement leaf, double turn_deg) {
    leaf.turn_deg = -wrapped_deg(-(leaf.turn_deg + turn_deg), -180.0);
    return leaf;
}

LeafPlacement sized_by(LeafPlacement leaf, double factor) {
    leaf.scale = std::clamp(leaf.scale * factor, 0.3, 3.0);
    return leaf;
}

double angle_about_deg(ClaySurface const& surface, LeafPlacement const& leaf, Spot const& spot) {
    Vec2 const arm = surface.to_chart(spot) - surface.to_chart(spot_of(leaf));
    return degrees(std::atan2(arm.y, arm.x));
}

double distance_from_mm(ClaySurface const& surface, LeafPlacement const& leaf, Spot const& spot) {
    return glm::length(surface.to_chart(spot) - surface.to_chart(spot_of(leaf)));
}

int row_near(ClaySurface const& surface, std::span<LeafPlacement const> leaves, Spot const& spot) {
    Vec2 const here = surface.to_chart(spot);
    int row = 1;
    double nearest = 1e300;
    for (LeafPlacement const& leaf : leaves) {
        double const distance = glm::length(surface.to_chart(spot_of(leaf)) - here);
        if (distance < nearest) {
            nearest = distance;
            row = leaf.row;
        }
    }
    return row;
}

std::vector<LeafPlacement> leaves_of(Piece const& piece, std::span<int const> ids) {
    std::vector<LeafPlacement> found;
    for (LeafPlacement const& leaf : piece.leaves)
        if (std::find(ids.begin(), ids.end(), leaf.id) != ids.end()) found.push_back(leaf);
    return found;
}

LeafPlacement const* leaf_of(Piece const& piece, int id) {
    for (LeafPlacement const& leaf : piece.leaves)
        if (leaf.id == id) return &leaf;
    return nullptr;
}

} // namespace leafwright
