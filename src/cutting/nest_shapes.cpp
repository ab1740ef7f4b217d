#include "cutting/nest_shapes.h"

#include "base/units.h"
#include "cutting/convex_parts.h"
#include "cutting/job_fault.h"
#include "cutting/outward.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>

namespace leafwright {

namespace {

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
    model.hull = convex_hull(given.outer);
    for (Vec2& p : model.hull) p -= model.centre;
    model.coarse = simplified_outward({model.hull, {}}, 4e-3 * std::sqrt(signed_area(model.hull))).outer;
    model.area_mm2 = area(given);
    model.hull_mm2 = signed_area(model.hull);
    model.diameter_mm = diameter_of(model.hull.size() > 400 ? convex_hull(search.outline.outer) : model.hull);
    model.any_turn = any_turn;
    return model;
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
    std::string const name = shape_name(job, shape);
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
            return Problem{"nest.too-wide", shape_name(job, k), "does not fit the sheet in any turn that is allowed",
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
