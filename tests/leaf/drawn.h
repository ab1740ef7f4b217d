// Leaves and measures for the tests of this room. Measures are taken from the drawn points only.
#pragma once

#include "base/assets.h"
#include "leaf/leaf_shape.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

namespace leafwright {

inline LeafShape drawn(std::string_view name, double length_mm = 80) {
    Outcome<LeafShape> leaf = draw_leaf(name, length_mm);
    REQUIRE(leaf.ok());
    return std::move(leaf).value();
}

// The form file, read here by itself.
inline nlohmann::json form_file(std::string const& name) {
    return nlohmann::json::parse(asset_text("assets/leaves/" + name + ".json"));
}

inline double shape_factor(LeafShape const& leaf) { return area(leaf.outline_mm) / (leaf.length_mm * leaf.width_mm); }

inline double distance_to_edge(Ring const& ring, Vec2 const& p) {
    double best = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const edge = ring[(i + 1) % ring.size()] - ring[i];
        double const t = std::clamp(glm::dot(p - ring[i], edge) / glm::dot(edge, edge), 0.0, 1.0);
        best = std::min(best, glm::length(p - ring[i] - t * edge));
    }
    return best;
}

// How many peaks of a closed row of values stand out by at least `prominence` on both sides.
inline int prominent_peaks(std::vector<double> const& values, double prominence) {
    std::size_t const n = values.size();
    std::size_t const start = static_cast<std::size_t>(std::ranges::min_element(values) - values.begin());
    int peaks = 0;
    double low = values[start];
    double high = low;
    bool rising = true;
    for (std::size_t k = 1; k <= n; ++k) {
        double const v = values[(start + k) % n];
        if (rising) {
            high = std::max(high, v);
            if (high - low >= prominence && high - v >= prominence) ++peaks, rising = false, low = v;
            low = std::min(low, v);
        } else {
            low = std::min(low, v);
            if (v - low >= prominence) rising = true, high = v;
        }
    }
    return peaks;
}

// Outward corners of the ring that turn by more than that, the tip and the stalk left out.
inline int sharp_corners(LeafShape const& leaf, double least_turn_deg) {
    Ring const& ring = leaf.outline_mm.outer;
    int corners = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const in = ring[i] - ring[(i + ring.size() - 1) % ring.size()];
        Vec2 const out = ring[(i + 1) % ring.size()] - ring[i];
        double const turn = std::atan2(cross(in, out), glm::dot(in, out)) * 57.29577951308232;
        bool const end = std::abs(ring[i].x) < 0.01 * leaf.length_mm;
        if (turn > least_turn_deg && !end) ++corners;
    }
    return corners;
}

// Height of the widest place, share of the length: mean of both sides.
inline double widest_place(LeafShape const& leaf) {
    Ring const& ring = leaf.outline_mm.outer;
    auto const [left, right] = std::ranges::minmax_element(ring, {}, [](Vec2 const& p) { return p.x; });
    return 0.5 * (left->y + right->y) / leaf.length_mm;
}

} // namespace leafwright
