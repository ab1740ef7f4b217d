#include "rows/overlap_plane.h"

#include <algorithm>
#include <limits>

namespace leafwright::overlap {

namespace {

// Rim and keep-clear rings rank, and lie, before every leaf.
constexpr int kRimRank = std::numeric_limits<int>::min();

} // namespace

Plane::Plane() { take_slot(RegionKind::rim, kRimRank, kRimRank); }

void Plane::update(CladZone const& zone, std::span<OverlapLeaf const> leaves) {
    forget_changes();
    take_zone(zone);
    take_leaves(leaves);
    drop_old_links();
    find_neighbours();
    take_dirty_parts();
}

void Plane::forget_changes() {
    for (int const slot : changed_)
        if (!regions_[index(slot)].alive) free_slots_.push_back(slot);
    changed_.clear();
    dirty_.clear();
    sequence_is_new_ = false;
}

int Plane::take_slot(RegionKind kind, int rank, int position) {
    int slot = static_cast<int>(regions_.size());
    if (free_slots_.empty()) {
        regions_.emplace_back();
        boxes_.emplace_back();
        position_.emplace_back();
        totals_.exposed.push_back(0);
        cover_.fit_slots(regions_.size());
    } else {
        slot = free_slots_.back();
        free_slots_.pop_back();
    }
    Region& region = regions_[index(slot)];
    region.kind = kind;
    region.rank = rank;
    region.alive = true;
    position_[index(slot)] = position;
    return slot;
}

void Plane::release(int slot) {
    set_outline(slot, {});
    regions_[index(slot)].alive = false;
}

void Plane::set_outline(int slot, Polygon const& polygon) {
    mark_changed(slot);
    regions_[index(slot)].outline.assign(polygon);
    boxes_[index(slot)] = regions_[index(slot)].outline.box;
}

// Adds a region's parts to the totals, or takes them away (sign -1).
void Plane::count(int slot, Area sign) {
    Region const& region = regions_[index(slot)];
    Parts const& parts = region.parts;
    totals_.leaves += sign * parts.whole;
    totals_.in_rim += sign * parts.in_rim;
    totals_.zone += sign * parts.zone;
    totals_.bare += sign * parts.bare;
    if (totals_.layers.size() < parts.layers.size()) totals_.layers.resize(parts.layers.size(), 0);
    for (std::size_t k = 0; k < parts.layers.size(); ++k) totals_.layers[k] += sign * parts.layers[k];
    totals_.exposed[index(slot)] += sign * parts.exposed;
    for (Link const& link : region.links) totals_.exposed[index(link.other)] += sign * link.credit;
}

// Before anything of the region is changed: its old parts leave the totals.
void Plane::mark_dirty(int slot) {
    Region& region = regions_[index(slot)];
    if (region.dirty) return;
    region.dirty = true;
    dirty_.push_back(slot);
    count(slot, -1);
}

void Plane::mark_changed(int slot) {
    Region& region = regions_[index(slot)];
    if (region.changed) return;
    region.changed = true;
    changed_.push_back(slot);
    mark_dirty(slot);
    for (Link const& link : region.links) mark_dirty(link.other);
    if (region.kind == RegionKind::leaf) return;
    // Leaves wholly inside a ring know of it, but it does not list them.
    for (int const leaf : order_)
        if (std::ranges::any_of(regions_[index(leaf)].links, [&](Link const& l) { return l.other == slot; }))
            mark_dirty(leaf);
}

void Plane::take_zone(CladZone const& next) {
    if (next.rim != zone_.rim) take_rim(next.rim);
    take_keep_clear(next);
    zone_ = next;
}

// Sums are taken about the rim's middle, so with another rim all of them are new.
void Plane::take_rim(std::shared_ptr<Ring const> const& rim) {
    for (int const slot : order_) mark_changed(slot);
    for (int const slot : keep_clear_slots_) mark_changed(slot);
    set_outline(kRimSlot, {rim ? *rim : Ring{}, {}});
    origin_ = regions_[kRimSlot].outline.centre;
}

void Plane::take_keep_clear(CladZone const& next) {
    std::size_t const kept = std::min(keep_clear_slots_.size(), next.keep_clear.size());
    for (std::size_t i = kept; i < keep_clear_slots_.size(); ++i) release(keep_clear_slots_[i]);
    keep_clear_slots_.resize(kept);
    for (std::size_t i = 0; i < next.keep_clear.size(); ++i) {
        auto const& ring = next.keep_clear[i];
        if (i < kept && ring == zone_.keep_clear[i]) continue;
        int const rank = kRimRank + 1 + static_cast<int>(i);
        if (i >= kept) keep_clear_slots_.push_back(take_slot(RegionKind::keep_clear, rank, rank));
        set_outline(keep_clear_slots_[i], {ring ? *ring : Ring{}, {}});
    }
}

void Plane::take_leaves(std::span<OverlapLeaf const> leaves) {
    if (!std::ranges::equal(leaves, leaves_, {}, &OverlapLeaf::id, &OverlapLeaf::id)) take_sequence(leaves);
    for (std::size_t i = 0; i < leaves.size(); ++i) {
        if (leaves_[i].chart == leaves[i].chart) continue;
        leaves_[i].chart = leaves[i].chart;
        set_outline(order_[i], leaves[i].chart ? *leaves[i].chart : Polygon{});
    }
}

// Leaves that were added, lifted or put elsewhere in the order. New ones come in without an outline.
void Plane::take_sequence(std::span<OverlapLeaf const> leaves) {
    sequence_is_new_ = true;
    std::unordered_map<int, int> next_slots;
    for (OverlapLeaf const& leaf : leaves) next_slots.emplace(leaf.id, -1);
    assert(next_slots.size() == leaves.size());
    for (int const slot : order_)
        if (!next_slots.contains(regions_[index(slot)].rank)) release(slot);

    std::vector<int> next_order;
    std::vector<OverlapLeaf> next_leaves;
    int last = -1;
    bool reordered = false;
    for (OverlapLeaf const& leaf : leaves) {
        auto const known = slot_of_id_.find(leaf.id);
        bool const is_new = known == slot_of_id_.end();
        int const slot = is_new ? take_slot(RegionKind::leaf, leaf.id, 0) : known->second;
        if (!is_new) {
            reordered = reordered || position_[index(slot)] < last;
            last = position_[index(slot)];
        }
        next_slots[leaf.id] = slot;
        next_order.push_back(slot);
        next_leaves.push_back({leaf.id, is_new ? nullptr : leaves_[index(last)].chart});
    }
    order_ = std::move(next_order);
    leaves_ = std::move(next_leaves);
    slot_of_id_ = std::move(next_slots);
    for (std::size_t i = 0; i < order_.size(); ++i) position_[index(order_[i])] = static_cast<int>(i);
    if (reordered) mark_reordered();
}

// Only leaves whose neighbours now lie in another order see a difference.
void Plane::mark_reordered() {
    for (int const slot : order_) {
        std::vector<Link> const& links = regions_[index(slot)].links;
        auto const place = [&](Link const& link) { return position(link.other); };
        auto const below = std::ranges::count_if(links, [&](Link const& l) { return place(l) < position(slot); });
        if (below != regions_[index(slot)].below || !std::ranges::is_sorted(links, {}, place)) mark_dirty(slot);
    }
}

void Plane::drop_old_links() {
    for (int const slot : dirty_) {
        Region& region = regions_[index(slot)];
        if (region.changed)
            region.links.clear();
        else
            std::erase_if(region.links, [&](Link const& link) { return regions_[index(link.other)].changed; });
    }
}

void Plane::find_neighbours() {
    int const count = static_cast<int>(boxes_.size());
    for (int const slot : changed_) {
        if (regions_[index(slot)].outline.points.empty()) continue;
        Float4 const reach = reach_of(boxes_[index(slot)]);
        for (int other = 0; other < count; ++other) {
            if (!touches(boxes_[index(other)], reach)) continue;
            // Two that changed meet once.
            if (regions_[index(other)].changed ? other < slot : true) join(slot, other);
        }
    }
}

void Plane::join(int slot_a, int slot_b) {
    if (regions_[index(slot_a)].rank > regions_[index(slot_b)].rank) std::swap(slot_a, slot_b);
    Region& a = regions_[index(slot_a)];
    Region& b = regions_[index(slot_b)];
    find_shared(a.outline, b.outline, shared_);
    if (shared_.nothing()) return;
    add_link(slot_a, {slot_b, shared_.a_starts_in_b, shared_.area_mm2, 0});
    add_link(slot_b, {slot_a, shared_.b_starts_in_a, shared_.area_mm2, 0});
    auto const add_event = [&](Region& region, double key, Vec2 const& at, int other) {
        Area const swept = swept_up_to(region.outline, origin_, static_cast<int>(key), at);
        region.fresh.push_back({key, swept, other, regions_[index(other)].rank});
    };
    for (Crossing const& c : shared_.along_a) add_event(a, c.key_a, c.at, slot_b);
    for (Crossing const& c : shared_.along_b) add_event(b, c.key_b, c.at, slot_a);
}

void Plane::add_link(int slot, Link const& link) {
    Region& region = regions_[index(slot)];
    // A ring's own walk does not notice the leaves that lie wholly inside it.
    if (region.kind != RegionKind::leaf && shared_.along_a.empty() && !link.starts_in_other) return;
    mark_dirty(slot);
    region.links.push_back(link);
}

// Nearly sorted already, but for the new ones at the end.
void Plane::sort_links(Region& region, int slot) {
    auto const place = [&](Link const& link) { return position(link.other); };
    auto& links = region.links;
    auto tail = std::ranges::is_sorted_until(links, {}, place);
    if (links.end() - tail > 4)
        std::ranges::sort(links, {}, place);
    else
        for (; tail != links.end(); ++tail)
            std::rotate(std::ranges::upper_bound(links.begin(), tail, place(*tail), {}, place), tail, tail + 1);
    auto const below = std::ranges::lower_bound(links, position(slot), {}, place);
    region.below = static_cast<int>(below - links.begin());
}

void Plane::take_dirty_parts() {
    for (int const slot : dirty_) {
        Region& region = regions_[index(slot)];
        sort_links(region, slot);
        renew_events(region, regions_, spare_events_);
        take_parts(region, regions_, origin_, cover_);
        count(slot, 1);
        region.dirty = false;
    }
    for (int const slot : changed_) regions_[index(slot)].changed = false;
}

} // namespace leafwright::overlap
