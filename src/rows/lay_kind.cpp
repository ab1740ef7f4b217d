#include "rows/lay_kind.h"

#include "rows/lay_grid.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kHeights = 80;
constexpr double kSimplify_mm = 0.2;
constexpr double kRoughly_mm = 0.6;
constexpr double kFullWidth = 0.97; // this share of the greatest width counts as the greatest

std::vector<double> widths_of(LeafPattern const& pattern) {
    std::vector<double> widths;
    widths.reserve(kHeights);
    for (int k = 0; k < kHeights; ++k)
        widths.push_back(width_at(pattern.shape.outline_mm.outer, (k + 0.5) / kHeights * pattern.shape.length_mm));
    return widths;
}

// A hole grown by as much as the outline is shrunk, turned clockwise.
Ring grown_hole(Ring hole, double by_mm) {
    if (signed_area(hole) > 0) std::reverse(hole.begin(), hole.end());
    Vec2 const middle = centroid(hole);
    for (Vec2& p : hole) {
        double const out = glm::length(p - middle);
        if (out > 0) p += by_mm / out * (p - middle);
    }
    return hole;
}

// The hole joined to the ring by a cut there and back at their nearest corners, so that one ring tells both.
void join_hole(Ring& ring, Ring const& hole) {
    double least = 1e300;
    std::size_t at = 0;
    std::size_t from = 0;
    for (std::size_t i = 0; i < ring.size(); ++i)
        for (std::size_t k = 0; k < hole.size(); ++k)
            if (double const away = glm::length(ring[i] - hole[k]); away < least) least = away, at = i, from = k;
    Ring cut;
    for (std::size_t k = 0; k <= hole.size(); ++k) cut.push_back(hole[(from + k) % hole.size()]);
    cut.push_back(ring[at]);
    ring.insert(ring.begin() + static_cast<std::ptrdiff_t>(at) + 1, cut.begin(), cut.end());
}

LeafMask mask_of(Ring const& ring) {
    LeafMask mask;
    double const cell = 1.0 / LeafMask::kPerMm;
    CoverGrid const grid(bounds(ring), cell);
    mask.low = bounds(ring).low;
    mask.columns = grid.columns();
    mask.rows = grid.rows();
    mask.cells.assign(static_cast<std::size_t>(mask.columns) * static_cast<std::size_t>(mask.rows), 0);
    Spans spans;
    grid.scan(ring, spans);
    for (Span const& span : spans)
        for (int column = span.begin; column < span.end; ++column)
            mask.cells[static_cast<std::size_t>(span.row * mask.columns + column)] = 1;
    return mask;
}

constexpr double kSamples = 64;

void take_samples(LayKind& kind) {
    double const step = std::sqrt(std::max(1.0, signed_area(kind.solid)) / kSamples);
    Box2 const box = bounds(kind.solid);
    for (double y = box.low.y + 0.5 * step; y < box.high.y; y += step)
        for (double x = box.low.x + 0.5 * step; x < box.high.x; x += step)
            if (contains(kind.solid, {x, y})) kind.samples.push_back({x, y});
}

} // namespace

double width_at(std::span<Vec2 const> outline, double y) {
    double left = -1e300;
    double right = 1e300;
    int crossings_right = 0;
    Vec2 a = outline.back();
    for (Vec2 const& b : outline) {
        if ((a.y > y) != (b.y > y)) {
            double const x = a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
            if (x > 0) {
                right = std::min(right, x);
                ++crossings_right;
            } else {
                left = std::max(left, x);
            }
        }
        a = b;
    }
    return crossings_right % 2 == 1 ? right - left : 0.0;
}

LayKind prepare_kind(LeafPattern const& pattern, double inset_mm) {
    LayKind kind;
    kind.pattern = &pattern;
    kind.length_mm = pattern.shape.length_mm;
    Ring const outline = counter_clockwise(pattern.shape.outline_mm.outer);
    kind.solid = simplified(inset(simplified(outline, 0.5 * kSimplify_mm), inset_mm + kSimplify_mm), kSimplify_mm);
    for (Ring const& hole : pattern.shape.outline_mm.holes)
        if (hole.size() >= 3 && kind.solid.size() >= 3)
            join_hole(kind.solid, grown_hole(simplified(hole, kSimplify_mm), inset_mm + kSimplify_mm));
    for (Vec2& p : kind.solid) p.y -= 0.5 * kind.length_mm;
    kind.rough = simplified(kind.solid, kRoughly_mm);
    kind.mask = mask_of(kind.solid);
    take_samples(kind);
    kind.ends = {{0, -0.5 * kind.length_mm}, {0, -0.46 * kind.length_mm}, {0, 0.5 * kind.length_mm}};
    for (Vec2 const& p : outline)
        kind.reach_mm = std::max(kind.reach_mm, glm::length(p - Vec2{0, 0.5 * kind.length_mm}));
    Box2 const box = bounds(outline);
    kind.width_mm = box.size().x;

    std::vector<double> const widths = widths_of(pattern);
    double const widest = *std::max_element(widths.begin(), widths.end());
    kind.lap_line_mm = 0.5 * kind.length_mm;
    for (int k = 0; k < kHeights; ++k)
        if (widths[static_cast<std::size_t>(k)] >= kFullWidth * widest)
            kind.lap_line_mm = (k + 1.0) / kHeights * kind.length_mm;
    return kind;
}

} // namespace leafwright
