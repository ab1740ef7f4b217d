#include "rows/overlap.h"

#include "rows/overlap_bare.h"
#include "rows/overlap_plane.h"

#include <algorithm>

namespace leafwright {

using namespace overlap;

namespace {

// What is left of a sum that should be 0 is less than this.
constexpr double kNoArea_mm2 = 1e-9;
constexpr double kNoTotal_mm2 = 1e-7;

double or_nothing(double mm2) { return mm2 > kNoTotal_mm2 ? mm2 : 0.0; }

} // namespace

struct OverlapEngine::State {
    Plane plane;
    OverlapFigures figures;
    std::vector<std::size_t> row_starts; // in figures.pairs, by the upper leaf's position; one more at the end
    std::vector<Area> shown;             // exposed area in figures.leaves
    std::vector<char> renewed;           // by position
    std::vector<OverlapPair> spare_pairs;
    std::vector<std::size_t> spare_starts;

    void mark_renewed(std::span<OverlapLeaf const> leaves);
    void show_leaves(std::span<OverlapLeaf const> leaves);
    OverlapOfLeaf figures_of_leaf(int id, int slot) const;
    void show_pairs(std::span<OverlapLeaf const> leaves);
    std::size_t write_row(std::span<OverlapLeaf const> leaves, std::size_t upper, OverlapPair* out) const;
    void show_totals();
};

void OverlapEngine::State::mark_renewed(std::span<OverlapLeaf const> leaves) {
    renewed.assign(leaves.size(), plane.sequence_is_new() ? 1 : 0);
    for (int const slot : plane.renewed())
        if (Region const& r = plane.region(slot); r.alive && r.kind == RegionKind::leaf)
            renewed[index(plane.position(slot))] = 1;
}

OverlapOfLeaf OverlapEngine::State::figures_of_leaf(int id, int slot) const {
    Region const& region = plane.region(slot);
    OverlapOfLeaf leaf{.id = id, .area_mm2 = region.outline.area_mm2()};
    leaf.exposed_mm2 = std::min(or_nothing(to_mm2(plane.totals().exposed[index(slot)])), leaf.area_mm2);
    if (leaf.area_mm2 > 0) leaf.lap = 1.0 - leaf.exposed_mm2 / leaf.area_mm2;
    bool const meets_rim = !region.links.empty() && region.links.front().other == kRimSlot;
    double const inside_mm2 = meets_rim ? region.links.front().area_mm2 : 0.0;
    if (plane.has_rim()) leaf.overhang_mm2 = or_nothing(leaf.area_mm2 - inside_mm2);
    return leaf;
}

void OverlapEngine::State::show_leaves(std::span<OverlapLeaf const> leaves) {
    figures.leaves.resize(leaves.size());
    shown.resize(leaves.size());
    for (std::size_t i = 0; i < leaves.size(); ++i) {
        int const slot = plane.order()[i];
        Area const exposed = plane.totals().exposed[index(slot)];
        if (exposed == shown[i] && renewed[i] == 0) continue;
        shown[i] = exposed;
        figures.leaves[i] = figures_of_leaf(leaves[i].id, slot);
    }
}

std::size_t OverlapEngine::State::write_row(std::span<OverlapLeaf const> leaves, std::size_t upper,
                                            OverlapPair* out) const {
    OverlapPair const* const begin = out;
    Region const& region = plane.region(plane.order()[upper]);
    for (int k = 0; k < region.below; ++k) {
        Link const& link = region.links[index(k)];
        int const place = plane.position(link.other);
        if (place >= 0 && link.area_mm2 > kNoArea_mm2)
            *out++ = {leaves[upper].id, leaves[index(place)].id, link.area_mm2};
    }
    return static_cast<std::size_t>(out - begin);
}

// Rows of leaves that saw no change are copied, many at once.
void OverlapEngine::State::show_pairs(std::span<OverlapLeaf const> leaves) {
    std::size_t room = figures.pairs.size();
    for (std::size_t i = 0; i < leaves.size(); ++i)
        if (renewed[i] != 0) room += static_cast<std::size_t>(plane.region(plane.order()[i]).below);
    if (spare_pairs.size() < room) spare_pairs.resize(room);
    spare_starts.resize(leaves.size() + 1);

    std::size_t written = 0;
    for (std::size_t i = 0; i < leaves.size();) {
        if (renewed[i] != 0) {
            spare_starts[i] = written;
            written += write_row(leaves, i, spare_pairs.data() + written);
            ++i;
            continue;
        }
        std::size_t const from = row_starts[i];
        std::size_t const shift = written - from; // may wrap round: only differences count
        for (; i < leaves.size() && renewed[i] == 0; ++i) spare_starts[i] = row_starts[i] + shift;
        std::copy(figures.pairs.data() + from, figures.pairs.data() + row_starts[i], spare_pairs.data() + written);
        written += row_starts[i] - from;
    }
    spare_starts[leaves.size()] = written;
    spare_pairs.resize(written);
    std::swap(figures.pairs, spare_pairs);
    std::swap(row_starts, spare_starts);
}

void OverlapEngine::State::show_totals() {
    Totals const& totals = plane.totals();
    figures.area_mm2 = to_mm2(totals.leaves);
    figures.layers_mm2.clear();
    for (Area const layer : totals.layers) figures.layers_mm2.push_back(to_mm2(layer));
    while (!figures.layers_mm2.empty() && figures.layers_mm2.back() < kNoTotal_mm2) figures.layers_mm2.pop_back();
    figures.union_mm2 = figures.layers_mm2.empty() ? 0.0 : figures.layers_mm2.front();
    figures.zone_mm2 = or_nothing(to_mm2(totals.zone));
    figures.bare_mm2 = or_nothing(to_mm2(totals.bare));
    figures.overhang_mm2 = plane.has_rim() ? or_nothing(figures.union_mm2 - to_mm2(totals.in_rim)) : 0.0;
}

OverlapEngine::OverlapEngine() : state_(std::make_unique<State>()) {}
OverlapEngine::~OverlapEngine() = default;
OverlapEngine::OverlapEngine(OverlapEngine&&) noexcept = default;
OverlapEngine& OverlapEngine::operator=(OverlapEngine&&) noexcept = default;

OverlapFigures const& OverlapEngine::update(CladZone const& zone, std::span<OverlapLeaf const> leaves) {
    State& state = *state_;
    state.plane.update(zone, leaves);
    state.mark_renewed(leaves);
    state.show_leaves(leaves);
    state.show_pairs(leaves);
    state.show_totals();
    return state.figures;
}

std::vector<Polygon> OverlapEngine::bare_polygons() const {
    if (state_->figures.bare_mm2 <= 0) return {};
    return overlap::bare_polygons(state_->plane.regions());
}

} // namespace leafwright
