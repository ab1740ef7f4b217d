#include "cutting/job_fault.h"

#include "cutting/outward.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

MaybeProblem number_fault(std::string where, double value, double low, double high, char const* unit) {
    if (value >= low && value <= high) return {};
    return Problem{"range", std::move(where),
                   fmt::format("is {:g}{}; the range is {:g} to {:g}{}", value, unit, low, high, unit),
                   "Change this number"};
}

constexpr double kMost_mm = 1e7;

MaybeProblem ring_fault(std::string const& name, Ring const& ring) {
    for (Vec2 const& p : ring)
        if (!is_finite(p) || std::abs(p.x) > kMost_mm || std::abs(p.y) > kMost_mm)
            return Problem{"nest.outline", name, "has a point that is not a number within 10 km of the origin",
                           "Correct the outline"};
    return {};
}

// Sweep over the edges of all rings sorted by their left ends: O(n log n) for outlines as they occur.
bool crosses_itself(Polygon const& polygon) {
    struct Edge {
        Vec2 a, b; // left, right
        std::size_t ring, at, size;
        Vec2 from, to;
    };
    std::vector<Edge> edges;
    auto const add = [&](Ring const& ring, std::size_t number) {
        for (std::size_t k = 0; k < ring.size(); ++k) {
            Vec2 const& p = ring[k];
            Vec2 const& q = ring[(k + 1) % ring.size()];
            bool const forth = p.x < q.x || (p.x == q.x && p.y < q.y);
            edges.push_back({forth ? p : q, forth ? q : p, number, k, ring.size(), p, q});
        }
    };
    add(polygon.outer, 0);
    for (std::size_t h = 0; h < polygon.holes.size(); ++h) add(polygon.holes[h], h + 1);
    std::ranges::sort(edges, [](Edge const& e, Edge const& f) { return e.a.x < f.a.x; });
    auto const side = [](Vec2 const& a, Vec2 const& b, Vec2 const& p) {
        double const c = cross(b - a, p - a);
        return (c > 0) - (c < 0);
    };
    auto const on = [](Vec2 const& a, Vec2 const& b, Vec2 const& p) {
        return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
               p.y <= std::max(a.y, b.y);
    };
    auto const meet = [&](Edge const& e, Edge const& f) {
        if (e.ring == f.ring && ((e.at + 1) % e.size == f.at || (f.at + 1) % f.size == e.at)) {
            Edge const& first = (e.at + 1) % e.size == f.at ? e : f;
            Edge const& second = &first == &e ? f : e;
            return side(first.from, first.to, second.to) == 0 &&
                   glm::dot(first.to - first.from, second.to - second.from) < 0;
        }
        int const s1 = side(e.a, e.b, f.a), s2 = side(e.a, e.b, f.b), s3 = side(f.a, f.b, e.a),
                  s4 = side(f.a, f.b, e.b);
        if (s1 * s2 < 0 && s3 * s4 < 0) return true;
        return (s1 == 0 && on(e.a, e.b, f.a)) || (s2 == 0 && on(e.a, e.b, f.b)) || (s3 == 0 && on(f.a, f.b, e.a)) ||
               (s4 == 0 && on(f.a, f.b, e.b));
    };
    std::vector<std::size_t> open;
    for (std::size_t k = 0; k < edges.size(); ++k) {
        Edge const& e = edges[k];
        std::size_t kept = 0;
        double const low = std::min(e.a.y, e.b.y), high = std::max(e.a.y, e.b.y);
        for (std::size_t o : open) {
            Edge const& f = edges[o];
            if (f.b.x < e.a.x) continue;
            open[kept++] = o;
            if (std::max(f.a.y, f.b.y) < low || std::min(f.a.y, f.b.y) > high) continue;
            if (meet(e, f)) return true;
        }
        open.resize(kept);
        open.push_back(k);
    }
    return false;
}

MaybeProblem outline_fault(std::string const& name, Polygon const& given) {
    if (MaybeProblem p = ring_fault(name, given.outer)) return p;
    for (Ring const& hole : given.holes)
        if (MaybeProblem p = ring_fault(name, hole)) return p;
    Polygon const polygon = cleaned(given);
    double const span = glm::length(bounds(polygon.outer).size());
    if (polygon.outer.size() < 3 || !(signed_area(polygon.outer) > 1e-12 * span * span))
        return Problem{"nest.outline", name, "has no area", "Give an outline of at least three points not on one line"};
    if (crosses_itself(polygon))
        return Problem{"nest.outline", name, "crosses or touches itself",
                       "Untangle the outline so that each ring is simple"};
    for (Ring const& hole : polygon.holes)
        if (!contains(polygon.outer, hole[0]))
            return Problem{"nest.outline", name, "has a hole that lies outside it",
                           "Move the hole inside or leave it out"};
    return {};
}

} // namespace

std::string shape_name(NestJob const& job, std::size_t k) {
    return job.shapes[k].name.empty() ? fmt::format("shape {}", k + 1) : job.shapes[k].name;
}

MaybeProblem job_fault(NestJob const& job) {
    NestSheets const& s = job.sheets;
    if (MaybeProblem p = number_fault("width_mm", s.width_mm, 1e-3, kMost_mm, " mm")) return p;
    if (s.length_mm != 0)
        if (MaybeProblem p = number_fault("length_mm", s.length_mm, 1e-3, kMost_mm, " mm")) return p;
    if (MaybeProblem p = number_fault("at_most", s.at_most, 0, 10000, "")) return p;
    if (MaybeProblem p = number_fault("gap_mm", job.gap_mm, 0, 1e5, " mm")) return p;
    if (MaybeProblem p = number_fault("edge_gap_mm", job.edge_gap_mm, 0, 1e5, " mm")) return p;
    double pieces = 0;
    for (std::size_t k = 0; k < job.shapes.size(); ++k) {
        NestShape const& shape = job.shapes[k];
        if (MaybeProblem p = number_fault(shape_name(job, k) + ", copies", shape.copies, 0, 10000, "")) return p;
        if (!std::isfinite(shape.turn_play_deg) || shape.turn_play_deg < 0 || shape.turns_deg.empty() ||
            shape.turns_deg.size() > 3600 ||
            !std::ranges::all_of(shape.turns_deg, [](double t) { return std::isfinite(t) && std::abs(t) <= 1e6; }))
            return Problem{"range", shape_name(job, k),
                           "has no turn that is allowed, or more than 3600, or one that is not a number",
                           "Give turns in degrees"};
        if (shape.pinned.size() > static_cast<std::size_t>(shape.copies))
            return Problem{"nest.pinned", shape_name(job, k), "has more pinned places than copies",
                           "Take places out or ask for more copies"};
        pieces += shape.copies;
        if (MaybeProblem p = outline_fault(shape_name(job, k), shape.outline)) return p;
    }
    return number_fault("pieces", pieces, 1, 5000, "");
}

} // namespace leafwright
