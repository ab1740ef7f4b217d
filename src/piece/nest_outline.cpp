// Outlines for the nesting: a leaf's teeth would make a hundred convex parts of it, and nothing fits between them.
#include "cutting/outward.h"
#include "piece/cutting_sizes.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kToothShare = 0.048; // of the root of the area: how deep a notch may be to be filled
constexpr double kRestShare = 0.010;  // how far the outline may be moved outward besides
constexpr std::size_t kLongestNotch = 60;
constexpr int kPasses = 3; // teeth stand on teeth

// Whether a straight cut from one point to a later one leaves all between on its inner side, and no deeper than that.
bool fills_notch(Ring const& ring, std::size_t from, std::size_t steps, double depth_mm) {
    std::size_t const n = ring.size();
    Vec2 const a = ring[from % n], d = ring[(from + steps) % n] - a;
    double const length = glm::length(d);
    if (length <= 0) return false;
    for (std::size_t k = 1; k < steps; ++k) {
        double const inward = cross(d, ring[(from + k) % n] - a) / length;
        if (inward < -1e-9 || inward > depth_mm) return false;
    }
    return true;
}

// Begins at the highest point, which no notch holds.
Ring filled(Ring const& ring, double depth_mm) {
    std::size_t const n = ring.size();
    auto const start =
        static_cast<std::size_t>(std::ranges::max_element(ring, {}, [](Vec2 const& p) { return p.y; }) - ring.begin());
    Ring out;
    for (std::size_t at = 0; at < n;) {
        out.push_back(ring[(start + at) % n]);
        std::size_t steps = std::min(kLongestNotch, n - at);
        while (steps > 1 && !fills_notch(ring, start + at, steps, depth_mm)) --steps;
        at += steps;
    }
    return out;
}

} // namespace

Polygon nest_outline(CutItem const& item) {
    Polygon outline = cleaned(item.outline_mm);
    double const size = std::sqrt(item.area_mm2);
    if (item.kind == CutKind::leaf)
        for (int pass = 0; pass < kPasses; ++pass) outline.outer = filled(outline.outer, kToothShare * size);
    double const move = item.kind == CutKind::leaf ? kRestShare * size : std::min(0.1, 0.001 * size);
    Polygon simple = simplified_outward(cleaned(outline), move);
    return is_simple(simple.outer) ? simple : item.outline_mm;
}

} // namespace leafwright
