#include "rows/overlap_outline.h"

#include <algorithm>
#include <cmath>

namespace leafwright::overlap {

namespace {

// Adding 1.5 * 2^20 leaves no bit below 2^-32, for coordinates below 5e5 mm.
double snapped(double mm) {
    constexpr double shift = 1572864.0;
    return (mm + shift) - shift;
}

constexpr double kFarthest_mm = 5000; // sums stay within their range

bool usable(Ring const& ring) {
    return ring.size() >= 3 && std::ranges::all_of(ring, [](Vec2 const& p) {
               return std::abs(p.x) < kFarthest_mm && std::abs(p.y) < kFarthest_mm; // false for a NaN
           });
}

void append_point(std::vector<Vec2>& points, Vec2 const& p) {
    Vec2 const s{snapped(p.x), snapped(p.y)};
    if (points.empty() || points.back() != s) points.push_back(s);
}

void append_ring(std::vector<Vec2>& points, Ring const& ring, bool counter_clockwise) {
    bool const keep = (signed_area(ring) >= 0) == counter_clockwise;
    std::size_t const n = ring.size();
    for (std::size_t i = 0; i <= n; ++i) append_point(points, ring[keep ? i % n : (n - i) % n]);
}

} // namespace

namespace {

void group_boxes(std::vector<CullBox> const& boxes, std::vector<BoxGroup>& groups) {
    groups.clear();
    for (std::size_t first = 0; first < boxes.size(); first += 4) {
        BoxGroup& group = groups.emplace_back();
        for (std::size_t k = 0; k < 4; ++k) {
            CullBox const box = first + k < boxes.size() ? boxes[first + k] : CullBox{};
            for (std::size_t side = 0; side < 4; ++side) group.lows[side][k] = box.lows[side];
        }
    }
}

} // namespace

void Outline::clear() {
    points.clear();
    swept.clear();
    block_boxes.clear();
    edge_groups.clear();
    block_groups.clear();
    box = {};
    centre = {0, 0};
}

void Outline::assign(Polygon const& polygon) {
    clear();
    if (!usable(polygon.outer)) return;
    append_ring(points, polygon.outer, true);
    for (Ring const& hole : polygon.holes) {
        if (!usable(hole)) continue;
        append_ring(points, hole, false);
        append_point(points, points.front());
    }
    if (points.size() < 4) return clear();

    auto const n = static_cast<std::size_t>(edges());
    std::size_t const blocks = (n + kBlockEdges - 1) / kBlockEdges;
    std::vector<CullBox> edge_boxes(blocks * kBlockEdges);
    block_boxes.resize(blocks);
    for (std::size_t e = 0; e < n; ++e) {
        edge_boxes[e] = edge_box(static_cast<int>(e));
        block_boxes[e / kBlockEdges].add(edge_boxes[e]);
    }
    for (CullBox const& block : block_boxes) box.add(block);
    group_boxes(edge_boxes, edge_groups);
    group_boxes(block_boxes, block_groups);
    centre = {snapped(0.5 * (static_cast<double>(box.lows[0]) - static_cast<double>(box.lows[2]))),
              snapped(0.5 * (static_cast<double>(box.lows[1]) - static_cast<double>(box.lows[3])))};
    swept.resize(n + 1);
    swept[0] = 0;
    for (std::size_t e = 0; e < n; ++e)
        swept[e + 1] = swept[e] + 0.5 * cross(points[e] - centre, points[e + 1] - centre);
}

} // namespace leafwright::overlap
