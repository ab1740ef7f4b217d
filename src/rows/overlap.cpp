#include "rows/overlap.h"

#include "rows/overlap_region.h"

#include <algorithm>
#include <limits>
#include <unordered_map>

namespace leafwright {

using namespace overlap;

namespace {

// What is left of a sum that should be 0: coordinates of 1 m and 1e5 terms leave less than this.
constexpr double kNoArea_mm2 = 1e-9;
constexpr double kNoTotal_mm2 = 1e-7;

// Rim and keep-clear rings rank before every leaf. Their positions in the laying order are below 0.
constexpr int kRimRank = std::numeric_limits<int>::min();
constexpr int kRimSlot = 0;

double or_nothing(double area_mm2, double least) { return area_mm2 > least ? area_mm2 : 0.0; }

std::size_t index(int slot) { return static_cast<std::size_t>(slot); }

} // namespace

struct OverlapEngine::State {
    std::vector<Region> regions; // by slot; 0 is the rim
    std::vector<CullBox> boxes;  // by slot
    std::vector<int> position;   // by slot: in the laying order
    std::vector<int> free_slots;
    std::vector<int> order; // slots in laying order
    std::unordered_map<int, int> slot_of_id;
    std::vector<std::shared_ptr<Polygon const>> charts; // by slot, leaves only
    CladZone zone;
    std::vector<int> keep_clear_slots;
    Vec2 origin{0, 0};

    std::vector<int> changed; // slots with a new outline
    std::vector<int> dirty;   // slots whose parts must be taken again, changed ones included
    Shared shared;
    Cover cover;
    std::vector<double> exposed; // by slot
    OverlapFigures figures;

    int take_slot(RegionKind kind, int rank);
    void release(int slot);
    void mark_dirty(int slot);
    void mark_changed(int slot);
    void take_zone(CladZone const& next);
    bool same_sequence(std::span<OverlapLeaf const> leaves) const;
    void take_leaves(std::span<OverlapLeaf const> leaves);
    void take_sequence(std::span<OverlapLeaf const> leaves);
    void mark_reordered();
    void forget_changed();
    void find_neighbours();
    void join(int slot_a, int slot_b);
    void add_link(int slot, int other, bool starts_in_other, bool other_starts_in);
    void take_dirty_parts();
    void sum_up(std::span<OverlapLeaf const> leaves);
    void sum_leaves(std::span<OverlapLeaf const> leaves);
    void list_pairs(std::span<OverlapLeaf const> leaves);
};

int OverlapEngine::State::take_slot(RegionKind kind, int rank) {
    int slot = static_cast<int>(regions.size());
    if (free_slots.empty()) {
        regions.emplace_back();
        boxes.emplace_back();
        position.push_back(0);
        charts.emplace_back();
        cover.fit_slots(regions.size());
    } else {
        slot = free_slots.back();
        free_slots.pop_back();
    }
    Region& region = regions[index(slot)];
    region.kind = kind;
    region.rank = rank;
    region.alive = true;
    return slot;
}

void OverlapEngine::State::mark_dirty(int slot) {
    Region& region = regions[index(slot)];
    if (region.dirty) return;
    region.dirty = true;
    dirty.push_back(slot);
}

void OverlapEngine::State::mark_changed(int slot) {
    Region& region = regions[index(slot)];
    if (region.changed) return;
    region.changed = true;
    changed.push_back(slot);
    mark_dirty(slot);
    for (Link const& link : region.links) mark_dirty(link.other);
    if (region.kind == RegionKind::leaf) return;
    // Leaves wholly inside a ring know of it, but it does not list them.
    for (int const leaf : order)
        if (std::ranges::any_of(regions[index(leaf)].links, [&](Link const& l) { return l.other == slot; }))
            mark_dirty(leaf);
}

void OverlapEngine::State::release(int slot) {
    mark_changed(slot);
    regions[index(slot)].outline.clear();
    regions[index(slot)].alive = false;
    charts[index(slot)].reset();
    boxes[index(slot)] = {};
}

void OverlapEngine::State::take_zone(CladZone const& next) {
    auto const take_ring = [&](int slot, std::shared_ptr<Ring const> const& ring) {
        mark_changed(slot);
        regions[index(slot)].outline.assign({ring ? *ring : Ring{}, {}});
        boxes[index(slot)] = regions[index(slot)].outline.box;
    };
    if (regions.empty()) position[index(take_slot(RegionKind::rim, kRimRank))] = kRimRank;
    if (next.rim != zone.rim) {
        take_ring(kRimSlot, next.rim);
        // Sums are taken about the rim's middle, so all of them are new.
        origin = regions[kRimSlot].outline.centre;
        for (int const slot : order) mark_dirty(slot);
        for (int const slot : keep_clear_slots) mark_dirty(slot);
    }
    for (std::size_t i = next.keep_clear.size(); i < keep_clear_slots.size(); ++i) release(keep_clear_slots[i]);
    std::size_t const kept = std::min(keep_clear_slots.size(), next.keep_clear.size());
    keep_clear_slots.resize(kept);
    for (std::size_t i = 0; i < next.keep_clear.size(); ++i) {
        if (i >= kept) {
            int const rank = kRimRank + 1 + static_cast<int>(i);
            keep_clear_slots.push_back(take_slot(RegionKind::keep_clear, rank));
            position[index(keep_clear_slots[i])] = rank;
        }
        if (i >= kept || next.keep_clear[i] != zone.keep_clear[i]) take_ring(keep_clear_slots[i], next.keep_clear[i]);
    }
    zone = next;
}

bool OverlapEngine::State::same_sequence(std::span<OverlapLeaf const> leaves) const {
    if (leaves.size() != order.size()) return false;
    for (std::size_t i = 0; i < leaves.size(); ++i)
        if (regions[index(order[i])].rank != leaves[i].id) return false;
    return true;
}

// Leaves that were added, lifted or put elsewhere in the order.
void OverlapEngine::State::take_sequence(std::span<OverlapLeaf const> leaves) {
    std::unordered_map<int, int> next_slots;
    for (OverlapLeaf const& leaf : leaves) next_slots.emplace(leaf.id, -1);
    assert(next_slots.size() == leaves.size());
    for (int const slot : order)
        if (!next_slots.contains(regions[index(slot)].rank)) release(slot);
    std::vector<int> next_order;
    int last = -1;
    bool reordered = false;
    for (OverlapLeaf const& leaf : leaves) {
        auto const known = slot_of_id.find(leaf.id);
        bool const is_new = known == slot_of_id.end();
        int const slot = is_new ? take_slot(RegionKind::leaf, leaf.id) : known->second;
        if (!is_new) reordered = reordered || position[index(slot)] < last;
        if (!is_new) last = position[index(slot)];
        next_slots[leaf.id] = slot;
        next_order.push_back(slot);
    }
    order = std::move(next_order);
    slot_of_id = std::move(next_slots);
    for (std::size_t i = 0; i < order.size(); ++i) position[index(order[i])] = static_cast<int>(i);
    if (reordered) mark_reordered();
}

// Only leaves whose neighbours now lie in another order see a difference.
void OverlapEngine::State::mark_reordered() {
    for (int const slot : order) {
        std::vector<Link> const& links = regions[index(slot)].links;
        auto const place = [&](Link const& link) { return position[index(link.other)]; };
        auto const below =
            std::ranges::count_if(links, [&](Link const& link) { return place(link) < position[index(slot)]; });
        if (below != regions[index(slot)].below || !std::ranges::is_sorted(links, {}, place)) mark_dirty(slot);
    }
}

void OverlapEngine::State::take_leaves(std::span<OverlapLeaf const> leaves) {
    if (!same_sequence(leaves)) take_sequence(leaves);
    for (std::size_t i = 0; i < leaves.size(); ++i) {
        int const slot = order[i];
        if (charts[index(slot)] == leaves[i].chart) continue;
        mark_changed(slot);
        charts[index(slot)] = leaves[i].chart;
        regions[index(slot)].outline.assign(leaves[i].chart ? *leaves[i].chart : Polygon{});
        boxes[index(slot)] = regions[index(slot)].outline.box;
    }
}

void OverlapEngine::State::forget_changed() {
    auto const gone = [&](auto const& item) { return regions[index(item.other)].changed; };
    for (int const slot : dirty) {
        Region& region = regions[index(slot)];
        if (region.changed) {
            region.events.clear();
            region.links.clear();
        } else {
            std::erase_if(region.events, gone);
            std::erase_if(region.links, gone);
        }
    }
}

void OverlapEngine::State::find_neighbours() {
    for (int const slot : changed) {
        if (regions[index(slot)].outline.points.empty()) continue;
        Float4 const reach = reach_of(boxes[index(slot)]);
        int const count = static_cast<int>(boxes.size());
        for (int other = 0; other < count; ++other) {
            if (!touches(boxes[index(other)], reach)) continue;
            // Two that changed meet once.
            if (regions[index(other)].changed ? other < slot : true) join(slot, other);
        }
    }
}

void OverlapEngine::State::join(int slot_a, int slot_b) {
    if (regions[index(slot_a)].rank > regions[index(slot_b)].rank) std::swap(slot_a, slot_b);
    Region& a = regions[index(slot_a)];
    Region& b = regions[index(slot_b)];
    find_shared(a.outline, b.outline, shared);
    if (shared.nothing()) return;
    for (Crossing const& c : shared.along_a) a.fresh.push_back({c.key_a, c.at, slot_b, b.rank});
    for (Crossing const& c : shared.along_b) b.fresh.push_back({c.key_b, c.at, slot_a, a.rank});
    add_link(slot_a, slot_b, shared.a_starts_in_b, shared.b_starts_in_a);
    add_link(slot_b, slot_a, shared.b_starts_in_a, shared.a_starts_in_b);
}

void OverlapEngine::State::add_link(int slot, int other, bool starts_in_other, bool other_starts_in) {
    Region& region = regions[index(slot)];
    bool const crosses = !shared.along_a.empty();
    // A ring's own walk does not notice the leaves that lie wholly inside it.
    if (region.kind != RegionKind::leaf && !crosses && !starts_in_other) return;
    region.links.push_back({other, starts_in_other, other_starts_in, crosses, shared.area_mm2, 0});
    mark_dirty(slot);
}

void OverlapEngine::State::take_dirty_parts() {
    for (int const slot : dirty) {
        Region& region = regions[index(slot)];
        auto const place = [&](Link const& link) { return position[index(link.other)]; };
        std::ranges::sort(region.links, {}, place);
        region.below = static_cast<int>(
            std::ranges::count_if(region.links, [&](Link const& link) { return place(link) < position[index(slot)]; }));
        merge_fresh(region);
        take_parts(region, regions, origin, cover);
        region.dirty = false;
    }
    for (int const slot : changed) {
        regions[index(slot)].changed = false;
        if (!regions[index(slot)].alive) free_slots.push_back(slot);
    }
    dirty.clear();
    changed.clear();
}

void OverlapEngine::State::sum_leaves(std::span<OverlapLeaf const> leaves) {
    exposed.assign(regions.size(), 0.0);
    figures.leaves.resize(leaves.size());
    figures.layers_mm2.clear();
    figures.area_mm2 = 0;
    for (std::size_t i = 0; i < order.size(); ++i) {
        Region const& region = regions[index(order[i])];
        std::vector<double> const& layers = region.parts.layers;
        if (figures.layers_mm2.size() < layers.size()) figures.layers_mm2.resize(layers.size(), 0.0);
        for (std::size_t k = 0; k < layers.size(); ++k) figures.layers_mm2[k] += layers[k];
        exposed[index(order[i])] += region.parts.exposed;
        double inside_mm2 = zone.rim ? 0.0 : region.outline.area_mm2();
        for (int k = 0; k < region.below; ++k) {
            Link const& link = region.links[index(k)];
            exposed[index(link.other)] += link.credit_mm2;
            if (link.other == kRimSlot) inside_mm2 = link.area_mm2;
        }
        double const area_mm2 = region.outline.area_mm2();
        figures.area_mm2 += area_mm2;
        figures.leaves[i] = {leaves[i].id, area_mm2, 0, 0, or_nothing(area_mm2 - inside_mm2, kNoTotal_mm2)};
    }
    while (!figures.layers_mm2.empty() && figures.layers_mm2.back() < kNoTotal_mm2) figures.layers_mm2.pop_back();
    for (std::size_t i = 0; i < order.size(); ++i) {
        OverlapOfLeaf& leaf = figures.leaves[i];
        leaf.exposed_mm2 = std::clamp(or_nothing(exposed[index(order[i])], kNoTotal_mm2), 0.0, leaf.area_mm2);
        leaf.lap = leaf.area_mm2 > 0 ? 1.0 - leaf.exposed_mm2 / leaf.area_mm2 : 0.0;
    }
}

void OverlapEngine::State::list_pairs(std::span<OverlapLeaf const> leaves) {
    figures.pairs.clear();
    for (std::size_t i = 0; i < order.size(); ++i) {
        Region const& region = regions[index(order[i])];
        for (int k = 0; k < region.below; ++k) {
            Link const& link = region.links[index(k)];
            int const place = position[index(link.other)];
            if (place >= 0 && link.area_mm2 > kNoArea_mm2)
                figures.pairs.push_back({leaves[i].id, leaves[index(place)].id, link.area_mm2});
        }
    }
}

void OverlapEngine::State::sum_up(std::span<OverlapLeaf const> leaves) {
    sum_leaves(leaves);
    list_pairs(leaves);
    Parts const& rim = regions[kRimSlot].parts;
    double zone_mm2 = rim.zone;
    double bare_mm2 = rim.bare;
    double in_rim_mm2 = rim.in_rim;
    for (int const slot : keep_clear_slots) {
        zone_mm2 += regions[index(slot)].parts.zone;
        bare_mm2 += regions[index(slot)].parts.bare;
    }
    for (int const slot : order) {
        bare_mm2 += regions[index(slot)].parts.bare;
        in_rim_mm2 += regions[index(slot)].parts.in_rim;
    }
    figures.union_mm2 = figures.layers_mm2.empty() ? 0.0 : figures.layers_mm2.front();
    figures.zone_mm2 = or_nothing(zone_mm2, kNoTotal_mm2);
    figures.bare_mm2 = or_nothing(bare_mm2, kNoTotal_mm2);
    figures.overhang_mm2 = zone.rim ? or_nothing(figures.union_mm2 - in_rim_mm2, kNoTotal_mm2) : 0.0;
}

OverlapEngine::OverlapEngine() : state_(std::make_unique<State>()) {}
OverlapEngine::~OverlapEngine() = default;
OverlapEngine::OverlapEngine(OverlapEngine&&) noexcept = default;
OverlapEngine& OverlapEngine::operator=(OverlapEngine&&) noexcept = default;

OverlapFigures const& OverlapEngine::update(CladZone const& zone, std::span<OverlapLeaf const> leaves) {
    State& state = *state_;
    state.take_zone(zone);
    state.take_leaves(leaves);
    state.forget_changed();
    state.find_neighbours();
    state.take_dirty_parts();
    state.sum_up(leaves);
    return state.figures;
}

} // namespace leafwright
