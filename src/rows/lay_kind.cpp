#include "rows/lay_kind.h"

#include "rows/lay_grid.h"

#include <algorithm>

namespace leafwright {

namespace {

constexpr int kHeights = 80;
constexpr double kSimplify_mm = 0.2;
constexpr double kFullWidth = 0.97; // this share of the greatest width counts as the greatest

std::vector<double> widths_of(LeafPattern const& pattern) {
    std::vector<double> widths;
    for (int k = 0; k < kHeights; ++k)
        widths.push_back(width_at(pattern.shape.outline_mm.outer, (k + 0.5) / kHeights * pattern.shape.length_mm));
    return widths;
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
    for (Vec2& p : kind.solid) p.y -= 0.5 * kind.length_mm;
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
