#include "piece/finished_size.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <glm/common.hpp>
#include <tbb/parallel_for.h>

namespace leafwright {

namespace {

constexpr int kRimPoints = 360;
constexpr double kLattice_mm = 6.0;

struct Box {
    Vec3 low{1e300, 1e300, 1e300};
    Vec3 high{-1e300, -1e300, -1e300};
    void add(Vec3 const& p) {
        low = glm::min(low, p);
        high = glm::max(high, p);
    }
    // Nothing that lies up to `lift` above points within these bounds can widen the box. Normals never point down.
    bool holds(Vec3 const& from, Vec3 const& to, double lift) const {
        return from.x - lift >= low.x && from.y - lift >= low.y && from.z >= low.z && to.x + lift <= high.x &&
               to.y + lift <= high.y && to.z + lift <= high.z;
    }
    bool holds(LaidPoint const& p, double lift) const {
        Vec3 const top = p.position + lift * p.normal;
        return holds(glm::min(p.position, top), glm::max(p.position, top), 0);
    }
};

std::vector<LaidPoint> lattice_inside_rim(ClaySurface const& face) {
    Ring const rim = face.rim_chart(kRimPoints);
    Box2 const box = bounds(rim);
    std::vector<LaidPoint> lattice;
    for (double y = box.low.y; y <= box.high.y; y += kLattice_mm)
        for (double x = box.low.x; x <= box.high.x; x += kLattice_mm)
            if (contains(rim, Vec2(x, y))) lattice.push_back(face.at_chart({x, y}));
    return lattice;
}

// The highest cell of the patch within half a lattice step of the point.
double highest_near(HeightPatch const& patch, Vec2 const& chart) {
    auto const cell = [&](double at, double origin) {
        return static_cast<int>(std::floor((at - origin) / patch.cell_mm + 0.5));
    };
    double const reach = 0.5 * kLattice_mm;
    int const first_column = std::max(0, cell(chart.x - reach, patch.origin_mm.x));
    int const last_column = std::min(patch.columns - 1, cell(chart.x + reach, patch.origin_mm.x));
    int const first_row = std::max(0, cell(chart.y - reach, patch.origin_mm.y));
    int const last_row = std::min(patch.rows - 1, cell(chart.y + reach, patch.origin_mm.y));
    float highest = 0;
    for (int row = first_row; row <= last_row; ++row) {
        float const* const cells =
            patch.height_mm.data() + static_cast<std::size_t>(row) * static_cast<std::size_t>(patch.columns);
        for (int column = first_column; column <= last_column; ++column) highest = std::max(highest, cells[column]);
    }
    return static_cast<double>(highest);
}

double height_at(HeightPatch const& patch, Vec2 const& chart) {
    return patch.columns > 0 && patch.rows > 0 ? patch.at(chart) : 0.0;
}

} // namespace

void SizeKeeper::keep_face(Plan const& plan) {
    if (face_ == plan.outer_face) return;
    face_ = plan.outer_face;
    lattice_ = lattice_inside_rim(*face_);
    std::ranges::stable_sort(lattice_, std::greater<>(), [](LaidPoint const& p) { return p.position.z; });
    rim_.clear();
    for (int i = 0; i < kRimPoints; ++i) {
        double const azimuth = kTwoPi * i / kRimPoints;
        rim_.push_back(face_->at({azimuth, face_->rim_from_crown_mm(azimuth)}));
    }
    leaves_.clear();
}

void SizeKeeper::keep_leaves(Plan const& plan) {
    std::unordered_map<LaidLeaf const*, Outline> kept;
    std::vector<Outline*> fresh;
    for (auto const& leaf : plan.laid) {
        auto const found = leaves_.find(leaf.get());
        Outline& outline = kept[leaf.get()];
        if (found != leaves_.end())
            outline = std::move(found->second);
        else {
            outline.leaf = leaf;
            fresh.push_back(&outline); // nodes of the map stay where they are
        }
    }
    tbb::parallel_for(std::size_t{0}, fresh.size(), [&](std::size_t i) {
        Ring const& ring = fresh[i]->leaf->chart.outer;
        fresh[i]->points.reserve(ring.size());
        for (Vec2 const& chart : ring) fresh[i]->points.push_back(face_->at_chart(chart));
        Box box;
        for (LaidPoint const& p : fresh[i]->points) box.add(p.position);
        fresh[i]->low = box.low;
        fresh[i]->high = box.high;
    });
    leaves_ = std::move(kept);
}

Vec3 SizeKeeper::size_mm(Plan const& plan) {
    keep_face(plan);
    keep_leaves(plan);
    HeightPatch const& height = plan.stack->height;
    Box box;
    box.add({0, 0, 0}); // the board, behind the crown
    for (LaidPoint const& p : rim_) box.add(p.position);
    // Whatever cannot widen the box is passed over: on most steps of a drag nearly all.
    double const most = plan.stack->most_mm;
    for (LaidPoint const& p : lattice_)
        if (!box.holds(p, most)) box.add(p.position + highest_near(height, p.chart) * p.normal);
    for (auto const& [leaf, outline] : leaves_) {
        if (box.holds(outline.low, outline.high, most)) continue;
        for (LaidPoint const& p : outline.points)
            if (!box.holds(p, most)) box.add(p.position + height_at(height, p.chart) * p.normal);
    }
    return {box.high.x - box.low.x, box.high.y - box.low.y, box.high.z};
}

} // namespace leafwright
