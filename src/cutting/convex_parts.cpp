#include "cutting/convex_parts.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace leafwright {

namespace {

using Corners = std::vector<int>;

double turn_at(Vec2 const& a, Vec2 const& b, Vec2 const& c) { return cross(b - a, c - b); }

bool in_triangle(Vec2 const& a, Vec2 const& b, Vec2 const& c, Vec2 const& p) {
    return turn_at(a, b, p) >= 0 && turn_at(b, c, p) >= 0 && turn_at(c, a, p) >= 0;
}

// All rings as one closed walk: each hole is joined by a bridge there and back.
class Walk {
public:
    explicit Walk(Polygon const& polygon) {
        append(polygon.outer);
        corners_.resize(points_.size());
        std::iota(corners_.begin(), corners_.end(), 0);
        std::vector<Ring> holes = polygon.holes;
        std::ranges::sort(holes, {}, [](Ring const& hole) { return -bounds(hole).high.x; });
        for (Ring const& hole : holes) bridge(hole);
    }
    std::vector<Vec2> const& points() const { return points_; }
    Corners const& corners() const { return corners_; }

private:
    void append(Ring const& ring) { points_.insert(points_.end(), ring.begin(), ring.end()); }

    // From the hole's rightmost point to the nearest corner of the walk that it can see.
    void bridge(Ring const& hole) {
        if (hole.size() < 3) return;
        int const first = static_cast<int>(points_.size());
        append(hole);
        auto const right = std::ranges::max_element(hole, {}, [](Vec2 const& p) { return p.x; });
        int const start = static_cast<int>(right - hole.begin());
        std::size_t const at = seen_from(*right);
        Corners joined(corners_.begin(), corners_.begin() + static_cast<std::ptrdiff_t>(at) + 1);
        int const n = static_cast<int>(hole.size());
        for (int k = 0; k <= n; ++k) joined.push_back(first + (start + k) % n);
        joined.insert(joined.end(), corners_.begin() + static_cast<std::ptrdiff_t>(at), corners_.end());
        corners_ = std::move(joined);
    }

    std::size_t seen_from(Vec2 const& p) const {
        std::size_t best = 0;
        double nearest = std::numeric_limits<double>::max();
        for (std::size_t k = 0; k < corners_.size(); ++k) {
            Vec2 const& q = points_[static_cast<std::size_t>(corners_[k])];
            double const distance = glm::dot(q - p, q - p);
            if (q.x >= p.x && distance < nearest && opens_to(k, p) && is_clear(p, q)) {
                nearest = distance;
                best = k;
            }
        }
        return best;
    }

    Vec2 const& corner(std::size_t k) const { return points_[static_cast<std::size_t>(corners_[k % corners_.size()])]; }

    // p lies in the angle of the solid at corner k.
    bool opens_to(std::size_t k, Vec2 const& p) const {
        Vec2 const& before = corner(k + corners_.size() - 1);
        Vec2 const& here = corner(k);
        Vec2 const& after = corner(k + 1);
        bool const left_of_in = turn_at(before, here, p) > 0;
        bool const left_of_out = turn_at(here, after, p) > 0;
        return turn_at(before, here, after) >= 0 ? left_of_in && left_of_out : left_of_in || left_of_out;
    }

    bool is_clear(Vec2 const& p, Vec2 const& q) const {
        for (std::size_t k = 0; k < corners_.size(); ++k) {
            Vec2 const& a = corner(k);
            Vec2 const& b = corner(k + 1);
            if (a == q || b == q) continue;
            if (turn_at(p, q, a) * turn_at(p, q, b) <= 0 && turn_at(a, b, p) * turn_at(a, b, q) <= 0) return false;
        }
        return true;
    }

    std::vector<Vec2> points_;
    Corners corners_;
};

class EarClipper {
public:
    EarClipper(std::vector<Vec2> const& points, Corners corners) : points_(points), corners_(std::move(corners)) {}

    std::vector<Corners> triangles() {
        std::vector<Corners> found;
        std::size_t k = 0;
        std::size_t tried = 0;
        while (corners_.size() > 3) {
            std::size_t const n = corners_.size();
            k %= n;
            if (tried <= n ? is_ear(k) : turn(k) >= 0 || tried > 2 * n) {
                if (turn(k) > 0) found.push_back({at(k + n - 1), at(k), at(k + 1)});
                corners_.erase(corners_.begin() + static_cast<std::ptrdiff_t>(k));
                tried = 0;
                k += 1; // spreads the cuts round the walk: fewer slivers
            } else {
                ++k;
                ++tried;
            }
        }
        if (corners_.size() == 3 && turn(1) > 0) found.push_back(corners_);
        return found;
    }

private:
    int at(std::size_t k) const { return corners_[k % corners_.size()]; }
    Vec2 const& point(std::size_t k) const { return points_[static_cast<std::size_t>(at(k))]; }
    double turn(std::size_t k) const { return turn_at(point(k + corners_.size() - 1), point(k), point(k + 1)); }

    bool is_ear(std::size_t k) const {
        std::size_t const n = corners_.size();
        double const t = turn(k);
        if (t <= 0) return t == 0;
        Vec2 const& a = point(k + n - 1);
        Vec2 const& b = point(k);
        Vec2 const& c = point(k + 1);
        for (std::size_t j = k + 2; j < k + n - 1; ++j) {
            Vec2 const& p = point(j);
            if (p == a || p == b || p == c || turn(j) > 0) continue;
            if (in_triangle(a, b, c, p)) return false;
        }
        return true;
    }

    std::vector<Vec2> const& points_;
    Corners corners_;
};

// Joins b to a over a common edge when the union is convex; empty when it is not, or when they share none.
Corners joined(std::vector<Vec2> const& points, Corners const& a, Corners const& b) {
    std::size_t const n = a.size();
    std::size_t const m = b.size();
    auto const p = [&](int k) -> Vec2 const& { return points[static_cast<std::size_t>(k)]; };
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < m; ++j) {
            if (p(a[i]) != p(b[(j + 1) % m]) || p(a[(i + 1) % n]) != p(b[j])) continue;
            // a: .. before, a[i], | a[i+1], after ..; b runs between them.
            if (turn_at(p(a[(i + n - 1) % n]), p(a[i]), p(b[(j + 2) % m])) < 0) return {};
            if (turn_at(p(b[(j + m - 1) % m]), p(b[j]), p(a[(i + 2) % n])) < 0) return {};
            Corners out;
            for (std::size_t k = 1; k <= n; ++k) out.push_back(a[(i + k) % n]);
            for (std::size_t k = 2; k < m; ++k) out.push_back(b[(j + k) % m]);
            return out;
        }
    return {};
}

struct Growth {
    Corners ring;
    std::vector<char> holds; // by triangle
};

Growth grown_from(std::size_t seed, std::vector<Vec2> const& points, std::vector<Corners> const& triangles) {
    Growth part{triangles[seed], std::vector<char>(triangles.size(), 0)};
    part.holds[seed] = 1;
    auto const area_of = [&](std::size_t t) {
        Ring ring;
        for (int k : triangles[t]) ring.push_back(points[static_cast<std::size_t>(k)]);
        return signed_area(ring);
    };
    for (bool grew = true; grew;) {
        grew = false;
        std::size_t best = 0;
        double most = 0;
        Corners wider;
        for (std::size_t t = 0; t < triangles.size(); ++t) {
            if (part.holds[t]) continue;
            Corners tried = joined(points, part.ring, triangles[t]);
            if (tried.empty() || area_of(t) <= most) continue;
            best = t, most = area_of(t), wider = std::move(tried);
        }
        if (wider.empty()) break;
        part.ring = std::move(wider);
        part.holds[best] = 1;
        grew = true;
    }
    return part;
}

Ring ring_of(std::vector<Vec2> const& points, Corners const& corners) {
    Ring ring;
    for (int k : corners) ring.push_back(points[static_cast<std::size_t>(k)]);
    return ring;
}

// Points on a straight run add nothing to a convex part.
Ring without_straight(Ring const& ring) {
    Ring out;
    std::size_t const n = ring.size();
    for (std::size_t k = 0; k < n; ++k) {
        Vec2 const& a = ring[(k + n - 1) % n];
        Vec2 const& c = ring[(k + 1) % n];
        if (turn_at(a, ring[k], c) > 1e-14 * glm::dot(c - a, c - a)) out.push_back(ring[k]);
    }
    return out.size() >= 3 ? out : ring;
}

} // namespace

std::vector<Ring> triangles_of(Polygon const& polygon) {
    Walk const walk(polygon);
    std::vector<Ring> out;
    for (Corners const& t : EarClipper(walk.points(), walk.corners()).triangles())
        out.push_back(ring_of(walk.points(), t));
    return out;
}

std::vector<Ring> convex_parts(Polygon const& polygon) {
    Walk const walk(polygon);
    std::vector<Corners> const triangles = EarClipper(walk.points(), walk.corners()).triangles();
    // Of many triangles only those are grown that no earlier growth holds.
    bool const many = triangles.size() > 30;
    std::vector<char> held(triangles.size(), 0);
    std::vector<Growth> grown;
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        if (many && held[t]) continue;
        grown.push_back(grown_from(t, walk.points(), triangles));
        for (std::size_t k = 0; k < held.size(); ++k) held[k] = static_cast<char>(held[k] | grown.back().holds[k]);
    }
    std::ranges::stable_sort(grown, std::greater<>{},
                             [&](Growth const& g) { return signed_area(ring_of(walk.points(), g.ring)); });
    std::vector<char> covered(triangles.size(), 0);
    std::vector<Ring> parts;
    for (Growth const& g : grown) {
        bool adds = false;
        for (std::size_t t = 0; t < covered.size(); ++t) adds = adds || (g.holds[t] && !covered[t]);
        if (!adds) continue;
        for (std::size_t t = 0; t < covered.size(); ++t) covered[t] = static_cast<char>(covered[t] | g.holds[t]);
        parts.push_back(without_straight(ring_of(walk.points(), g.ring)));
    }
    return parts;
}

} // namespace leafwright
