#include "leaf/svg_veins.h"

#include "leaf/drawn_veins.h"
#include "leaf/ring_thinning.h"
#include "leaf/segment.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

using Points = std::vector<Vec2>;

constexpr double kInside = 0.6;     // of its points must lie in the leaf
constexpr double kOffEdge = 0.012;  // of the leaf's size: nearer to the edge is outline, not vein
constexpr double kShortest = 0.04;  // of the leaf's size
constexpr double kSideReach = 0.05; // of the leaf's length: a side vein starts so near to the midrib
constexpr std::size_t kMostInLine = 200;
constexpr std::size_t kMostLooked = 2000; // lines of the drawing

double to_edge(Polygon const& region, Vec2 const& p) {
    double least = distance_to_ring(region.outer, p);
    for (Ring const& hole : region.holes) least = std::min(least, distance_to_ring(hole, p));
    return least;
}

bool is_vein_of(Polygon const& region, Points const& line, double size) {
    constexpr int kLooks = 24;
    int inside = 0;
    int off_edge = 0;
    double const total = length_along(line);
    if (total < kShortest * size) return false;
    double walked = 0;
    int next = 0;
    for (std::size_t i = 1; i < line.size(); ++i) {
        double const side = glm::length(line[i] - line[i - 1]);
        for (; next < kLooks && total * (next + 0.5) / kLooks <= walked + side && side > 0; ++next) {
            double const share = (total * (next + 0.5) / kLooks - walked) / side;
            Vec2 const p = line[i - 1] + share * (line[i] - line[i - 1]);
            bool const in = contains(region.outer, p);
            inside += in ? 1 : 0;
            off_edge += in && to_edge(region, p) > kOffEdge * size ? 1 : 0;
        }
        walked += side;
    }
    return inside > kInside * kLooks && off_edge > 0.5 * kLooks;
}

// The part of it that lies in the region, where some lies outside.
Points inner_part(Polygon const& region, Points const& line, double step) {
    if (std::ranges::all_of(line, [&](Vec2 const& p) { return contains(region.outer, p); })) return line;
    Points best;
    Points run;
    for (Vec2 const& p : evenly_spaced(line, step)) {
        if (contains(region.outer, p))
            run.push_back(p);
        else
            run.clear();
        if (run.size() > best.size()) best = run;
    }
    return best;
}

Points thinned_line(Points const& line, double tolerance) {
    std::vector<char> keep(line.size(), 0);
    keep.front() = keep.back() = 1;
    std::vector<std::pair<std::size_t, std::size_t>> spans{{0, line.size() - 1}};
    while (!spans.empty()) {
        auto const [a, b] = spans.back();
        spans.pop_back();
        std::size_t far = a;
        double most = tolerance;
        for (std::size_t i = a + 1; i < b; ++i)
            if (double const d = distance_to_segment(line[i], line[a], line[b]); d > most) most = d, far = i;
        if (far == a) continue;
        keep[far] = 1;
        spans.emplace_back(a, far);
        spans.emplace_back(far, b);
    }
    Points out;
    for (std::size_t i = 0; i < line.size(); ++i)
        if (keep[i]) out.push_back(line[i]);
    return out;
}

} // namespace

std::vector<Points> open_lines(SvgDrawing const& drawing) {
    std::vector<Points> lines;
    for (SvgShape const& shape : drawing.shapes) {
        if (!shape.strokes()) continue;
        for (FlatPath const& path : shape.paths) {
            bool const is_area = shape.fills() && path.points.size() > 2;
            bool const returns =
                path.closed || glm::length(path.points.front() - path.points.back()) <= 0.5 * shape.stroke_mm;
            if (path.points.size() < 2 || is_area || returns) continue;
            Points line;
            for (Vec2 const& p : path.points) line.emplace_back(p.x, -p.y);
            lines.push_back(std::move(line));
        }
    }
    return lines;
}

std::vector<Points> lines_within(Polygon const& given, std::span<Points const> lines, double tolerance_mm) {
    Box2 const box = bounds(given.outer);
    double const size = glm::length(box.size());
    Polygon region; // true enough to tell inside from outside
    region.outer = thinned_ring(given.outer, 0.001 * size);
    for (Ring const& hole : given.holes) region.holes.push_back(thinned_ring(hole, 0.001 * size));
    std::vector<Points> kept;
    for (Points const& line : lines.first(std::min(lines.size(), kMostLooked))) {
        if (kept.size() >= kMostDrawnVeins) break;
        if (!box.overlaps(bounds(line)) || !is_vein_of(region, line, size)) continue;
        Points const inner = inner_part(region, line, 0.005 * size);
        if (inner.size() < 2) continue;
        Points thin = thinned_line(inner, tolerance_mm);
        for (double more = 2; thin.size() > kMostInLine; more *= 2) thin = thinned_line(inner, more * tolerance_mm);
        kept.push_back(std::move(thin));
    }
    return kept;
}

OutlineEnds ends_by_veins(OutlineEnds ends, std::span<Points const> lines) {
    if (ends.stalk > 0) return ends;
    int const main = midrib_among(lines, ends.base, ends.tip);
    if (main < 0) return ends;
    Points const& rib = lines[static_cast<std::size_t>(main)];
    Vec2 const up = glm::normalize(ends.tip - ends.base);
    double const reach = kSideReach * glm::length(ends.tip - ends.base);
    int toward = 0;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (static_cast<int>(i) == main) continue;
        Vec2 a = lines[i].front();
        Vec2 b = lines[i].back();
        if (distance_to_line(rib, b) < distance_to_line(rib, a)) std::swap(a, b);
        if (distance_to_line(rib, a) > reach || distance_to_line(rib, b) < 2 * reach) continue;
        double const rise = glm::dot(b - a, up) / glm::length(b - a);
        toward += rise > 0.2 ? 1 : (rise < -0.2 ? -1 : 0);
    }
    if (toward <= -2) std::swap(ends.base, ends.tip);
    return ends;
}

void take_drawn_veins(OwnLeaf& leaf, OutlineEnds const& ends, std::vector<Points> lines) {
    leaf.midrib_mm = {ends.base, ends.tip};
    int const main = midrib_among(lines, ends.base, ends.tip);
    if (main >= 0) {
        Points rib = lines[static_cast<std::size_t>(main)];
        if (glm::dot(rib.back() - rib.front(), ends.tip - ends.base) < 0) std::ranges::reverse(rib);
        // Points close to an end, or behind it, would bend the midrib back.
        Vec2 const way = ends.tip - ends.base;
        double const whole = glm::dot(way, way);
        Points between;
        for (Vec2 const& p : rib) {
            double const share = glm::dot(p - ends.base, way) / whole;
            if (share > 0.03 && share < 0.97) between.push_back(p);
        }
        leaf.midrib_mm.insert(leaf.midrib_mm.begin() + 1, between.begin(), between.end());
    }
    std::size_t const others = lines.size() - (main >= 0 ? 1 : 0);
    if (others < 2) return;
    leaf.veins = VeinPattern::drawn;
    leaf.drawn_veins_mm = std::move(lines);
}

std::string veins_told(OwnLeaf const& leaf) {
    if (leaf.veins == VeinPattern::drawn)
        return fmt::format("its veins are the {} lines drawn in it", leaf.drawn_veins_mm.size());
    if (leaf.midrib_mm.size() > 2) return "its midrib is the line drawn in it; the other veins are grown";
    return "no veins are drawn in it: they are grown";
}

} // namespace leafwright
