#include "cutting/outward.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <queue>

namespace leafwright {

namespace {

Ring cleaned_ring(Ring const& given) {
    Ring ring;
    for (Vec2 const& p : given)
        if (ring.empty() || p != ring.back()) ring.push_back(p);
    while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
    Ring out;
    std::size_t const n = ring.size();
    for (std::size_t k = 0; k < n; ++k) {
        Vec2 const& a = out.empty() ? ring[(k + n - 1) % n] : out.back();
        Vec2 const& c = ring[(k + 1) % n];
        bool const straight = cross(ring[k] - a, c - ring[k]) == 0 && glm::dot(ring[k] - a, c - ring[k]) > 0;
        if (!straight) out.push_back(ring[k]);
    }
    return out;
}

// One ring as a list of corners, solid on the left, that loses its cheapest corner or edge again and again.
class Thinner {
public:
    Thinner(Ring ring, double tolerance) : points_(std::move(ring)), tolerance_(tolerance) {
        std::size_t const n = points_.size();
        next_.resize(n), before_.resize(n), version_.resize(n), error_.resize(n);
        for (std::size_t k = 0; k < n; ++k) {
            next_[k] = (k + 1) % n;
            before_[k] = (k + n - 1) % n;
        }
        alive_ = n;
        for (std::size_t k = 0; k < n; ++k) offer(k);
    }

    Ring thinned() {
        while (!queue_.empty() && alive_ > 3) {
            Offer const best = queue_.top();
            queue_.pop();
            if (best.version != stamp(best.at)) continue;
            best.cuts_edge ? lengthen(best) : drop(best);
        }
        Ring out;
        std::size_t k = first_;
        for (std::size_t count = 0; count < alive_; ++count, k = next_[k]) out.push_back(points_[k]);
        return out;
    }

private:
    struct Offer {
        double cost;
        std::size_t at; // the corner to drop, or the start of the edge to lose
        bool cuts_edge;
        Vec2 meets; // where the neighbours of a lost edge meet
        unsigned long version;
        bool operator<(Offer const& other) const { return cost > other.cost; }
    };

    unsigned long stamp(std::size_t k) const {
        return version_[before_[k]] + version_[k] + version_[next_[k]] + version_[next_[next_[k]]];
    }

    void offer(std::size_t k) {
        if (auto const o = corner_offer(k)) queue_.push(*o);
        if (auto const o = edge_offer(k)) queue_.push(*o);
    }

    // A hollow corner: the straight line past it only adds.
    std::optional<Offer> corner_offer(std::size_t k) const {
        Vec2 const& a = points_[before_[k]];
        Vec2 const& b = points_[k];
        Vec2 const& c = points_[next_[k]];
        double const turn = cross(b - a, c - b);
        double const base = glm::length(c - a);
        if (turn > 0 || !(base > 0) || glm::dot(b - a, c - a) < 0 || glm::dot(c - b, c - a) < 0) return {};
        double const moved = std::max(error_[before_[k]], error_[k]) - turn / base;
        if (moved > tolerance_) return {};
        return Offer{moved, k, false, {}, stamp(k)};
    }

    // An edge between two bulging corners: its neighbours, made longer, meet outside it.
    std::optional<Offer> edge_offer(std::size_t k) const {
        Vec2 const& a = points_[before_[k]];
        Vec2 const& b = points_[k];
        Vec2 const& c = points_[next_[k]];
        Vec2 const& d = points_[next_[next_[k]]];
        double const whole = cross(b - a, d - c);
        if (cross(b - a, c - b) <= 0 || cross(c - b, d - c) <= 0 ||
            whole <= 1e-9 * glm::length(b - a) * glm::length(d - c))
            return {};
        Vec2 const meets = b + (b - a) * (cross(c - b, d - c) / whole);
        double const moved = cross(c - b, meets - b) / -glm::length(c - b);
        double const total = std::max({error_[before_[k]], error_[k], error_[next_[k]]}) + moved;
        if (!(total <= tolerance_)) return {};
        return Offer{total, k, true, meets, stamp(k)};
    }

    void drop(Offer const& o) {
        std::size_t const a = before_[o.at];
        std::size_t const c = next_[o.at];
        error_[a] = o.cost;
        unlink(o.at);
        touch(a, c);
    }

    void lengthen(Offer const& o) {
        std::size_t const gone = next_[o.at];
        points_[o.at] = o.meets;
        error_[before_[o.at]] = error_[o.at] = o.cost;
        unlink(gone);
        touch(o.at, next_[o.at]);
    }

    void unlink(std::size_t k) {
        next_[before_[k]] = next_[k];
        before_[next_[k]] = before_[k];
        if (first_ == k) first_ = next_[k];
        version_[k] += ++counter_;
        --alive_;
    }

    void touch(std::size_t a, std::size_t b) {
        counter_ += 1;
        for (std::size_t k : {a, b}) version_[k] += counter_;
        for (std::size_t k : {before_[before_[a]], before_[a], a, b, next_[b]}) offer(k);
    }

    Ring points_;
    double tolerance_;
    std::vector<std::size_t> next_, before_;
    std::vector<unsigned long> version_;
    std::vector<double> error_; // of the edge that starts at a corner
    std::priority_queue<Offer> queue_;
    std::size_t first_ = 0, alive_ = 0;
    unsigned long counter_ = 0;
};

} // namespace

Polygon cleaned(Polygon const& polygon) {
    Polygon out;
    out.outer = counter_clockwise(cleaned_ring(polygon.outer));
    for (Ring const& hole : polygon.holes) {
        Ring ring = counter_clockwise(cleaned_ring(hole));
        if (ring.size() < 3 || signed_area(ring) <= 0) continue;
        std::ranges::reverse(ring);
        out.holes.push_back(std::move(ring));
    }
    return out;
}

Polygon simplified_outward(Polygon const& polygon, double tolerance_mm) {
    Polygon out;
    out.outer = Thinner(polygon.outer, tolerance_mm).thinned();
    for (Ring const& hole : polygon.holes) {
        Ring ring = Thinner(hole, tolerance_mm).thinned();
        if (ring.size() >= 3 && signed_area(ring) < 0) out.holes.push_back(std::move(ring));
    }
    return out;
}

} // namespace leafwright
