// How deep two turned shapes lie in each other, by where the one lies seen from the other.
//
// Two convex parts meet where the difference of their places lies in a convex polygon, the Minkowski sum of the one
// and the other turned inside out; the depth is the distance to the nearest of its edges, which is how far they must
// be moved apart. Of the pairs of parts the deepest counts. The gap between pieces is part of the sums.
#pragma once

#include "cutting/four.h"
#include "cutting/nest_shapes.h"

#include <memory>

namespace leafwright {

// normal . p < reach for all planes: inside. Normals have length 1.
struct SumPlane {
    Vec2 normal;
    double reach;
};

// All p for which `a` moved by p comes nearer than the gap to `b`; a little more at sharp corners, never less.
// Sorted by angle.
std::vector<SumPlane> convex_sum(Ring const& a, Ring const& b, double gap);

class PairTable {
public:
    // margin: added to the gap, so that depth 0 in single precision is a true distance.
    void build(TurnedShape const& a, TurnedShape const& b, double gap, double margin);

    // Of a at p seen from b. Depths of at most `floor` are told as `floor`.
    float depth(float x, float y, float floor = 0) const {
        float deepest = floor;
        if (x <= low_x_ || x >= high_x_ || y <= low_y_ || y >= high_y_) return deepest;
        for (Sum const& s : sums_) {
            if (x <= s.low_x || x >= s.high_x || y <= s.low_y || y >= s.high_y) continue;
            Four const px = four(x), py = four(y);
            Four bar = four(deepest);
            Four nearest = four(3e38F);
            Planes const* plane = planes_.data() + s.first;
            Planes const* const end = plane + s.count;
            for (; plane != end; ++plane) {
                Four const d = plane->reach - plane->x * px - plane->y * py;
                if (any_at_most(d, bar)) break;
                nearest = least(nearest, d);
            }
            if (plane == end) deepest = least_of(nearest);
        }
        return deepest;
    }

    // The stretch of x that is taken at height y, for each sum that it crosses: calls take(low, high).
    template <class Take> void stretches(float y, Take&& take) const {
        if (y <= low_y_ || y >= high_y_) return;
        for (Sum const& s : sums_) {
            if (y <= s.low_y || y >= s.high_y) continue;
            float low = s.low_x, high = s.high_x;
            bool open = true;
            for (unsigned k = s.first; k < s.first + s.count; ++k)
                for (int lane = 0; lane < 4; ++lane) {
                    float const nx = planes_[k].x[lane];
                    float const rest = planes_[k].reach[lane] - planes_[k].y[lane] * y;
                    if (nx > 1e-6F)
                        high = high < rest / nx ? high : rest / nx;
                    else if (nx < -1e-6F)
                        low = low > rest / nx ? low : rest / nx;
                    else if (rest <= 0)
                        open = false;
                }
            if (open && low < high) take(low, high);
        }
    }

    std::size_t bytes() const { return sums_.size() * sizeof(Sum) + planes_.size() * sizeof(Planes); }

private:
    struct Planes {
        Four x, y, reach;
    };
    struct Sum {
        float low_x, high_x, low_y, high_y;
        unsigned first, count; // in planes_
    };
    void add(std::vector<SumPlane> const& planes, double margin);

    float low_x_ = 0, high_x_ = 0, low_y_ = 0, high_y_ = 0;
    std::vector<Sum> sums_;
    std::vector<Planes> planes_;
};

// The tables of all turned shapes of a model; or of none, when they would fill the memory.
class PairTables {
public:
    explicit PairTables(NestModel const& model, int threads, std::size_t most_bytes = std::size_t{96} << 20);
    bool complete() const { return complete_; }
    double margin() const { return margin_; }
    // Of `a` seen from `b`. From the store, or built into `scratch`. Depth at p; when `flip`, at -p.
    PairTable const& get(int a, int b, bool& flip, PairTable& scratch) const {
        flip = a > b;
        std::size_t const low = static_cast<std::size_t>(flip ? b : a), high = static_cast<std::size_t>(flip ? a : b);
        if (complete_) return *tables_[low * size_ + high];
        scratch.build(model_.turned[low], model_.turned[high], model_.gap_mm, margin_);
        return scratch;
    }
    float depth(int a, int b, Vec2 const& p) const { // complete() only
        std::size_t const i = static_cast<std::size_t>(a), j = static_cast<std::size_t>(b);
        float const x = static_cast<float>(p.x), y = static_cast<float>(p.y);
        return a <= b ? tables_[i * size_ + j]->depth(x, y) : tables_[j * size_ + i]->depth(-x, -y);
    }

private:
    NestModel const& model_;
    std::size_t size_;
    double margin_;
    bool complete_ = false;
    std::vector<std::unique_ptr<PairTable>> tables_;
};

} // namespace leafwright
