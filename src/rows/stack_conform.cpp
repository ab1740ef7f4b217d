#include "rows/stack_conform.h"

#include <Eigen/Core>

#include <cassert>

namespace leafwright {

namespace {

constexpr double kRoundEdge_mm = 2.0;      // half-width of the tent over the outline
constexpr float kLyingShare = 0.2F;        // a cell with less of the leaf does not hold it up
constexpr double kRim_mm = 3.0;            // the underside goes on this far beyond the outline
constexpr double kSmoothThicknesses = 0.8; // half-width of the tent over the upper side, in thicknesses
constexpr double kMostSmooth_mm = 6.0;
constexpr float kLeastChange = -0.5F; // of the even thickness, where the leaf goes over an edge
constexpr float kMostChange = 0.7F;   // where it fills a hollow
constexpr float kBondGap_mm = 0.2F;
constexpr float kSomething_mm = 0.05F; // less than this above the slab is no leaf

using Index = Eigen::Index;

Eigen::Map<Eigen::ArrayXf> cells(std::vector<float>& v, Index first, Index count) { return {v.data() + first, count}; }
Eigen::Map<Eigen::ArrayXf> all(std::vector<float>& v) { return cells(v, 0, static_cast<Index>(v.size())); }
Eigen::Map<Eigen::ArrayXf const> all(std::span<float const> v) { return {v.data(), static_cast<Index>(v.size())}; }

int rim_cells(double cell_mm) { return static_cast<int>(std::ceil(kRim_mm / cell_mm)); }

double edge_half_width_mm(double cell_mm) { return std::max(kRoundEdge_mm, 1.25 * cell_mm); }

// The smallest box round the cells that hold the leaf up.
CellBox lying_box(Coverage const& coverage) {
    CellBox const& box = coverage.box;
    auto const line = [&](int row) { return coverage.share.data() + Index(row) * box.columns; };
    auto const is_empty = [&](int row) {
        return all(std::span(line(row), std::size_t(box.columns))).maxCoeff() < kLyingShare;
    };
    int low = 0;
    while (low < box.rows && is_empty(low)) ++low;
    if (low == box.rows) return {};
    int high = box.rows - 1;
    while (is_empty(high)) --high;
    int left = box.columns, right = -1;
    for (int row = low; row <= high; ++row) {
        for (int i = 0; i < left; ++i)
            if (line(row)[i] >= kLyingShare) left = i;
        for (int i = box.columns - 1; i > right; --i)
            if (line(row)[i] >= kLyingShare) right = i;
    }
    return {box.left + left, box.low + low, right - left + 1, high - low + 1};
}

// Underside where the leaf lies: bottom and known (1 or 0) over the coverage's box.
void lay_underside(Coverage const& coverage, std::span<float const> ground, StackOptions const& options,
                   std::vector<float>& bottom, PressScratch& s) {
    bottom.assign(coverage.share.size(), 0.0F);
    s.known.assign(coverage.share.size(), 0.0F);
    CellBox const lying = lying_box(coverage);
    s.ground.resize(lying.size());
    s.closed.resize(lying.size());
    // Plain loops over bare pointers, both arms at hand: the compiler works on several cells at once.
    auto const each_row = [&](auto&& work) {
        for (int j = lying.low; j < lying.low + lying.rows; ++j)
            work(lying.index(lying.left, j), coverage.box.index(lying.left, j), lying.columns);
    };
    each_row([&](std::size_t inner, std::size_t outer, int count) {
        float const* const share = coverage.share.data() + outer;
        float const* const height = ground.data() + outer;
        float* const to = s.ground.data() + inner;
        for (int i = 0; i < count; ++i) {
            float const here = height[i];
            to[i] = share[i] < kLyingShare ? kNoGround_mm : here;
        }
    });
    close_by_paraboloid(s.ground, lying.columns, lying.rows, options.cell_mm, options.bend_radius_mm, s.closed,
                        s.closing);
    each_row([&](std::size_t inner, std::size_t outer, int count) {
        float const* const from = s.ground.data() + inner;
        float const* const closed = s.closed.data() + inner;
        float* const to = bottom.data() + outer;
        float* const known = s.known.data() + outer;
        for (int i = 0; i < count; ++i) {
            float const sheet = closed[i];
            to[i] = from[i] > kNoGround_mm ? sheet : 0.0F;
            known[i] = from[i] > kNoGround_mm ? 1.0F : 0.0F;
        }
    });
}

// One ring of cells round the known ones takes the mean of its known neighbours. bottom is 0 where it is not known.
void grow_underside(Index columns, Index rows, std::vector<float>& bottom, PressScratch& s) {
    s.row_sum.resize(bottom.size());
    s.row_count.resize(bottom.size());
    Index const inner = static_cast<Index>(bottom.size()) - 2;
    cells(s.row_sum, 1, inner) = cells(bottom, 0, inner) + cells(bottom, 1, inner) + cells(bottom, 2, inner);
    cells(s.row_count, 1, inner) = cells(s.known, 0, inner) + cells(s.known, 1, inner) + cells(s.known, 2, inner);
    for (Index row = 1; row + 1 < rows; ++row) {
        Index const start = row * columns + 1;
        auto const three_rows = [&](std::vector<float>& v) {
            return cells(v, start - columns, columns - 2) + cells(v, start, columns - 2) +
                   cells(v, start + columns, columns - 2);
        };
        auto known = cells(s.known, start, columns - 2);
        cells(bottom, start, columns - 2) += (1.0F - known) * three_rows(s.row_sum) / three_rows(s.row_count).max(1.0F);
        known = three_rows(s.row_count).min(1.0F);
    }
}

// Slivers too thin to hold the leaf up, far from where it lies: they simply lie on the ground.
void lay_slivers(Coverage const& coverage, std::span<float const> ground, std::vector<float>& bottom, PressScratch& s) {
    float const* const share = coverage.share.data();
    float const* const height = ground.data();
    float* const to = bottom.data();
    float* const known = s.known.data();
    std::size_t const count = bottom.size();
    for (std::size_t i = 0; i < count; ++i) {
        bool const sliver = (known[i] == 0.0F) & (share[i] > 0.0F);
        float const here = height[i];
        float const now = to[i];
        float const was = known[i];
        to[i] = sliver ? here : now;
        known[i] = sliver ? 1.0F : was;
    }
}

// How much clay smoothing the upper side adds to each cell, in thicknesses.
void smooth_upper_side(Coverage const& coverage, double thickness_mm, double cell_mm, std::vector<float> const& bottom,
                       PressScratch& s) {
    std::vector<float> const weights =
        tent_weights(std::min(kSmoothThicknesses * thickness_mm, kMostSmooth_mm), cell_mm);
    s.smooth = bottom; // 0 where not known
    blur(s.smooth, coverage.box.columns, coverage.box.rows, weights, s.blurred);
    s.row_count = s.known;
    blur(s.row_count, coverage.box.columns, coverage.box.rows, weights, s.blurred);
    s.thickness.resize(bottom.size());
    auto const level = all(s.smooth) / all(s.row_count).max(1e-6F);
    all(s.thickness) =
        ((level - all(bottom)) * static_cast<float>(1.0 / thickness_mm)).max(kLeastChange).min(kMostChange);
}

// From changes in thicknesses, made to add up to 0, to millimetres of clay that add up to the volume.
void share_out_clay(Coverage const& coverage, double volume_mm3, double cell_mm, PressScratch& s) {
    auto const share = all(coverage.share);
    auto change = all(s.thickness);
    s.smooth.resize(s.thickness.size());
    auto const shared_sum = [&](auto const& expression) {
        all(s.smooth) = share * expression;
        return sum_of(s.smooth);
    };
    double const added = shared_sum(change.max(0.0F));
    double const taken = -shared_sum(change.min(0.0F));
    // The greater part gives way, so that flat places keep the even thickness.
    float const keep_added = added > taken ? static_cast<float>(taken / added) : 1.0F;
    float const keep_taken = taken > added ? static_cast<float>(added / taken) : 1.0F;
    change = share * (1.0F + keep_added * change.max(0.0F) + keep_taken * change.min(0.0F));
    double const sum = sum_of(s.thickness);
    if (sum > 0) change *= static_cast<float>(volume_mm3 / (sum * cell_mm * cell_mm)); // else a leaf without area
}

struct Contact {
    double gap_mm3 = 0;
    double bonded_share = 0;
};

Contact contact_of(Coverage const& coverage, std::span<float const> ground, std::vector<float> const& on_slab,
                   double cell_mm, PressScratch& s) {
    auto const share = all(coverage.share);
    double const whole = sum_of(coverage.share);
    s.smooth.resize(s.lift.size());
    all(s.smooth) = share * all(s.lift);
    double const gap = sum_of(s.smooth);
    float const* const height = ground.data();
    float* const bonded = s.smooth.data();
    for (std::size_t i = 0; i < s.lift.size(); ++i) {
        float const beneath = height[i] + on_slab[i]; // in mm: slab counts as something
        bool const holds = (s.lift[i] < kBondGap_mm) & (beneath > kSomething_mm);
        float const here = coverage.share[i];
        bonded[i] = holds ? here : 0.0F;
    }
    return {gap * cell_mm * cell_mm, whole > 0 ? sum_of(s.smooth) / whole : 0.0};
}

HeightPatch empty_patch(CellBox const& box, double cell_mm) {
    return {cell_middle(box.left, box.low, cell_mm), cell_mm, box.columns, box.rows, {}};
}

} // namespace

Coverage leaf_coverage(Polygon const& chart, double cell_mm) {
    std::vector<float> const weights = tent_weights(edge_half_width_mm(cell_mm), cell_mm);
    Coverage coverage = cover(chart, cell_mm, static_cast<int>(weights.size() / 2) + rim_cells(cell_mm) + 1);
    std::vector<float> scratch;
    blur(coverage.share, coverage.box.columns, coverage.box.rows, weights, scratch);
    return coverage;
}

PressedLeaf press_leaf(LaidLeaf const& leaf, Coverage const& coverage, std::span<float const> ground,
                       std::vector<float> const& on_slab, StackOptions const& options, PressScratch& s) {
    assert(ground.size() == coverage.share.size() && on_slab.size() == coverage.share.size());
    CellBox const& box = coverage.box;
    double const cell_mm = options.cell_mm;
    auto relief = std::make_shared<LeafRelief>();
    relief->id = leaf.placement.id;
    relief->bottom = empty_patch(box, cell_mm);
    relief->top = empty_patch(box, cell_mm);
    std::vector<float>& bottom = relief->bottom.height_mm;
    lay_underside(coverage, ground, options, bottom, s);
    for (int ring = 0; ring < rim_cells(cell_mm); ++ring) grow_underside(box.columns, box.rows, bottom, s);
    lay_slivers(coverage, ground, bottom, s);
    smooth_upper_side(coverage, leaf.thickness_mm, cell_mm, bottom, s);
    share_out_clay(coverage, leaf.flat_mm2 * leaf.thickness_mm, cell_mm, s);

    PressedLeaf pressed;
    relief->top.height_mm.resize(bottom.size());
    all(relief->top.height_mm) = all(bottom) + all(s.thickness);
    s.lift.resize(bottom.size());
    all(s.lift) = (all(bottom) - all(ground)).max(0.0F);
    pressed.after.resize(bottom.size());
    for (std::size_t i = 0; i < bottom.size(); ++i) {
        float const share = coverage.share[i];
        float const height = ground[i] + share * s.lift[i] + s.thickness[i];
        pressed.after[i] = share > 0.0F ? height : 0.0F;
    }
    pressed.volume_mm3 = sum_of(s.thickness) * cell_mm * cell_mm;
    Contact const contact = contact_of(coverage, ground, on_slab, cell_mm, s);
    relief->gap_mm3 = contact.gap_mm3;
    relief->bonded_mm2 = contact.bonded_share * leaf.flat_mm2;
    pressed.relief = std::move(relief);
    return pressed;
}

} // namespace leafwright
