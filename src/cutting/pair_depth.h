// How deep two turned shapes lie in each other, by where the one lies seen from the other.
//
// Two convex parts meet where the difference of their places lies in a convex polygon, the Minkowski sum of the one
// and the other turned inside out; the depth is the distance to the nearest of its edges, which is how far they must
// be moved apart. Of the pairs of parts the deepest counts. The gap between pieces is part of the sums.
#pragma once

#include "cutting/four.h"
#include "cutting/nest_shapes.h"
#include "cutting/solid_depth.h"

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

struct PlaneFour {
    Four x, y, reach;
};

// Packs planes by fours, those of one group from all round. The number of groups.
unsigned append_planes(std::vector<SumPlane> const& planes, std::vector<PlaneFour>& out);

class PairTable {
public:
    // margin: added to the gap, so that depth 0 in single precision is a true distance.
    void build(TurnedShape const& a, TurnedShape const& b, double gap, double margin);

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

    std::size_t bytes() const { return sums_.size() * sizeof(Sum) + planes_.size() * sizeof(PlaneFour); }

private:
    struct Sum {
        float low_x, high_x, low_y, high_y;
        unsigned first, count; // in planes_
    };
    friend class GridMaker;
    void add(std::vector<SumPlane> const& planes, double margin);

    float low_x_ = 0, high_x_ = 0, low_y_ = 0, high_y_ = 0;
    std::vector<Sum> sums_;
    std::vector<PlaneFour> planes_;
};

// Depths of one pair over a grid: each cell holds the few planes that can matter in it.
struct DepthGrid {
    struct Cell {
        unsigned first = 0; // in the planes
        unsigned ends = 0;  // bit k: a sum ends with plane group k; 0: nobody meets here
    };
    float low_x = 0, low_y = 0, per_x = 0, per_y = 0;
    unsigned levels = 0;
    std::vector<Cell> cells;
    std::vector<PlaneFour> planes;
};
DepthGrid depth_grid(PairTable const& table);

// The tables of all turned shapes of a model; or of none, when they would fill the memory or take long to make.
class PairTables {
public:
    PairTables(NestModel const& model, int threads, std::size_t most_bytes = std::size_t{160} << 20);
    bool complete() const { return complete_; }
    double margin() const { return margin_; }
    // Of `a` seen from `b`, for stretches at p; when `flip`, at -p. complete() only.
    PairTable const& get(int a, int b, bool& flip) const {
        flip = a > b;
        std::size_t const low = static_cast<std::size_t>(flip ? b : a), high = static_cast<std::size_t>(flip ? a : b);
        return *tables_[low * size_ + high];
    }

    // Depth of `a` at p seen from `b`, in three steps, so that the memory of many pairs is fetched at once:
    // place() finds the cell, begin() asks for its planes, depth() reckons. complete() only.
    struct Probe {
        DepthGrid::Cell const* cell;
        float x, y;
    };
    bool place(int a, int b, float x, float y, Probe& probe) const {
        View const& view = views_[static_cast<std::size_t>(a) * size_ + static_cast<std::size_t>(b)];
        x *= view.sign, y *= view.sign;
        float const u = (x - view.low_x) * view.per_x, v = (y - view.low_y) * view.per_y;
        if (!(u >= 0 && v >= 0 && u < view.across && v < view.across)) return false;
        probe = {cells_.data() + view.cells + ((static_cast<unsigned>(v) << view.levels) + static_cast<unsigned>(u)), x,
                 y};
        __builtin_prefetch(probe.cell);
        return true;
    }
    bool begin(Probe const& probe) const {
        if (probe.cell->ends == 0) return false;
        __builtin_prefetch(planes_.data() + probe.cell->first);
        return true;
    }
    float depth(Probe const& probe) const {
        PlaneFour const* plane = planes_.data() + probe.cell->first;
        Four const x = four(probe.x), y = four(probe.y);
        float deepest = 0;
        Four nearest = four(3e38F);
        for (unsigned ends = probe.cell->ends; ends != 0; ends >>= 1, ++plane) {
            nearest = least(nearest, plane->reach - plane->x * x - plane->y * y);
            if ((ends & 1) == 0) continue;
            float const d = least_of(nearest);
            deepest = deepest > d ? deepest : d;
            nearest = four(3e38F);
        }
        return deepest;
    }
    // With tables or without.
    float depth(int a, int b, Vec2 const& p) const {
        float const x = static_cast<float>(p.x), y = static_cast<float>(p.y);
        if (!complete_)
            return solids_[static_cast<std::size_t>(a)].depth(solids_[static_cast<std::size_t>(b)], x, y, solid_gap_);
        Probe probe;
        return place(a, b, x, y, probe) ? depth(probe) : 0;
    }

private:
    struct View {
        float low_x, low_y, per_x, per_y, across, sign;
        unsigned cells, levels;
    };
    void merge(std::vector<DepthGrid> const& grids);

    std::size_t size_;
    double margin_;
    bool complete_ = false;
    std::vector<std::unique_ptr<PairTable>> tables_;
    std::vector<SolidShape> solids_; // when not complete
    float solid_gap_ = 0;
    std::vector<View> views_;
    std::vector<DepthGrid::Cell> cells_;
    std::vector<PlaneFour> planes_;
};

} // namespace leafwright
