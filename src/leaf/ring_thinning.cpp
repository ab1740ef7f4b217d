#include "leaf/ring_thinning.h"

#include "leaf/segment.h"

#include <algorithm>

namespace leafwright {

namespace {

// Marks what must stay between two points that stay; the ring is walked from `from` up to `to`, wrapping.
void mark_between(Ring const& ring, std::size_t from, std::size_t to, double tolerance_mm, std::vector<char>& keep) {
    std::vector<std::pair<std::size_t, std::size_t>> spans{{from, to}};
    std::size_t const n = ring.size();
    while (!spans.empty()) {
        auto const [first, last] = spans.back();
        spans.pop_back();
        double worst = tolerance_mm;
        std::size_t at = n;
        for (std::size_t i = first + 1; i < last; ++i) {
            double const off = distance_to_segment(ring[i % n], ring[first % n], ring[last % n]);
            if (off > worst) worst = off, at = i;
        }
        if (at == n && worst == tolerance_mm) continue;
        keep[at % n] = 1;
        spans.emplace_back(first, at);
        spans.emplace_back(at, last);
    }
}

std::size_t farthest_from(Ring const& ring, std::size_t from) {
    std::size_t best = from;
    double most = -1;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        double const off = glm::length(ring[i] - ring[from]);
        if (off > most) most = off, best = i;
    }
    return best;
}

bool still_good(Polygon const& polygon) {
    if (polygon.outer.size() < 3 || !is_simple(polygon.outer)) return false;
    for (std::size_t i = 0; i < polygon.holes.size(); ++i) {
        Ring const& hole = polygon.holes[i];
        if (hole.size() < 3 || !is_simple(hole) || rings_cross(polygon.outer, hole)) return false;
        for (std::size_t k = 0; k < i; ++k)
            if (rings_cross(polygon.holes[k], hole)) return false;
    }
    return true;
}

// The finest tolerance that leaves at most so many points.
Ring thinned_to(Ring const& ring, std::size_t points) {
    if (ring.size() <= points) return ring;
    Vec2 const size = bounds(ring).size();
    double low = 0;
    double high = 0.05 * std::max(size.x, size.y);
    Ring best = thinned_ring(ring, high);
    for (int i = 0; i < 24; ++i) {
        double const middle = 0.5 * (low + high);
        Ring tried = thinned_ring(ring, middle);
        if (tried.size() > points)
            low = middle;
        else
            high = middle, best = std::move(tried);
    }
    return best;
}

// Of segments whose boxes overlap.
bool segments_meet(Vec2 const& a, Vec2 const& b, Vec2 const& c, Vec2 const& d) {
    auto const side = [](Vec2 const& p, Vec2 const& q, Vec2 const& r) { return cross(q - p, r - p); };
    return side(a, b, c) * side(a, b, d) <= 0 && side(c, d, a) * side(c, d, b) <= 0;
}

} // namespace

Ring thinned_ring(Ring const& ring, double tolerance_mm) {
    if (ring.size() < 4) return ring;
    std::size_t const a = farthest_from(ring, 0);
    std::size_t const b = farthest_from(ring, a);
    if (a == b) return ring;
    std::size_t const first = std::min(a, b);
    std::size_t const second = std::max(a, b);
    std::vector<char> keep(ring.size(), 0);
    keep[first] = keep[second] = 1;
    mark_between(ring, first, second, tolerance_mm, keep);
    mark_between(ring, second, first + ring.size(), tolerance_mm, keep);
    Ring thin;
    for (std::size_t i = 0; i < ring.size(); ++i)
        if (keep[i]) thin.push_back(ring[i]);
    return thin;
}

Polygon thinned_polygon(Polygon const& polygon, std::size_t outer_points, std::size_t hole_points) {
    for (double room : {1.0, 1.4, 2.0, 4.0}) {
        auto const most = [room](std::size_t points) {
            return static_cast<std::size_t>(room * static_cast<double>(points));
        };
        Polygon thin;
        thin.outer = thinned_to(polygon.outer, most(outer_points));
        for (Ring const& hole : polygon.holes) thin.holes.push_back(thinned_to(hole, most(hole_points)));
        if (thin == polygon || still_good(thin)) return thin;
    }
    return polygon;
}

bool rings_cross(std::span<Vec2 const> a, std::span<Vec2 const> b) {
    if (a.empty() || b.empty()) return false;
    Box2 const all_b = bounds(b);
    for (std::size_t i = 0; i < a.size(); ++i) {
        Box2 edge;
        edge.add(a[i]);
        edge.add(a[(i + 1) % a.size()]);
        if (!edge.overlaps(all_b)) continue;
        for (std::size_t k = 0; k < b.size(); ++k) {
            Box2 other;
            other.add(b[k]);
            other.add(b[(k + 1) % b.size()]);
            if (edge.overlaps(other) && segments_meet(a[i], a[(i + 1) % a.size()], b[k], b[(k + 1) % b.size()]))
                return true;
        }
    }
    return false;
}

} // namespace leafwright
