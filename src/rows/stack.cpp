#include "rows/stack.h"

#include "rows/stack_conform.h"
#include "rows/stack_mound.h"

#include <Eigen/Core>

#include <atomic>
#include <cassert>
#include <functional>
#include <tbb/enumerable_thread_specific.h>
#include <tbb/task_group.h>
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
    std::vector<float> on_slab; // 1 or 0
    std::vector<float> ground;
    PressedLeaf pressed; // relief is null until it has been pressed

    CellBox const& box() const { return coverage.box; }
};
using LeafEntries = std::vector<std::shared_ptr<LeafEntry>>;

struct MoundEntry {
    std::shared_ptr<FeatureMound const> mound;
    MoundRaster raster;
};

struct Field {
    CellBox box;
    std::vector<float> height_mm;
};

Eigen::Map<Eigen::ArrayXf> row_in(std::vector<float>& heights, CellBox const& box, CellBox const& part, int row) {
    return {heights.data() + box.index(part.left, row), part.columns};
}
Eigen::Map<Eigen::ArrayXf const> row_in(std::vector<float> const& heights, CellBox const& box, CellBox const& part,
                                        int row) {
    return {heights.data() + box.index(part.left, row), part.columns};
}

// Laying never lowers the ground, and what a leaf leaves behind is 0 beyond it: so the ground after any number of
// leaves is the greatest of what each left behind, and any part of it can be had without the rest.
void raise_to(std::vector<float> const& heights, CellBox const& box, CellBox const& within, Field& field) {
    CellBox const part = common(common(box, within), field.box);
    if (part.empty()) return;
    for (int row = part.low; row < part.low + part.rows; ++row) {
        auto now = row_in(field.height_mm, field.box, part, row);
        now = now.max(row_in(heights, box, part, row));
    }
}

// The leaves' ground over `within`, made anew in the field.
void make_ground(std::span<std::shared_ptr<LeafEntry> const> leaves, CellBox const& within, Field& field) {
    CellBox const part = common(within, field.box);
    for (int row = part.low; row < part.low + part.rows; ++row) row_in(field.height_mm, field.box, part, row) = 0.0F;
    for (auto const& entry : leaves) raise_to(entry->pressed.after, entry->box(), part, field);
}

// Is the ground, where the leaf touches it, the very one it was pressed on?
bool lies_as_before(LeafEntry const& entry, std::vector<float> const& ground) {
    if (!entry.pressed.relief) return false;
    int differs = 0;
    for (std::size_t i = 0; i < ground.size(); ++i)
        differs |= static_cast<int>(entry.coverage.share[i] > 0.0F) & static_cast<int>(ground[i] != entry.ground[i]);
    return differs == 0;
}

// Places of the old and the new order that do not hold the same leaf: equal beginnings and ends are left out, and when
// the rest is equally long, so is what has kept its place.
template <class OldWork, class NewWork>
void for_each_change(LeafEntries const& then, LeafEntries const& now, OldWork gone, NewWork come) {
    std::size_t first = 0;
    std::size_t const shorter = std::min(then.size(), now.size());
    while (first < shorter && then[first] == now[first]) ++first;
    std::size_t last = 0;
    while (last < shorter - first && then[then.size() - 1 - last] == now[now.size() - 1 - last]) ++last;
    bool const in_place = then.size() == now.size();
    for (std::size_t k = first; k < then.size() - last; ++k)
        if (!in_place || then[k] != now[k]) gone(*then[k]);
    for (std::size_t k = first; k < now.size() - last; ++k)
        if (!in_place || then[k] != now[k]) come(*now[k]);
}

void find_most(StackField& answer) {
    HeightPatch const& height = answer.height;
    float most = 0;
    for (int row = 0; row < height.rows; ++row) {
        Eigen::Map<Eigen::ArrayXf const> const line(height.height_mm.data() + Eigen::Index(row) * height.columns,
                                                    height.columns);
        if (line.maxCoeff() <= most) continue;
        Eigen::Index column = 0;
        most = line.maxCoeff(&column);
        answer.most_at = height.origin_mm + height.cell_mm * Vec2(static_cast<double>(column), row);
    }
    answer.most_mm = static_cast<double>(most);
}

} // namespace

struct StackEngine::State {
    StackOptions options;
    Ring rim;
    Coverage slab;      // share of each cell inside the rim
    LeafEntries leaves; // in laying order
    std::vector<MoundEntry> mounds;
    Field ground;                 // after all leaves, without mounds
    std::vector<CellBox> changed; // where the ground may differ from last time
    std::shared_ptr<StackField const> answer;
    // Work space of each thread.
    struct Hands {
        PressScratch scratch;
        Field under;
    };
    tbb::enumerable_thread_specific<Hands> hands;

    bool take_rim(Ring const& now);
    bool take_mounds(std::span<LaidFeature const> now);
    void take_leaves(std::span<std::shared_ptr<LaidLeaf const> const> now);
    bool may_have_changed(CellBox const& box) const;
    void press_changed();
    bool press(std::size_t leaf, std::span<std::size_t const> beneath);
    std::shared_ptr<LeafEntry> new_entry(std::shared_ptr<LaidLeaf const> const& leaf) const;
    CellBox window() const;
    void remake_ground();
    std::shared_ptr<StackField const> build() const;
};

// True when it is the same as last time. The leaves' bond depends on the rim, so a new one makes everything new.
bool StackEngine::State::take_rim(Ring const& now) {
    if (answer && now == rim) return true;
    rim = now;
    slab = rim.size() < 3 ? Coverage{} : cover({rim, {}}, options.cell_mm, 1);
    leaves.clear();
    ground = {};
    return false;
}

bool StackEngine::State::take_mounds(std::span<LaidFeature const> now) {
    std::vector<MoundEntry> next;
    bool same = true;
    for (LaidFeature const& feature : now) {
        if (!feature.mound) continue;
        std::size_t const k = next.size();
        bool const kept = k < mounds.size() && mounds[k].mound == feature.mound;
        next.push_back(kept ? mounds[k] : MoundEntry{feature.mound, raster_mound(*feature.mound, options.cell_mm)});
        same = same && kept;
    }
    same = same && next.size() == mounds.size();
    mounds = std::move(next);
    return same;
}

std::shared_ptr<LeafEntry> StackEngine::State::new_entry(std::shared_ptr<LaidLeaf const> const& leaf) const {
    auto entry = std::make_shared<LeafEntry>();
    entry->leaf = leaf;
    entry->coverage = leaf_coverage(leaf->chart, options.cell_mm);
    entry->on_slab.assign(entry->coverage.share.size(), slab.box.empty() ? 1.0F : 0.0F);
    CellBox const part = common(entry->box(), slab.box);
    if (part.empty()) return entry;
    for (int row = part.low; row < part.low + part.rows; ++row)
        row_in(entry->on_slab, entry->box(), part, row) =
            (row_in(slab.share, slab.box, part, row) >= 0.5F).cast<float>();
    return entry;
}

void StackEngine::State::take_leaves(std::span<std::shared_ptr<LaidLeaf const> const> now) {
    std::unordered_map<LaidLeaf const*, std::shared_ptr<LeafEntry>> known;
    for (auto const& entry : leaves) known.emplace(entry->leaf.get(), entry);
    LeafEntries next;
    for (auto const& leaf : now) {
        assert(leaf);
        auto const found = known.find(leaf.get());
        if (found == known.end()) {
            next.push_back(new_entry(leaf));
            continue;
        }
        next.push_back(found->second);
        known.erase(found); // the same leaf laid twice has two grounds
    }
    changed.clear();
    auto const add = [&](LeafEntry const& entry) { changed.push_back(entry.box()); };
    for_each_change(leaves, next, add, add);
    leaves = std::move(next);
}

bool StackEngine::State::may_have_changed(CellBox const& box) const {
    return std::ranges::any_of(changed, [&](CellBox const& other) { return !common(box, other).empty(); });
}

// Presses the leaf anew if the ground under it is another; whether it did.
bool StackEngine::State::press(std::size_t leaf, std::span<std::size_t const> beneath) {
    Hands& hand = hands.local();
    LeafEntry& entry = *leaves[leaf];
    hand.under.box = entry.box();
    hand.under.height_mm.assign(entry.box().size(), 0.0F);
    for (std::size_t const k : beneath) raise_to(leaves[k]->pressed.after, leaves[k]->box(), entry.box(), hand.under);
    if (lies_as_before(entry, hand.under.height_mm)) return false;
    entry.ground = hand.under.height_mm;
    entry.pressed = press_leaf(*entry.leaf, entry.coverage, entry.ground, entry.on_slab, options, hand.scratch);
    return true;
}

namespace {

// One leaf that may have to be pressed again, and who waits for it.
struct Turn {
    std::size_t leaf = 0;
    std::vector<std::size_t> beneath; // leaves, in laying order
    std::vector<std::size_t> above;   // turns
    std::atomic<int> waits_for{0};    // turns beneath that are not done
    std::atomic<bool> ground_is_new{false};
    bool pressed = false;
};

} // namespace

// Each leaf as soon as those beneath it are done, so that what is pressed again shows to those that lie on it. The
// answer does not depend on which thread was quicker: a leaf reads only what lies beneath it.
void StackEngine::State::press_changed() {
    std::vector<std::unique_ptr<Turn>> turns;
    std::vector<Turn*> turn_of(leaves.size(), nullptr);
    for (std::size_t k = 0; k < leaves.size(); ++k) {
        CellBox const& box = leaves[k]->box();
        bool const now = !leaves[k]->pressed.relief || may_have_changed(box);
        auto turn = std::make_unique<Turn>();
        bool later = false;
        for (std::size_t j = 0; j < k; ++j) {
            if (common(box, leaves[j]->box()).empty()) continue;
            turn->beneath.push_back(j);
            later = later || turn_of[j] != nullptr;
        }
        if (!now && !later) continue;
        turn->leaf = k;
        turn->ground_is_new = now;
        for (std::size_t const j : turn->beneath) {
            if (turn_of[j] == nullptr) continue;
            turn_of[j]->above.push_back(turns.size());
            ++turn->waits_for;
        }
        turn_of[k] = turn.get();
        turns.push_back(std::move(turn));
    }
    tbb::task_group group;
    std::function<void(Turn&)> const take = [&](Turn& turn) {
        turn.pressed = turn.ground_is_new && press(turn.leaf, turn.beneath);
        for (std::size_t const next : turn.above) {
            if (turn.pressed) turns[next]->ground_is_new = true;
            if (--turns[next]->waits_for == 0) group.run([&, next] { take(*turns[next]); });
        }
    };
    // Counted before anything runs: a turn that waits for none is begun here, and only here.
    std::vector<Turn*> first;
    for (auto const& turn : turns)
        if (turn->waits_for == 0) first.push_back(turn.get());
    for (Turn* const turn : first) group.run([&, turn] { take(*turn); });
    group.wait();
    for (auto const& turn : turns)
        if (turn->pressed) changed.push_back(leaves[turn->leaf]->box());
}

CellBox StackEngine::State::window() const {
    CellBox box = slab.box;
    for (auto const& entry : leaves) box = united(box, entry->box());
    for (MoundEntry const& entry : mounds) box = united(box, entry.raster.box);
    return box;
}

void StackEngine::State::remake_ground() {
    CellBox const box = window();
    CellBox part;
    if (box == ground.box) {
        for (CellBox const& other : changed) part = united(part, other);
    } else {
        ground = {box, std::vector<float>(box.empty() ? 0 : box.size())};
        part = box;
    }
    if (!part.empty()) make_ground(leaves, part, ground);
}

std::shared_ptr<StackField const> StackEngine::State::build() const {
    auto result = std::make_shared<StackField>();
    for (auto const& entry : leaves) {
        result->leaves.push_back(entry->pressed.relief);
        result->leaf_volume_mm3 += entry->pressed.volume_mm3;
    }
    Field whole = ground;
    for (MoundEntry const& entry : mounds) raise_to(entry.raster.height_mm, entry.raster.box, whole.box, whole);
    result->height = {cell_middle(whole.box.left, whole.box.low, options.cell_mm), options.cell_mm, whole.box.columns,
                      whole.box.rows, std::move(whole.height_mm)};
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
    bool const rim_same = state_->take_rim(rim);
    bool const mounds_same = state_->take_mounds(features);
    state_->take_leaves(leaves);
    if (rim_same && mounds_same && state_->changed.empty()) return state_->answer;
    state_->press_changed();
    state_->remake_ground();
    state_->answer = state_->build();
    return state_->answer;
}

} // namespace leafwright
