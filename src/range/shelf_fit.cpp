#include "range/shelf_fit.h"

#include "base/units.h"
#include "cutting/nest.h"
#include "cutting/outward.h"
#include "range/silhouette.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace leafwright {

namespace {

constexpr double kFloorTolerance_mm = 1e-6;
constexpr double kOutward_mm = 3.0; // outlines are simplified by so much before they are nested
constexpr int kArcPoints = 10;

Vec2 turned(Vec2 const& p, double turn_deg) {
    double const c = std::cos(radians(turn_deg)), s = std::sin(radians(turn_deg));
    return {c * p.x - s * p.y, s * p.x + c * p.y};
}

Box2 turned_box(Ring const& ring, double turn_deg) {
    Box2 box;
    for (Vec2 const& p : ring) box.add(turned(p, turn_deg));
    return box;
}

// The turn in which the least is missing (below 0: the most room is left) in a room of that size.
std::pair<double, double> best_turn(Ring const& hull, Vec2 const& room) {
    double best = 0, missing = 1e300;
    auto const look = [&](double from, double to, double step) {
        for (double turn = from; turn <= to; turn += step) {
            Vec2 const size = turned_box(hull, turn).size();
            double const m = std::max(size.x - room.x, size.y - room.y);
            if (m < missing - 1e-12) missing = m, best = turn;
        }
    };
    look(0, 90, 90); // straight, where that does
    if (missing <= 0) return {best, missing};
    look(0, 179, 1);
    look(best - 1, best + 1, 0.02);
    return {best, missing};
}

Polygon rectangle(double width, double depth) { return {{{0, 0}, {width, 0}, {width, depth}, {0, depth}}, {}}; }

// The corner of the square about a round floor, from a gap beyond the round on: a piece that keeps the gap to it lies
// within the round. Nothing when the gap is so wide that no corner is left.
Ring corner_ring(double radius, double gap, int quarter) {
    double const out = radius + gap;
    double const half = std::sqrt(std::max(0.0, out * out - radius * radius)); // where the arc leaves the square
    if (half >= radius * 0.999) return {};
    double const from = std::atan2(-radius, -half), to = std::atan2(-half, -radius);
    Ring ring = {{-radius, -radius}, {-half, -radius}};
    double const span = std::remainder(to - from, kTwoPi);
    for (int i = 1; i < kArcPoints; ++i) {
        double const a = from + span * i / kArcPoints;
        ring.push_back(out * Vec2(std::cos(a), std::sin(a)));
    }
    ring.push_back({-radius, -half});
    for (Vec2& p : ring) p = turned(p, 90.0 * quarter) + Vec2(radius, radius);
    return counter_clockwise(std::move(ring));
}

// Of a circle about the foot's middle that lies within the foot.
double inner_radius(Polygon const& foot) {
    Vec2 const c = centroid(foot.outer);
    if (!contains(foot.outer, c)) return 0;
    double least = 1e300;
    for (std::size_t i = 0; i < foot.outer.size(); ++i) {
        Vec2 const a = foot.outer[i], d = foot.outer[(i + 1) % foot.outer.size()] - a;
        double const along = std::clamp(glm::dot(c - a, d) / std::max(glm::dot(d, d), 1e-300), 0.0, 1.0);
        least = std::min(least, glm::length(c - a - along * d));
    }
    return least;
}

} // namespace

ShelfFit::ShelfFit(KilnSpec const& kiln, ShelfSpec const& shelves, std::vector<LoadPiece> const& pieces,
                   LoadOptions const& options)
    : round_(kiln.shape == KilnShape::round),
      width_mm_(kiln.width_mm - 2 * kiln.clearance_mm),
      depth_mm_(round_ ? width_mm_ : kiln.depth_mm - 2 * kiln.clearance_mm),
      height_mm_(kiln.height_mm - 2 * kiln.clearance_mm),
      gap_mm_(shelves.piece_gap_mm),
      options_(options) {
    for (LoadPiece const& piece : pieces) {
        stances_.push_back(stance_of(piece));
        Stance& stance = stances_.back();
        stance.radius_mm = inner_radius(stance.foot);
        auto const same = std::ranges::find_if(stances_, [&](Stance const& s) {
            return s.foot == stance.foot && s.height_mm == stance.height_mm && s.standing == stance.standing;
        });
        class_of_.push_back(static_cast<int>(same - stances_.begin()));
    }
}

double ShelfFit::floor_mm2() const {
    if (width_mm_ <= 0 || depth_mm_ <= 0) return 0;
    return round_ ? kPi / 4 * width_mm_ * width_mm_ : width_mm_ * depth_mm_;
}

bool ShelfFit::foot_fits(Polygon const& foot, Stance& stance) const {
    double missing = 0;
    if (round_) {
        missing = 2 * smallest_circle(foot.outer).radius_mm - width_mm_;
    } else {
        auto const [turn, least] =
            best_turn(convex_hull({foot.outer.begin(), foot.outer.end()}), {width_mm_, depth_mm_});
        stance.turn_deg = turn;
        missing = least;
    }
    stance.missing_mm = std::max(missing, stance.height_mm - height_mm_);
    return stance.missing_mm <= kFloorTolerance_mm;
}

Stance ShelfFit::stance_of(LoadPiece const& piece) const {
    Stance lying;
    lying.foot = {counter_clockwise(piece.outline_mm), {}};
    lying.height_mm = piece.size.depth_mm;
    lying.area_mm2 = area(lying.foot);
    lying.fits = foot_fits(lying.foot, lying);
    if (lying.fits) return lying;
    Stance standing;
    standing.standing = true;
    standing.foot = rectangle(piece.size.width_mm, piece.size.depth_mm);
    standing.height_mm = piece.size.height_mm;
    standing.area_mm2 = area(standing.foot);
    standing.fits = foot_fits(standing.foot, standing);
    return standing.fits || standing.missing_mm < lying.missing_mm ? standing : lying;
}

ShelfFit::Places ShelfFit::alone(int kind) const {
    Stance const& stance = stances_[static_cast<std::size_t>(kind)];
    Polygon lies = stance.foot;
    for (Vec2& p : lies.outer) p = turned(p, stance.turn_deg);
    Vec2 const middle = round_ ? smallest_circle(lies.outer).middle : bounds(lies.outer).centre();
    for (Vec2& p : lies.outer) p += 0.5 * Vec2(width_mm_, depth_mm_) - middle;
    return {{kind, stance.standing, std::move(lies)}};
}

bool ShelfFit::never_together(int a, int b) const {
    constexpr double kHair = 1e-9;
    Stance const& p = stances_[static_cast<std::size_t>(a)];
    Stance const& q = stances_[static_cast<std::size_t>(b)];
    if (p.area_mm2 + q.area_mm2 > floor_mm2() * (1 + kHair)) return true;
    // The farthest that the middles of the two circles can be from each other.
    double const wide = width_mm_ - p.radius_mm - q.radius_mm, deep = depth_mm_ - p.radius_mm - q.radius_mm;
    double const room = round_ ? wide : std::hypot(std::max(0.0, wide), std::max(0.0, deep));
    return p.radius_mm + q.radius_mm + gap_mm_ > room + kHair;
}

// Side by side in rows by their boxes, the way that often does without any search; the deepest first.
std::optional<ShelfFit::Places> ShelfFit::in_rows(std::vector<int> const& of_kind) const {
    if (round_) return {};
    struct Boxed {
        int kind = 0;
        Box2 box;
        double turn_deg = 0;
    };
    std::vector<Boxed> all;
    for (std::size_t k = 0; k < of_kind.size(); ++k) {
        if (of_kind[k] == 0) continue;
        Boxed best{static_cast<int>(k), turned_box(stances_[k].foot.outer, 0), 0};
        Box2 const quarter = turned_box(stances_[k].foot.outer, 90);
        if (quarter.size().x < best.box.size().x && quarter.size().y <= depth_mm_) best = {best.kind, quarter, 90};
        all.insert(all.end(), static_cast<std::size_t>(of_kind[k]), best);
    }
    std::ranges::stable_sort(all, std::greater<>(), [](Boxed const& b) { return b.box.size().y; });
    Places places;
    Vec2 at{0, 0};
    double row = 0;
    for (Boxed const& b : all) {
        Vec2 const size = b.box.size();
        if (at.x > 0 && at.x + size.x > width_mm_) at = {0, at.y + row + gap_mm_}, row = 0;
        if (at.x + size.x > width_mm_ || at.y + size.y > depth_mm_) return {};
        Stance const& stance = stances_[static_cast<std::size_t>(b.kind)];
        Polygon lies = stance.foot;
        for (Vec2& p : lies.outer) p = turned(p, b.turn_deg) - b.box.low + at;
        places.push_back({b.kind, stance.standing, std::move(lies)});
        at.x += size.x + gap_mm_;
        row = std::max(row, size.y);
    }
    return places;
}

// By their hulls it goes many times faster than by all their leaf tips, and mostly it is enough.
std::optional<ShelfFit::Places> ShelfFit::nested(std::vector<int> const& of_kind, bool hulls) const {
    NestJob job;
    std::vector<int> kinds;
    for (std::size_t k = 0; k < of_kind.size(); ++k) {
        if (of_kind[k] == 0) continue;
        NestShape shape;
        Polygon foot = stances_[k].foot;
        if (hulls) foot.outer = convex_hull(foot.outer);
        shape.outline = simplified_outward(cleaned(foot), kOutward_mm);
        shape.copies = of_kind[k];
        shape.turns_deg = {0};
        shape.turn_play_deg = 180;
        if (!hulls) { // many edges: fewer turns, or it takes too long
            shape.turns_deg = {0, 45, 90, 135, 180, 225, 270, 315};
            shape.turn_play_deg = 0;
        }
        job.shapes.push_back(std::move(shape));
        kinds.push_back(static_cast<int>(k));
    }
    job.gap_mm = gap_mm_;
    job.in_holes = false;
    job.sheets.width_mm = depth_mm_;
    if (round_) { // one square floor with its corners taken up
        job.sheets.length_mm = width_mm_;
        job.sheets.at_most = 1;
        for (int quarter = 0; quarter < 4; ++quarter) {
            Ring corner = corner_ring(width_mm_ / 2, gap_mm_, quarter);
            if (corner.empty()) break;
            NestShape shape;
            shape.outline.outer = std::move(corner);
            shape.pinned = {NestPose{}};
            job.shapes.push_back(std::move(shape));
        }
    }
    auto const is_enough = [&](NestResult const& result) {
        return round_ ? result.unplaced.empty() : result.length_mm <= width_mm_ + kFloorTolerance_mm;
    };
    NestOptions options;
    options.seed = options_.seed;
    options.rounds = std::max(1, options_.nest_rounds);
    Task enough;
    Outcome<NestResult> const found = nest(job, options, &enough, [&](NestResult const& better) {
        if (is_enough(better)) enough.cancel();
    });
    if (!found || !is_enough(*found)) return {};
    Places places;
    for (NestPlacement const& p : found->placements) {
        if (static_cast<std::size_t>(p.shape) >= kinds.size()) continue; // a corner
        int const kind = kinds[static_cast<std::size_t>(p.shape)];
        Stance const& stance = stances_[static_cast<std::size_t>(kind)];
        places.push_back({kind, stance.standing, posed(stance.foot, p.pose)});
    }
    return places;
}

bool ShelfFit::is_proven_too_much(std::vector<int> const& of_kind) const {
    double covered = 0;
    for (std::size_t a = 0; a < of_kind.size(); ++a) {
        if (of_kind[a] > 0 && !stances_[a].fits) return true;
        covered += of_kind[a] * stances_[a].area_mm2;
        for (std::size_t b = a; b < of_kind.size(); ++b)
            if (of_kind[a] > 0 && of_kind[b] > (a == b ? 1 : 0) &&
                never_together(static_cast<int>(a), static_cast<int>(b)))
                return true;
    }
    return covered > floor_mm2();
}

std::vector<int> ShelfFit::by_class(std::vector<int> const& of_kind) const {
    std::vector<int> set(of_kind.size(), 0);
    for (std::size_t k = 0; k < of_kind.size(); ++k) set[static_cast<std::size_t>(class_of_[k])] += of_kind[k];
    return set;
}

// Places that are not asked for are left out.
ShelfFit::Places ShelfFit::by_kind(Places places, std::vector<int> of_kind) const {
    Places named;
    for (ShelfPlace& place : places)
        for (std::size_t k = 0; k < of_kind.size(); ++k) {
            if (of_kind[k] == 0 || class_of_[k] != class_of_[static_cast<std::size_t>(place.kind)]) continue;
            --of_kind[k];
            place.kind = static_cast<int>(k);
            named.push_back(std::move(place));
            break;
        }
    return named;
}

namespace {

bool holds(std::vector<int> const& more, std::vector<int> const& less) {
    return std::equal(more.begin(), more.end(), less.begin(), [](int a, int b) { return a >= b; });
}

} // namespace

bool ShelfFit::fits(std::vector<int> const& of_kind) {
    if (is_proven_too_much(of_kind)) return false;
    std::vector<int> const set = by_class(of_kind);
    if (std::accumulate(set.begin(), set.end(), 0) <= 1) return true;
    for (auto const& [other, found] : known_) // part of what fits, or more than what does not
        if (found ? holds(other, set) : holds(set, other)) return found.has_value();
    std::optional<Places> found = in_rows(set);
    if (!found) {
        if (nestings_ >= options_.most_nestings) {
            gave_up_ = true;
            return false;
        }
        ++nestings_;
        found = nested(set, true);
        if (!found) found = nested(set, false);
    }
    return (known_[set] = std::move(found)).has_value();
}

std::vector<ShelfPlace> ShelfFit::places(std::vector<int> const& of_kind) {
    std::vector<int> const set = by_class(of_kind);
    if (std::accumulate(set.begin(), set.end(), 0) == 1)
        return by_kind(alone(static_cast<int>(std::find(set.begin(), set.end(), 1) - set.begin())), of_kind);
    auto const exact = known_.find(set);
    if (exact != known_.end() && exact->second) return by_kind(*exact->second, of_kind);
    for (auto const& [other, found] : known_)
        if (found && holds(other, set)) return by_kind(*found, of_kind);
    return {};
}

} // namespace leafwright
