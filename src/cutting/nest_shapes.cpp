#include "cutting/nest_shapes.h"

#include "base/units.h"
#include "cutting/convex_parts.h"
#include "cutting/outward.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>

namespace leafwright {

namespace {

std::string name_of(NestJob const& job, std::size_t k) {
    return job.shapes[k].name.empty() ? fmt::format("shape {}", k + 1) : job.shapes[k].name;
}

Ring hull_of(Ring points) {
    std::ranges::sort(points, [](Vec2 const& a, Vec2 const& b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    Ring hull;
    for (int side = 0; side < 2; ++side) {
        std::size_t const start = hull.size();
        for (Vec2 const& p : points) {
            while (hull.size() >= start + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0)
                hull.pop_back();
            hull.push_back(p);
        }
        hull.pop_back();
        std::ranges::reverse(points);
    }
    return hull;
}

double diameter_of(Ring const& hull) {
    double most = 0;
    for (Vec2 const& a : hull)
        for (Vec2 const& b : hull) most = std::max(most, glm::length(a - b));
    return most;
}

std::size_t count_points(Polygon const& polygon) {
    std::size_t count = polygon.outer.size();
    for (Ring const& hole : polygon.holes) count += hole.size();
    return count;
}

struct SearchParts {
    Polygon outline;
    std::vector<Ring> parts;
};

// As few points and parts as serve the search well: the more there are, the more may be given away. Shapes that turn
// freely are searched without tables, where each part tells.
SearchParts search_parts(Polygon const& given, bool in_holes, bool any_turn) {
    double const size = std::sqrt(std::max(area(given), 0.0));
    SearchParts out;
    for (double share = 0; share < 0.05; share = std::max(2e-4, 2 * share)) {
        out.outline = share > 0 ? simplified_outward(given, share * size) : given;
        if (!in_holes) out.outline.holes.clear();
        std::size_t const enough = share < 1e-3 ? 24 : share < 3e-3 ? 48 : 200;
        if (count_points(out.outline) > enough) continue;
        out.parts = convex_parts(out.outline);
        std::size_t const few = share < 3e-3 ? 4 : share < 1e-2 ? 8 : 1000;
        if (!any_turn || out.parts.size() <= few) return out;
    }
    if (out.parts.empty()) out.parts = convex_parts(out.outline);
    return out;
}

ShapeModel shape_model(Polygon const& given, bool in_holes, bool any_turn) {
    ShapeModel model;
    model.given = given;
    model.centre = bounds(given.outer).centre();
    SearchParts search = search_parts(given, in_holes, any_turn);
    model.parts = std::move(search.parts);
    for (Ring& part : model.parts)
        for (Vec2& p : part) p -= model.centre;
    model.hull = hull_of(given.outer);
    for (Vec2& p : model.hull) p -= model.centre;
    model.coarse = simplified_outward({model.hull, {}}, 4e-3 * std::sqrt(signed_area(model.hull))).outer;
    model.area_mm2 = area(given);
    model.hull_mm2 = signed_area(model.hull);
    model.diameter_mm = diameter_of(model.hull.size() > 400 ? hull_of(search.outline.outer) : model.hull);
    model.any_turn = any_turn;
    return model;
}

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

bool crosses_itself(Polygon const& polygon);

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
        if (MaybeProblem p = number_fault(name_of(job, k) + ", copies", shape.copies, 0, 10000, "")) return p;
        if (!std::isfinite(shape.turn_play_deg) || shape.turn_play_deg < 0 || shape.turns_deg.empty() ||
            shape.turns_deg.size() > 3600 ||
            !std::ranges::all_of(shape.turns_deg, [](double t) { return std::isfinite(t) && std::abs(t) <= 1e6; }))
            return Problem{"range", name_of(job, k),
                           "has no turn that is allowed, or more than 3600, or one that is not a number",
                           "Give turns in degrees"};
        if (shape.pinned.size() > static_cast<std::size_t>(shape.copies))
            return Problem{"nest.pinned", name_of(job, k), "has more pinned places than copies",
                           "Take places out or ask for more copies"};
        pieces += shape.copies;
        if (MaybeProblem p = outline_fault(name_of(job, k), shape.outline)) return p;
    }
    return number_fault("pieces", pieces, 1, 5000, "");
}

bool any_turn(NestShape const& shape) { return shape.turn_play_deg > 0; }

double canonical_deg(double deg) {
    double const t = std::fmod(deg, 360.0);
    return t < 0 ? t + 360 : t;
}

bool same_shape(TurnedShape const& a, TurnedShape const& b, double scale) {
    if (a.parts.size() != b.parts.size()) return false;
    for (std::size_t k = 0; k < a.parts.size(); ++k) {
        if (a.parts[k].size() != b.parts[k].size()) return false;
        for (Vec2 const& p : a.parts[k])
            if (std::ranges::none_of(b.parts[k], [&](Vec2 const& q) { return glm::length(p - q) <= 1e-12 * scale; }))
                return false;
    }
    return true;
}

// Where any turn is allowed, the search works with turns of even steps.
constexpr double kTurnStep_deg = 15;

std::vector<double> turns_to_try(NestShape const& shape) {
    if (!any_turn(shape)) return shape.turns_deg;
    std::vector<double> turns;
    double const play = std::min(shape.turn_play_deg, 180.0);
    int const steps = std::max(2, static_cast<int>(std::ceil(2 * play / kTurnStep_deg)));
    for (double t : shape.turns_deg)
        for (int k = 0; k < steps + (play < 180); ++k) turns.push_back(t - play + 2 * play * k / steps);
    return turns;
}

void add_turns(NestModel& model, NestShape const& shape, int index) {
    ShapeModel const& s = model.shapes[static_cast<std::size_t>(index)];
    std::vector<int>& list = model.turns_of.emplace_back();
    for (bool const mirrored : {false, true}) {
        if (mirrored && !shape.either_hand) break;
        for (double deg : turns_to_try(shape)) {
            TurnedShape t = turned_shape(s, index, canonical_deg(deg), mirrored);
            Box2 const room = room_of(model, t, model.sheets.length_mm);
            if (room.low.y > room.high.y || room.low.x > room.high.x) continue;
            bool const is_new = std::ranges::none_of(
                list, [&](int k) { return same_shape(model.turned[static_cast<std::size_t>(k)], t, s.diameter_mm); });
            if (!is_new) continue;
            list.push_back(static_cast<int>(model.turned.size()));
            model.turned.push_back(std::move(t));
        }
    }
}

MaybeProblem pin(NestModel& model, NestJob const& job, std::size_t shape, std::size_t copy, NestPiece& piece) {
    NestPose const& pose = job.shapes[shape].pinned[copy];
    std::string const name = name_of(job, shape);
    NestSheets const& s = model.sheets;
    bool const sheet_ok =
        pose.sheet >= 0 && (s.length_mm == 0 ? pose.sheet == 0 : pose.sheet < (s.at_most > 0 ? s.at_most : 10000));
    if (!is_finite(pose.at_mm) || !std::isfinite(pose.turn_deg) || !sheet_ok)
        return Problem{"nest.pinned", name, "is pinned to a sheet or place that does not exist", "Unpin it or move it"};
    TurnedShape t = turned_shape(model.shapes[shape], static_cast<int>(shape), pose.turn_deg, pose.mirrored);
    Vec2 const at = pose.at_mm - t.origin;
    Box2 const room = room_of(model, t, s.length_mm);
    double const slack = 1e-9 * model.scale_mm;
    if (at.x < room.low.x - slack || at.y < room.low.y - slack || at.y > room.high.y + slack ||
        at.x > room.high.x + slack)
        return Problem{"nest.pinned", name, "is pinned where it leaves the sheet or comes too near its edge",
                       "Move it inwards"};
    piece.pinned = static_cast<int>(model.turned.size());
    piece.pinned_at = at + Vec2(sheet_start(model, pose.sheet), 0);
    model.turned.push_back(std::move(t));
    return {};
}

} // namespace

TurnMap::TurnMap(double turn_deg, bool mirror) : mirrored(mirror) {
    double const deg = canonical_deg(turn_deg);
    if (deg == 0) return;
    cosine = deg == 90 || deg == 270 ? 0 : deg == 180 ? -1 : std::cos(radians(deg));
    sine = deg == 180 ? 0 : deg == 90 ? 1 : deg == 270 ? -1 : std::sin(radians(deg));
}

Polygon posed(Polygon const& outline, NestPose const& pose) {
    TurnMap const map(pose.turn_deg, pose.mirrored);
    Polygon out = outline;
    for (Vec2& p : out.outer) p = map(p) + pose.at_mm;
    for (Ring& hole : out.holes)
        for (Vec2& p : hole) p = map(p) + pose.at_mm;
    return out;
}

TurnedShape coarse_shape(ShapeModel const& model, TurnedShape const& turned) {
    TurnMap const map(turned.turn_deg, turned.mirrored);
    TurnedShape out = turned;
    out.parts = {model.coarse};
    for (Vec2& p : out.parts[0]) p = map(p);
    if (turned.mirrored) std::ranges::reverse(out.parts[0]);
    return out;
}

TurnedShape turned_shape(ShapeModel const& model, int shape, double turn_deg, bool mirrored) {
    TurnMap const map(turn_deg, mirrored);
    TurnedShape t{shape, turn_deg, mirrored, -map(model.centre), {}, model.parts};
    for (Vec2 const& p : model.hull) t.box.add(map(p));
    for (Ring& part : t.parts) {
        for (Vec2& p : part) p = map(p);
        if (mirrored) std::ranges::reverse(part);
    }
    return t;
}

double sheet_start(NestModel const& model, int sheet) {
    return sheet * (model.sheets.length_mm + model.gap_mm + 0.01 * model.scale_mm);
}

Box2 room_of(NestModel const& model, TurnedShape const& turned, double length_mm) {
    Box2 room;
    double const edge = model.edge_gap_mm;
    room.low = Vec2(edge) - turned.box.low;
    room.high = Vec2(length_mm > 0 ? length_mm : 1e9, model.sheets.width_mm) - edge - turned.box.high;
    // A piece exactly as large as the sheet has room in spite of rounding.
    double const slack = 1e-10 * model.scale_mm;
    for (int k = 0; k < 2; ++k)
        if (room.low[k] > room.high[k] && room.low[k] - room.high[k] < slack)
            room.low[k] = room.high[k] = 0.5 * (room.low[k] + room.high[k]);
    return room;
}

Outcome<NestModel> nest_model(NestJob const& job) {
    if (MaybeProblem p = job_fault(job)) return *p;
    NestModel model{job.sheets, job.gap_mm, job.edge_gap_mm, {}, {}, {}, {}, 0, 0};
    if (model.sheets.length_mm == 0) model.sheets.at_most = 1;
    model.scale_mm = std::max(job.sheets.width_mm, job.sheets.length_mm);
    for (NestShape const& shape : job.shapes) {
        model.shapes.push_back(shape_model(cleaned(shape.outline), job.in_holes, any_turn(shape)));
        model.scale_mm = std::max(model.scale_mm, model.shapes.back().diameter_mm);
    }
    for (std::size_t k = 0; k < job.shapes.size(); ++k) {
        NestShape const& shape = job.shapes[k];
        add_turns(model, shape, static_cast<int>(k));
        if (model.turns_of[k].empty() && static_cast<int>(shape.pinned.size()) < shape.copies)
            return Problem{"nest.too-wide", name_of(job, k), "does not fit the sheet in any turn that is allowed",
                           "Allow more turns, or roll wider", ProblemKind::refusal};
        for (int c = 0; c < shape.copies; ++c) {
            NestPiece piece{static_cast<int>(k), c, -1, {}};
            if (static_cast<std::size_t>(c) < shape.pinned.size())
                if (MaybeProblem p = pin(model, job, k, static_cast<std::size_t>(c), piece)) return *p;
            model.pieces.push_back(piece);
            model.total_mm2 += model.shapes[k].area_mm2;
        }
    }
    return model;
}

} // namespace leafwright
