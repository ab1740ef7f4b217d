// The edges are laid on a fine grid of whole numbers, and where they meet a grid point becomes a corner; every edge
// that passes through the unit square about a corner is led through it. After that no two edges cross (snap rounding:
// Hobby, Comput. Geom. 13 (1999) 199). Each edge then has one winding number on either side, and those with filled on
// one side only are walked into rings.
#include "leaf/ring_union.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>

namespace leafwright {

namespace {

constexpr double kGrid = 1 << 25;
constexpr std::size_t kMostEdges = 200000;
constexpr int kMostPasses = 4; // the first does the work

struct Point {
    std::int64_t x = 0;
    std::int64_t y = 0;
    auto operator<=>(Point const&) const = default;
};

struct Edge {
    Point a; // a < b
    Point b;
    int way = 1; // +1 when the ring ran from a to b
    auto operator<=>(Edge const&) const = default;
};

std::int64_t turn(Point const& a, Point const& b, Point const& c) {
    return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

int sign(std::int64_t v) { return v > 0 ? 1 : v < 0 ? -1 : 0; }

Edge edge_of(Point const& a, Point const& b, int way) { return a < b ? Edge{a, b, way} : Edge{b, a, -way}; }

// Where two edges cross, on the grid; nothing when they only touch.
std::optional<Point> crossing(Edge const& e, Edge const& f) {
    std::int64_t const ea = turn(f.a, f.b, e.a);
    std::int64_t const eb = turn(f.a, f.b, e.b);
    if (sign(ea) * sign(eb) >= 0 || sign(turn(e.a, e.b, f.a)) * sign(turn(e.a, e.b, f.b)) >= 0) return {};
    double const t = static_cast<double>(ea) / (static_cast<double>(ea) - static_cast<double>(eb));
    return Point{e.a.x + std::llround(t * static_cast<double>(e.b.x - e.a.x)),
                 e.a.y + std::llround(t * static_cast<double>(e.b.y - e.a.y))};
}

// Same edges are added up; those that cancel go.
void merge(std::vector<Edge>& edges) {
    std::sort(edges.begin(), edges.end());
    std::vector<Edge> merged;
    for (Edge const& e : edges) {
        if (!merged.empty() && merged.back().a == e.a && merged.back().b == e.b)
            merged.back().way += e.way;
        else
            merged.push_back(e);
    }
    edges = std::move(merged);
}

// Corners by strips of x, each sorted by y.
class Corners {
public:
    explicit Corners(std::vector<Point> const& all) {
        auto const [least, most] = std::ranges::minmax_element(all, {}, &Point::x);
        low_ = least->x;
        strips_.resize(std::clamp<std::size_t>(all.size() / 4, 1, 4096));
        width_ = (most->x - low_) / static_cast<std::int64_t>(strips_.size()) + 1;
        for (Point const& p : all) strips_[index(p.x)].push_back(p);
        for (std::vector<Point>& strip : strips_)
            std::ranges::sort(strip, {}, [](Point const& p) { return std::pair(p.y, p.x); });
    }

    // Those whose unit square the edge passes through, its own ends left out.
    void along(Edge const& e, std::vector<Point>& found) const {
        auto const slope = e.b.x > e.a.x ? static_cast<double>(e.b.y - e.a.y) / static_cast<double>(e.b.x - e.a.x) : 0;
        for (std::size_t k = index(e.a.x - 1); k <= index(e.b.x + 1); ++k) {
            // Heights of the edge over this strip, a little widened.
            double const from = static_cast<double>(low_ + static_cast<std::int64_t>(k) * width_ - 2 - e.a.x);
            double const to = from + static_cast<double>(width_ + 4);
            double const low = std::min(slope * from, slope * to);
            double const high = std::max(slope * from, slope * to);
            auto const [edge_low, edge_high] = std::minmax(e.a.y, e.b.y);
            auto const floor_y = std::max(edge_low - 1, e.a.y + static_cast<std::int64_t>(std::floor(low)) - 2);
            auto const ceiling_y = std::min(edge_high + 1, e.a.y + static_cast<std::int64_t>(std::ceil(high)) + 2);
            bool const upright = e.a.x == e.b.x;
            auto const begin = std::ranges::lower_bound(strips_[k], upright ? edge_low - 1 : floor_y, {}, &Point::y);
            for (auto p = begin; p != strips_[k].end() && p->y <= (upright ? edge_high + 1 : ceiling_y); ++p)
                if (*p != e.a && *p != e.b && passes(e, *p)) found.push_back(*p);
        }
    }

private:
    std::size_t index(std::int64_t x) const {
        std::int64_t const k = x < low_ ? 0 : (x - low_) / width_;
        return static_cast<std::size_t>(std::min(k, std::ssize(strips_) - 1));
    }
    // In doubled coordinates, where the square's corners are whole numbers.
    static bool passes(Edge const& e, Point const& p) {
        auto const [low, high] = std::minmax(e.a.y, e.b.y);
        if (2 * e.b.x < 2 * p.x - 1 || 2 * e.a.x > 2 * p.x + 1 || 2 * high < 2 * p.y - 1 || 2 * low > 2 * p.y + 1)
            return false;
        std::int64_t const dx = e.b.x - e.a.x;
        std::int64_t const dy = e.b.y - e.a.y;
        std::int64_t const middle = dx * 2 * (p.y - e.a.y) - dy * 2 * (p.x - e.a.x);
        return std::abs(middle) <= std::abs(dx) + std::abs(dy);
    }

    std::int64_t low_ = 0;
    std::int64_t width_ = 1;
    std::vector<std::vector<Point>> strips_;
};

// The edges that the sweep along x is over, by bands of y: an edge is compared with those of its own bands.
class Active {
public:
    explicit Active(std::vector<Edge> const& edges) : edges_(edges) {
        std::int64_t high = 0;
        for (Edge const& e : edges) {
            low_ = std::min({low_, e.a.y, e.b.y});
            high = std::max({high, e.a.y, e.b.y});
        }
        bands_.resize(std::clamp<std::size_t>(edges.size() / 128, 1, kMostBands));
        width_ = (high - low_) / static_cast<std::int64_t>(bands_.size()) + 1;
    }

    // meets(k) for all before i that may cross it; then i is among them. Edges come sorted by their left ends.
    template <class Meets> void add(std::size_t i, Meets const& meets) {
        auto const [low, high] = std::minmax(edges_[i].a.y, edges_[i].b.y);
        Entry const entry{static_cast<std::int32_t>(edges_[i].b.x), static_cast<std::int32_t>(low),
                          static_cast<std::int32_t>(high), static_cast<std::uint32_t>(i)};
        auto const left = static_cast<std::int32_t>(edges_[i].a.x);
        for (std::size_t band = index(low); band <= index(high); ++band) {
            std::vector<Entry>& here = bands_[band];
            for (std::size_t k = 0; k < here.size();) {
                if (here[k].right < left) {
                    here[k] = here.back();
                    here.pop_back();
                    continue;
                }
                Entry const& other = here[k++];
                if (other.high < entry.low || other.low > entry.high) continue;
                if (index(std::max(other.low, entry.low)) == band) meets(other.edge); // once, where both begin
            }
            here.push_back(entry);
        }
    }

private:
    static constexpr std::size_t kMostBands = 32;
    struct Entry { // the grid has 25 bits
        std::int32_t right, low, high;
        std::uint32_t edge;
    };
    std::size_t index(std::int64_t y) const { return static_cast<std::size_t>((y - low_) / width_); }

    std::vector<Edge> const& edges_;
    std::int64_t low_ = INT32_MAX;
    std::int64_t width_ = 1;
    std::vector<std::vector<Entry>> bands_;
};

// All edges led through the corners; true when any was.
bool lead_through_corners(std::vector<Edge>& edges) {
    std::vector<std::vector<Point>> cuts(edges.size());
    std::vector<Point> corners;
    Active active(edges);
    for (std::size_t i = 0; i < edges.size(); ++i) {
        corners.push_back(edges[i].a);
        corners.push_back(edges[i].b);
        active.add(i, [&](std::size_t k) {
            std::optional<Point> const p = crossing(edges[i], edges[k]);
            if (!p) return;
            corners.push_back(*p);
            cuts[i].push_back(*p);
            cuts[k].push_back(*p);
        });
    }
    std::sort(corners.begin(), corners.end());
    corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
    Corners const index(corners);
    std::vector<Edge> parts;
    bool any = false;
    for (std::size_t i = 0; i < edges.size(); ++i) {
        Edge const& e = edges[i];
        std::vector<Point>& through = cuts[i];
        index.along(e, through);
        std::erase_if(through, [&](Point const& p) { return p == e.a || p == e.b; });
        any = any || !through.empty();
        std::sort(through.begin(), through.end(), [&](Point const& p, Point const& q) {
            auto const far = [&](Point const& r) {
                return (r.x - e.a.x) * (e.b.x - e.a.x) + (r.y - e.a.y) * (e.b.y - e.a.y);
            };
            return far(p) < far(q);
        });
        through.push_back(e.b);
        Point from = e.a;
        for (Point const& to : through) {
            if (to != from) parts.push_back(edge_of(from, to, e.way));
            from = to;
        }
    }
    edges = std::move(parts);
    merge(edges);
    return any;
}

// Winding to the left (above, seen along the x axis) of each edge.
class Windings {
public:
    explicit Windings(std::vector<Edge> const& edges) : edges_(edges) {
        std::int64_t high = 0;
        low_ = INT64_MAX;
        for (Edge const& e : edges) {
            low_ = std::min(low_, e.a.x);
            high = std::max(high, e.b.x);
        }
        bands_.resize(std::clamp<std::size_t>(edges.size() / 4, 1, 4096));
        width_ = (high - low_) / static_cast<std::int64_t>(bands_.size()) + 1;
        for (std::size_t i = 0; i < edges.size(); ++i)
            for (auto k = (edges[i].a.x - low_) / width_; k <= (edges[i].b.x - low_) / width_; ++k)
                bands_[static_cast<std::size_t>(k)].push_back(i);
    }

    // Just above and just below the edge's middle (an upright edge: left and right of it).
    std::pair<int, int> beside(std::size_t index) const {
        Edge const& e = edges_[index];
        if (e.a.x == e.b.x) return beside_upright(e);
        // Upward ray from the middle, in doubled coordinates; x in half-open ranges.
        std::int64_t const x2 = e.a.x + e.b.x;
        int above = 0;
        for (std::size_t const k : bands_[static_cast<std::size_t>((x2 / 2 - low_) / width_)]) {
            Edge const& f = edges_[k];
            if (k == index || !(2 * f.a.x <= x2 && x2 < 2 * f.b.x)) continue;
            if (lies_above(f, e)) above += f.way;
        }
        // A ring that runs rightward has its inside (winding +1) above when counter-clockwise.
        return {-above, -above - e.way};
    }

private:
    // f over the middle of e; exact, in doubled coordinates.
    static bool lies_above(Edge const& f, Edge const& e) {
        Point const middle{e.a.x + e.b.x, e.a.y + e.b.y};
        return (f.b.x - f.a.x) * (middle.y - 2 * f.a.y) - (f.b.y - f.a.y) * (middle.x - 2 * f.a.x) < 0;
    }

    std::pair<int, int> beside_upright(Edge const& e) const {
        // Left of it: ray upward from (x - 0, middle).
        int above = 0;
        for (std::size_t const k : bands_[static_cast<std::size_t>((std::max(e.a.x - 1, low_) - low_) / width_)]) {
            Edge const& f = edges_[k];
            if (!(f.a.x < e.a.x && e.a.x <= f.b.x)) continue;
            if (lies_above(f, e)) above += f.way;
        }
        // Upward (a to b) has its left on the left: crossing from left to right takes its way off.
        return {-above, -above - e.way};
    }

    std::vector<Edge> const& edges_;
    std::int64_t low_ = 0;
    std::int64_t width_ = 1;
    std::vector<std::vector<std::size_t>> bands_;
};

bool filled(int winding, FillRule rule) { return rule == FillRule::nonzero ? winding != 0 : winding % 2 != 0; }

double heading(Point const& from, Point const& to) {
    return std::atan2(static_cast<double>(to.y - from.y), static_cast<double>(to.x - from.x));
}

// A ring that comes through a point twice as several that do not.
void add_split(std::vector<Point> const& ring, std::vector<std::vector<Point>>& rings) {
    std::vector<Point> way;
    std::map<Point, std::size_t> place;
    for (Point const& p : ring) {
        if (auto const seen = place.find(p); seen != place.end()) {
            std::size_t const from = seen->second;
            std::vector<Point> loop(way.begin() + static_cast<std::ptrdiff_t>(from), way.end());
            for (Point const& q : loop) place.erase(q);
            way.resize(from);
            if (loop.size() >= 3) rings.push_back(std::move(loop));
        }
        place[p] = way.size();
        way.push_back(p);
    }
    if (way.size() >= 3) rings.push_back(std::move(way));
}

// Directed edges with the filled side on their left; at each corner the sharpest turn to the left, which is the first
// way clockwise from the one back. Rings may touch at points but never cross.
// Where rounding left a gap, the walk begins on its far side, so that the ring closes over the gap alone.
std::vector<std::vector<Point>> walked_rings(std::vector<std::pair<Point, Point>> const& directed) {
    std::map<Point, std::vector<std::size_t>> leaving;
    std::map<Point, int> spare; // more ways out than in
    for (std::size_t i = 0; i < directed.size(); ++i) {
        leaving[directed[i].first].push_back(i);
        ++spare[directed[i].first];
        --spare[directed[i].second];
    }
    std::vector<std::size_t> starts;
    for (bool const gap : {true, false})
        for (std::size_t i = 0; i < directed.size(); ++i)
            if ((spare[directed[i].first] > 0) == gap) starts.push_back(i);
    std::vector<char> used(directed.size(), 0);
    std::vector<std::vector<Point>> rings;
    for (std::size_t const start : starts) {
        if (used[start]) continue;
        std::vector<Point> ring;
        for (std::size_t at = start; !used[at];) {
            used[at] = 1;
            ring.push_back(directed[at].first);
            Point const corner = directed[at].second;
            double const back = heading(corner, directed[at].first);
            double least = 1e300;
            std::size_t next = at;
            for (std::size_t const k : leaving[corner]) {
                if (used[k] && k != start) continue;
                double by = back - heading(corner, directed[k].second); // clockwise from the way back
                while (by <= 1e-12) by += 6.283185307179586;
                if (by < least) least = by, next = k;
            }
            if (next == at) break;
            at = next;
        }
        add_split(ring, rings);
    }
    return rings;
}

} // namespace

std::vector<Polygon> filled_regions(std::vector<Ring> const& rings, FillRule rule) {
    Box2 box;
    std::size_t count = 0;
    for (Ring const& ring : rings) {
        for (Vec2 const& p : ring) box.add(p);
        count += ring.size();
    }
    double const size = count ? std::max(box.size().x, box.size().y) : 0;
    if (!(size > 0) || !(size < 1e12) || count > kMostEdges) return {};
    double const scale = kGrid / size;
    auto const on_grid = [&](Vec2 const& p) {
        Vec2 const q = scale * (p - box.low);
        return Point{std::llround(q.x), std::llround(q.y)};
    };
    std::vector<Edge> edges;
    for (Ring const& ring : rings)
        for (std::size_t i = 0; i < ring.size(); ++i) {
            Point const a = on_grid(ring[i]);
            Point const b = on_grid(ring[(i + 1) % ring.size()]);
            if (a != b) edges.push_back(edge_of(a, b, 1));
        }
    merge(edges);
    for (int pass = 0; pass < kMostPasses && lead_through_corners(edges); ++pass)
        if (edges.size() > 4 * kMostEdges) return {};
    std::erase_if(edges, [](Edge const& e) { return e.way == 0; });
    if (edges.empty()) return {};

    Windings const windings(edges);
    std::vector<std::pair<Point, Point>> directed;
    for (std::size_t i = 0; i < edges.size(); ++i) {
        auto const [left, right] = windings.beside(i); // of the way from a to b
        if (filled(left, rule) == filled(right, rule)) continue;
        if (filled(left, rule))
            directed.emplace_back(edges[i].a, edges[i].b);
        else
            directed.emplace_back(edges[i].b, edges[i].a);
    }
    std::vector<Polygon> regions;
    std::vector<Ring> holes;
    for (std::vector<Point> const& walked : walked_rings(directed)) {
        Ring ring;
        for (Point const& p : walked)
            ring.push_back(box.low + Vec2{static_cast<double>(p.x), static_cast<double>(p.y)} / scale);
        double const ring_area = signed_area(ring);
        if (ring_area > 0)
            regions.push_back({std::move(ring), {}});
        else if (ring_area < 0)
            holes.push_back(std::move(ring));
    }
    std::sort(regions.begin(), regions.end(),
              [](Polygon const& p, Polygon const& q) { return signed_area(p.outer) > signed_area(q.outer); });
    // Each hole goes to the smallest region around it; a point on a hole's edge, moved into the hole's clay side.
    for (Ring& hole : holes) {
        Vec2 const way = hole[1] - hole[0];
        Vec2 const probe = 0.5 * (hole[0] + hole[1]) + 1e-7 * size * glm::normalize(Vec2{-way.y, way.x});
        for (std::size_t i = regions.size(); i-- > 0;)
            if (contains(regions[i].outer, probe)) {
                regions[i].holes.push_back(std::move(hole));
                break;
            }
    }
    return regions;
}

} // namespace leafwright
