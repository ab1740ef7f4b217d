// An independent check of a layout, on the outlines as they were given.
#include "cutting/convex_parts.h"
#include "cutting/nest.h"
#include "cutting/outward.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <set>

namespace leafwright {

namespace {

constexpr double kGapSlack_mm = 1e-6;
constexpr double kAreaShare = 1e-9;

struct Lying {
    std::string name;
    NestPose pose;
    Polygon outline; // in its sheet, cleaned
    Box2 box;
};

struct Edge {
    Vec2 a, b;
    Box2 box;
    bool of_first;
};

void add_edges(Ring const& ring, Box2 const& within, bool of_first, std::vector<Edge>& out) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
        Edge e{ring[k], ring[(k + 1) % ring.size()], {}, of_first};
        e.box.add(e.a);
        e.box.add(e.b);
        if (e.box.overlaps(within)) out.push_back(e);
    }
}

Box2 widened(Box2 box, double by) {
    box.low -= by;
    box.high += by;
    return box;
}

double point_to_segment(Vec2 const& p, Vec2 const& a, Vec2 const& b) {
    Vec2 const d = b - a;
    double const t = std::clamp(glm::dot(p - a, d) / std::max(glm::dot(d, d), 1e-300), 0.0, 1.0);
    return glm::length(p - a - t * d);
}

bool cross_properly(Edge const& e, Edge const& f) {
    auto const side = [](Vec2 const& a, Vec2 const& b, Vec2 const& p) { return cross(b - a, p - a); };
    return side(e.a, e.b, f.a) * side(e.a, e.b, f.b) < 0 && side(f.a, f.b, e.a) * side(f.a, f.b, e.b) < 0;
}

double distance_between(Edge const& e, Edge const& f) {
    if (cross_properly(e, f)) return 0;
    return std::min({point_to_segment(e.a, f.a, f.b), point_to_segment(e.b, f.a, f.b), point_to_segment(f.a, e.a, e.b),
                     point_to_segment(f.b, e.a, e.b)});
}

// The least distance between two boundaries, when less than `far`.
double boundary_distance(Polygon const& p, Polygon const& q, Box2 const& box_p, Box2 const& box_q, double far) {
    std::vector<Edge> edges;
    Box2 const near_q = widened(box_q, far), near_p = widened(box_p, far);
    add_edges(p.outer, near_q, true, edges);
    for (Ring const& hole : p.holes) add_edges(hole, near_q, true, edges);
    add_edges(q.outer, near_p, false, edges);
    for (Ring const& hole : q.holes) add_edges(hole, near_p, false, edges);
    std::ranges::sort(edges, {}, [](Edge const& e) { return e.box.low.x; });
    std::vector<std::size_t> open;
    for (std::size_t k = 0; k < edges.size(); ++k) {
        Edge const& e = edges[k];
        std::size_t kept = 0;
        for (std::size_t o : open) {
            Edge const& f = edges[o];
            if (f.box.high.x + far < e.box.low.x) continue;
            open[kept++] = o;
            if (f.of_first != e.of_first && widened(f.box, far).overlaps(e.box))
                far = std::min(far, distance_between(e, f));
        }
        open.resize(kept);
        open.push_back(k);
    }
    return far;
}

Ring clipped(Ring ring, Ring const& by) {
    for (std::size_t k = 0; k < by.size() && !ring.empty(); ++k) {
        Vec2 const& a = by[k];
        Vec2 const edge = by[(k + 1) % by.size()] - a;
        Ring out;
        for (std::size_t j = 0; j < ring.size(); ++j) {
            Vec2 const& p = ring[j];
            Vec2 const& q = ring[(j + 1) % ring.size()];
            double const sp = cross(edge, p - a), sq = cross(edge, q - a);
            if (sp >= 0) out.push_back(p);
            if ((sp > 0 && sq < 0) || (sp < 0 && sq > 0)) out.push_back(p + (q - p) * (sp / (sp - sq)));
        }
        ring = std::move(out);
    }
    return ring;
}

// The triangles fill each polygon without overlap, so that the pairs' areas add up to that of the intersection.
double common_area(Polygon const& p, Polygon const& q, Box2 const& box_p, Box2 const& box_q) {
    auto const near = [](Polygon const& polygon, Box2 const& box) {
        std::vector<Ring> all = triangles_of(polygon);
        std::erase_if(all, [&](Ring const& t) { return !bounds(t).overlaps(box); });
        return all;
    };
    double sum = 0;
    std::vector<Ring> const of_q = near(q, box_p);
    for (Ring const& t : near(p, box_q))
        for (Ring const& u : of_q)
            if (bounds(t).overlaps(bounds(u))) sum += std::max(0.0, signed_area(clipped(t, u)));
    return sum;
}

std::string name_of(NestJob const& job, NestPlacement const& p) {
    NestShape const& shape = job.shapes[static_cast<std::size_t>(p.shape)];
    std::string const name = shape.name.empty() ? fmt::format("shape {}", p.shape + 1) : shape.name;
    return shape.copies == 1 ? name : fmt::format("{} number {}", name, p.copy + 1);
}

bool turn_allowed(NestShape const& shape, NestPlacement const& p) {
    if (static_cast<std::size_t>(p.copy) < shape.pinned.size()) return true;
    if (p.pose.mirrored && !shape.either_hand) return false;
    return std::ranges::any_of(shape.turns_deg, [&](double t) {
        return std::abs(std::remainder(p.pose.turn_deg - t, 360.0)) <= shape.turn_play_deg + 1e-9;
    });
}

bool pin_kept(NestShape const& shape, NestPlacement const& p) {
    if (static_cast<std::size_t>(p.copy) >= shape.pinned.size()) return true;
    NestPose const& pin = shape.pinned[static_cast<std::size_t>(p.copy)];
    return pin.sheet == p.pose.sheet && pin.mirrored == p.pose.mirrored &&
           glm::length(pin.at_mm - p.pose.at_mm) <= kGapSlack_mm &&
           std::abs(std::remainder(pin.turn_deg - p.pose.turn_deg, 360.0)) <= 1e-9;
}

class Check {
public:
    Check(NestJob const& job, NestResult const& result) : job_(job), result_(result) {}

    std::vector<std::string> faults() {
        count();
        for (NestPlacement const& p : result_.placements) lay(p);
        std::ranges::sort(lying_, {}, [](Lying const& l) { return l.box.low.x; });
        for (std::size_t k = 0; k < lying_.size(); ++k)
            for (std::size_t j = k + 1; j < lying_.size(); ++j) compare(lying_[k], lying_[j]);
        double const length = job_.sheets.length_mm > 0 ? job_.sheets.length_mm : std::max(result_.length_mm, 1e-300);
        if (overlap_mm2_ > kAreaShare * job_.sheets.width_mm * length)
            tell("pieces overlap by {:.3g} mm2 in all, {} and {} first", overlap_mm2_, first_, second_);
        return std::move(faults_);
    }

private:
    template <class... Args> void tell(fmt::format_string<Args...> form, Args&&... args) {
        faults_.push_back(fmt::format(form, std::forward<Args>(args)...));
    }

    // Each copy is there once, or told as unplaced.
    void count() {
        std::set<std::pair<int, int>> seen;
        auto const see = [&](NestPlacement const& p) {
            bool const known = p.shape >= 0 && static_cast<std::size_t>(p.shape) < job_.shapes.size() && p.copy >= 0 &&
                               p.copy < job_.shapes[static_cast<std::size_t>(p.shape)].copies;
            if (!known || !seen.insert({p.shape, p.copy}).second)
                tell("shape {} copy {} is placed twice or unknown", p.shape + 1, p.copy + 1);
        };
        for (NestPlacement const& p : result_.placements) see(p);
        for (NestPlacement const& p : result_.unplaced) see(p);
        std::size_t wanted = 0;
        for (NestShape const& s : job_.shapes) wanted += static_cast<std::size_t>(s.copies);
        if (seen.size() != wanted) tell("{} of {} pieces are accounted for", seen.size(), wanted);
    }

    void lay(NestPlacement const& p) {
        if (p.shape < 0 || static_cast<std::size_t>(p.shape) >= job_.shapes.size()) return;
        NestShape const& shape = job_.shapes[static_cast<std::size_t>(p.shape)];
        Lying l{name_of(job_, p), p.pose, posed(shape.outline, p.pose), {}};
        l.outline = cleaned(l.outline);
        l.box = bounds(l.outline.outer);
        if (!turn_allowed(shape, p)) tell("{} has a turn that is not allowed: {} degrees", l.name, p.pose.turn_deg);
        if (!pin_kept(shape, p)) tell("{} is not where it is pinned", l.name);
        Box2 const inner = widened(sheet_box(p.pose.sheet), kGapSlack_mm - job_.edge_gap_mm);
        if (!inner.contains(l.box.low) || !inner.contains(l.box.high))
            tell("{} leaves sheet {} or comes too near its edge", l.name, p.pose.sheet + 1);
        lying_.push_back(std::move(l));
    }

    Box2 sheet_box(int sheet) const {
        bool const is_sheet = sheet >= 0 && static_cast<std::size_t>(sheet) < result_.used_mm.size() &&
                              (job_.sheets.at_most == 0 || job_.sheets.length_mm == 0 || sheet < job_.sheets.at_most);
        double const used = is_sheet ? result_.used_mm[static_cast<std::size_t>(sheet)] : 0;
        double const length = job_.sheets.length_mm > 0 ? std::min(job_.sheets.length_mm + kGapSlack_mm, used) : used;
        return {{0, 0}, {length, job_.sheets.width_mm}};
    }

    void compare(Lying const& a, Lying const& b) {
        double const gap = job_.gap_mm;
        if (a.pose.sheet != b.pose.sheet || !widened(a.box, gap).overlaps(b.box)) return;
        double const apart = boundary_distance(a.outline, b.outline, a.box, b.box, std::max(gap, 1e-9));
        bool const one_in_other = contains(a.outline, b.outline.outer[0]) || contains(b.outline, a.outline.outer[0]);
        if (gap > 0 && apart < gap - kGapSlack_mm)
            tell("{} and {} are {:.7g} mm apart, less than the gap", a.name, b.name, apart);
        if (!job_.in_holes &&
            (contains(a.outline.outer, b.outline.outer[0]) || contains(b.outline.outer, a.outline.outer[0])) &&
            !one_in_other)
            tell("{} or {} lies in a hole of the other", a.name, b.name);
        if (gap == 0 ? apart < 1e-9 || one_in_other : one_in_other && apart >= gap - kGapSlack_mm) add_overlap(a, b);
    }

    void add_overlap(Lying const& a, Lying const& b) {
        double const common = common_area(a.outline, b.outline, a.box, b.box);
        if (common > 0 && first_.empty()) first_ = a.name, second_ = b.name;
        overlap_mm2_ += common;
    }

    NestJob const& job_;
    NestResult const& result_;
    std::vector<Lying> lying_;
    std::vector<std::string> faults_;
    double overlap_mm2_ = 0;
    std::string first_, second_;
};

} // namespace

std::vector<std::string> nest_faults(NestJob const& job, NestResult const& result) {
    return Check(job, result).faults();
}

} // namespace leafwright
