#include "cutting/pair_depth.h"

#include "base/units.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <thread>

namespace leafwright {

namespace {

void add_normals(Ring const& ring, double sign, std::vector<Vec2>& out) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
        Vec2 const edge = ring[(k + 1) % ring.size()] - ring[k];
        double const length = glm::length(edge);
        if (length > 0) out.push_back(Vec2(edge.y, -edge.x) * (sign / length));
    }
}

// Grows with the angle, from -2 to 2, and is cheap.
double turn_of(Vec2 const& n) { return n.y >= 0 ? 1 - n.x : n.x - 1; }

double angle_of(Vec2 const& n) { return std::atan2(n.y, n.x); }

double support(Ring const& ring, Vec2 const& normal) {
    double far = -std::numeric_limits<double>::max();
    for (Vec2 const& p : ring) far = std::max(far, glm::dot(p, normal));
    return far;
}

// A gap is kept round a corner too: planes between those that turn by much, or the corner would reach far.
void add_bevels(std::vector<Vec2>& normals) {
    std::size_t const n = normals.size();
    std::vector<Vec2> all;
    for (std::size_t k = 0; k < n; ++k) {
        all.push_back(normals[k]);
        double const from = angle_of(normals[k]);
        double step = angle_of(normals[(k + 1) % n]) - from;
        if (step <= 0) step += kTwoPi;
        int const parts = static_cast<int>(std::ceil(step / radians(40)));
        for (int j = 1; j < parts; ++j) {
            double const a = from + step * j / parts;
            all.push_back({std::cos(a), std::sin(a)});
        }
    }
    normals = std::move(all);
}

} // namespace

std::vector<SumPlane> convex_sum(Ring const& a, Ring const& b, double gap) {
    std::vector<Vec2> normals;
    add_normals(b, 1, normals);
    add_normals(a, -1, normals);
    std::ranges::sort(normals, {}, turn_of);
    std::vector<Vec2> distinct;
    for (Vec2 const& n : normals)
        if (distinct.empty() || glm::length(n - distinct.back()) > 1e-7) distinct.push_back(n);
    if (distinct.size() > 1 && glm::length(distinct.front() - distinct.back()) <= 1e-7) distinct.pop_back();
    if (gap > 0) add_bevels(distinct);
    std::vector<SumPlane> planes;
    planes.reserve(distinct.size());
    for (Vec2 const& n : distinct) planes.push_back({n, support(b, n) + support(a, -n) + gap});
    return planes;
}

void PairTable::build(TurnedShape const& a, TurnedShape const& b, double gap, double margin) {
    sums_.clear();
    planes_.clear();
    low_x_ = low_y_ = 3e38F;
    high_x_ = high_y_ = -3e38F;
    for (Ring const& part_b : b.parts)
        for (Ring const& part_a : a.parts) {
            add(convex_sum(part_a, part_b, gap), margin);
            Box2 const box_a = bounds(part_a), box_b = bounds(part_b);
            double const wide = gap + margin;
            Sum& s = sums_.back();
            s.low_x = static_cast<float>(box_b.low.x - box_a.high.x - wide);
            s.high_x = static_cast<float>(box_b.high.x - box_a.low.x + wide);
            s.low_y = static_cast<float>(box_b.low.y - box_a.high.y - wide);
            s.high_y = static_cast<float>(box_b.high.y - box_a.low.y + wide);
        }
    // The largest first: they tell the greatest depths, and the rest need not be looked at in full.
    std::ranges::stable_sort(sums_, std::greater<>{},
                             [](Sum const& s) { return (s.high_x - s.low_x) * (s.high_y - s.low_y); });
    for (Sum const& s : sums_) {
        low_x_ = std::min(low_x_, s.low_x), high_x_ = std::max(high_x_, s.high_x);
        low_y_ = std::min(low_y_, s.low_y), high_y_ = std::max(high_y_, s.high_y);
    }
}

// Each group takes planes from all round, so that the first one tells most misses.
unsigned append_planes(std::vector<SumPlane> const& planes, std::vector<PlaneFour>& out) {
    std::size_t const groups = (planes.size() + 3) / 4;
    for (std::size_t g = 0; g < groups; ++g) {
        PlaneFour group{four(0), four(0), four(3e38F)};
        for (std::size_t lane = 0; lane < 4; ++lane) {
            std::size_t const k = lane * groups + g;
            if (k >= planes.size()) continue;
            group.x[lane] = static_cast<float>(planes[k].normal.x);
            group.y[lane] = static_cast<float>(planes[k].normal.y);
            group.reach[lane] = static_cast<float>(planes[k].reach);
        }
        out.push_back(group);
    }
    return static_cast<unsigned>(groups);
}

void PairTable::add(std::vector<SumPlane> const& planes, double margin) {
    std::vector<SumPlane> wider = planes;
    for (SumPlane& p : wider) p.reach += margin;
    unsigned const first = static_cast<unsigned>(planes_.size());
    unsigned const count = append_planes(wider, planes_);
    sums_.push_back({0, 0, 0, 0, first, count});
}

namespace {
// As measured: what one pair takes by the number of its sums.
double grid_bytes(std::size_t sums) { return sums <= 1 ? 2e3 : sums <= 4 ? 9e3 : sums <= 30 ? 6e4 : 2.5e5; }
} // namespace

PairTables::PairTables(NestModel const& model, int threads, std::size_t most_bytes)
    : size_(model.turned.size()), margin_(4e-7 * model.scale_mm) {
    double bytes = 0;
    for (std::size_t i = 0; i < size_; ++i)
        for (std::size_t j = i; j < size_; ++j)
            bytes += grid_bytes(model.turned[i].parts.size() * model.turned[j].parts.size());
    if (bytes > static_cast<double>(most_bytes)) {
        for (TurnedShape const& t : model.turned) solids_.emplace_back(t);
        solid_gap_ = static_cast<float>(model.gap_mm + margin_);
        return;
    }
    complete_ = true;
    tables_.resize(size_ * size_);
    std::vector<DepthGrid> grids(size_ * size_);
    std::atomic<std::size_t> next{0};
    auto const work = [&] {
        for (std::size_t i = next++; i < size_; i = next++)
            for (std::size_t j = i; j < size_; ++j) {
                std::size_t const k = i * size_ + j;
                tables_[k] = std::make_unique<PairTable>();
                tables_[k]->build(model.turned[i], model.turned[j], model.gap_mm, margin_);
                grids[k] = depth_grid(*tables_[k]);
            }
    };
    std::vector<std::jthread> helpers;
    for (int t = 1; t < threads; ++t) helpers.emplace_back(work);
    work();
    helpers.clear();
    merge(grids);
}

// All grids in one stretch of memory each for cells and planes.
void PairTables::merge(std::vector<DepthGrid> const& grids) {
    views_.resize(size_ * size_);
    for (std::size_t i = 0; i < size_; ++i)
        for (std::size_t j = i; j < size_; ++j) {
            DepthGrid const& g = grids[i * size_ + j];
            unsigned const cells = static_cast<unsigned>(cells_.size()), planes = static_cast<unsigned>(planes_.size());
            float const across = static_cast<float>(1U << g.levels);
            views_[j * size_ + i] = {g.low_x, g.low_y, g.per_x, g.per_y, across, -1, cells, g.levels};
            views_[i * size_ + j] = {g.low_x, g.low_y, g.per_x, g.per_y, across, 1, cells, g.levels};
            for (DepthGrid::Cell c : g.cells) cells_.push_back({c.first + planes, c.ends});
            planes_.insert(planes_.end(), g.planes.begin(), g.planes.end());
        }
}

} // namespace leafwright
