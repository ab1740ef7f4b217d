#include "rows/stack.h"

#include "rows/stack_conform.h"
#include "rows/stack_mound.h"

#include <Eigen/Core>

#include <cassert>
#include <unordered_map>

namespace leafwright {

double HeightPatch::at(Vec2 const& chart) const {
    if (columns <= 0 || rows <= 0) return 0;
    double const x = std::clamp((chart.x - origin_mm.x) / cell_mm, 0.0, columns - 1.0);
    double const y = std::clamp((chart.y - origin_mm.y) / cell_mm, 0.0, rows - 1.0);
    int const i = static_cast<int>(x);
    int const j = static_cast<int>(y);
    auto const cell = [&](int column, int row) {
        int const c = std::min(column, columns - 1);
        int const r = std::min(row, rows - 1);
        return static_cast<double>(
            height_mm[static_cast<std::size_t>(r) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(c)]);
    };
    double const u = x - i;
    double const v = y - j;
    return (1 - v) * ((1 - u) * cell(i, j) + u * cell(i + 1, j)) +
           v * ((1 - u) * cell(i, j + 1) + u * cell(i + 1, j + 1));
}

namespace {

// What is known of one leaf: its cells, the ground it was last pressed on, and what came of it.
struct LeafEntry {
    std::shared_ptr<LaidLeaf const> leaf; // held, so that its address names it
    Coverage coverage;
    std::vector<float> ground;
    PressedLeaf pressed; // relief is null until it has been pressed
};

struct MoundEntry {
    std::shared_ptr<FeatureMound const> mound;
    MoundRaster raster;
};

struct Field {
    CellBox box;
    std::vector<float> height_mm;

    float* row(CellBox const& part, int row_of_part) {
        return height_mm.data() + box.index(part.left, part.low + row_of_part);
    }
};

float const* row_of(std::vector<float> const& part, CellBox const& box, int row) {
    return part.data() + static_cast<std::size_t>(row) * static_cast<std::size_t>(box.columns);
}

// Is the ground, where the leaf touches it, the very one it was pressed on?
bool lies_as_before(LeafEntry const& entry, Field& field) {
    CellBox const& box = entry.coverage.box;
    if (!entry.pressed.relief) return false;
    for (int row = 0; row < box.rows; ++row) {
        float const* now = field.row(box, row);
        float const* then = row_of(entry.ground, box, row);
        float const* share = row_of(entry.coverage.share, box, row);
        int differs = 0;
        for (int i = 0; i < box.columns; ++i)
            differs |= static_cast<int>(share[i] > 0.0F) & static_cast<int>(now[i] != then[i]);
        if (differs != 0) return false;
    }
    return true;
}

void take_ground(LeafEntry& entry, Field& field) {
    CellBox const& box = entry.coverage.box;
    entry.ground.resize(box.size());
    for (int row = 0; row < box.rows; ++row)
        std::copy_n(field.row(box, row), box.columns,
                    entry.ground.begin() + static_cast<std::ptrdiff_t>(row) * box.columns);
}

// Laying never lowers the ground, and `after` is 0 beyond the leaf.
void raise_to(std::vector<float> const& after, CellBox const& box, Field& field) {
    for (int row = 0; row < box.rows; ++row) {
        Eigen::Map<Eigen::ArrayXf> now(field.row(box, row), box.columns);
        now = now.max(Eigen::Map<Eigen::ArrayXf const>(row_of(after, box, row), box.columns));
    }
}

} // namespace

struct StackEngine::State {
    StackOptions options;
    Ring rim;
    Coverage slab;                                  // share of each cell inside the rim
    std::vector<std::shared_ptr<LeafEntry>> leaves; // in laying order
    std::vector<MoundEntry> mounds;
    std::shared_ptr<StackField const> answer;
    PressScratch scratch;
    std::vector<unsigned char> on_slab;

    bool same_rim(Ring const& now);
    bool same_leaves(std::span<std::shared_ptr<LaidLeaf const> const> now);
    bool same_mounds(std::span<LaidFeature const> now);
    void press(LeafEntry& entry, Field& field);
    CellBox window() const;
    std::shared_ptr<StackField const> build();
};

// Takes the rim over; the leaves' bond depends on it, so a new one makes everything new.
bool StackEngine::State::same_rim(Ring const& now) {
    if (answer && now == rim) return true;
    rim = now;
    slab = rim.size() < 3 ? Coverage{} : cover({rim, {}}, options.cell_mm, 1);
    leaves.clear();
    return false;
}

bool StackEngine::State::same_leaves(std::span<std::shared_ptr<LaidLeaf const> const> now) {
    if (std::ranges::equal(now, leaves, [](auto const& leaf, auto const& entry) { return leaf == entry->leaf; }))
        return true;
    std::unordered_map<LaidLeaf const*, std::shared_ptr<LeafEntry>> known;
    for (auto& entry : leaves) known.emplace(entry->leaf.get(), entry);
    leaves.clear();
    for (auto const& leaf : now) {
        assert(leaf);
        auto& entry = known[leaf.get()];
        if (!entry)
            entry = std::make_shared<LeafEntry>(LeafEntry{leaf, leaf_coverage(leaf->chart, options.cell_mm), {}, {}});
        leaves.push_back(entry);
    }
    return false;
}

bool StackEngine::State::same_mounds(std::span<LaidFeature const> now) {
    std::vector<MoundEntry> next;
    bool same = true;
    for (LaidFeature const& feature : now) {
        if (!feature.mound) continue;
        std::size_t const k = next.size();
        if (k < mounds.size() && mounds[k].mound == feature.mound) {
            next.push_back(mounds[k]);
        } else {
            same = false;
            next.push_back({feature.mound, raster_mound(*feature.mound, options.cell_mm)});
        }
    }
    same = same && next.size() == mounds.size();
    mounds = std::move(next);
    return same;
}

void StackEngine::State::press(LeafEntry& entry, Field& field) {
    take_ground(entry, field);
    CellBox const& box = entry.coverage.box;
    on_slab.assign(box.size(), slab.box.empty() ? 1 : 0);
    std::size_t k = 0;
    for (int j = box.low; j < box.low + box.rows; ++j)
        for (int i = box.left; i < box.left + box.columns; ++i, ++k)
            if (slab.box.contains(i, j)) on_slab[k] = slab.share[slab.box.index(i, j)] >= 0.5F ? 1 : 0;
    entry.pressed = press_leaf(*entry.leaf, entry.coverage, entry.ground, on_slab, options, scratch);
}

CellBox StackEngine::State::window() const {
    CellBox box = slab.box;
    for (auto const& entry : leaves) box = united(box, entry->coverage.box);
    for (MoundEntry const& entry : mounds) box = united(box, entry.raster.box);
    return box;
}

namespace {

void find_most(StackField& answer) {
    auto const& heights = answer.height.height_mm;
    if (heights.empty()) return;
    float const most = Eigen::Map<Eigen::ArrayXf const>(heights.data(), std::ssize(heights)).maxCoeff();
    if (most <= 0) return;
    auto const k = static_cast<std::size_t>(std::ranges::find(heights, most) - heights.begin());
    auto const columns = static_cast<std::size_t>(answer.height.columns);
    answer.most_mm = static_cast<double>(most);
    answer.most_at = answer.height.origin_mm +
                     answer.height.cell_mm * Vec2(static_cast<double>(k % columns), static_cast<double>(k / columns));
}

} // namespace

std::shared_ptr<StackField const> StackEngine::State::build() {
    auto result = std::make_shared<StackField>();
    Field field{window(), {}};
    field.height_mm.assign(field.box.empty() ? 0 : field.box.size(), 0.0F);
    for (auto const& entry : leaves) {
        if (!lies_as_before(*entry, field)) press(*entry, field);
        raise_to(entry->pressed.after, entry->coverage.box, field);
        result->leaves.push_back(entry->pressed.relief);
        result->leaf_volume_mm3 += entry->pressed.volume_mm3;
    }
    for (MoundEntry const& entry : mounds) raise_to(entry.raster.height_mm, entry.raster.box, field);
    result->height = {cell_middle(field.box.left, field.box.low, options.cell_mm), options.cell_mm, field.box.columns,
                      field.box.rows, std::move(field.height_mm)};
    find_most(*result);
    return result;
}

StackEngine::StackEngine(StackOptions const& options) : state_(std::make_unique<State>()) {
    assert(options.cell_mm > 0 && options.bend_radius_mm >= 0);
    state_->options = options;
}
StackEngine::~StackEngine() = default;
StackEngine::StackEngine(StackEngine&&) noexcept = default;
StackEngine& StackEngine::operator=(StackEngine&&) noexcept = default;

std::shared_ptr<StackField const> StackEngine::update(Ring const& rim,
                                                      std::span<std::shared_ptr<LaidLeaf const> const> leaves,
                                                      std::span<LaidFeature const> features) {
    bool const rim_same = state_->same_rim(rim);
    bool const leaves_same = state_->same_leaves(leaves);
    bool const mounds_same = state_->same_mounds(features);
    if (!(rim_same && leaves_same && mounds_same)) state_->answer = state_->build();
    return state_->answer;
}

} // namespace leafwright
