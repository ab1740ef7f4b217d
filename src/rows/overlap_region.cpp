#include "rows/overlap_region.h"

#include <algorithm>
#include <bit>

namespace leafwright::overlap {

bool comes_before(Event const& a, Event const& b) {
    if (a.key != b.key) return a.key < b.key;
    if (a.rank != b.rank) return a.rank < b.rank;
    return a.at.x != b.at.x ? a.at.x < b.at.x : a.at.y < b.at.y;
}

void merge_fresh(Region& region) {
    std::vector<Event>& events = region.events;
    std::vector<Event>& fresh = region.fresh;
    if (fresh.empty()) return;
    std::ranges::sort(fresh, comes_before);
    std::size_t left = events.size();
    std::size_t right = fresh.size();
    events.resize(left + right);
    for (std::size_t end = events.size(); right > 0; --end) {
        bool const take_old = left > 0 && comes_before(fresh[right - 1], events[left - 1]);
        events[end - 1] = take_old ? events[--left] : fresh[--right];
    }
    fresh.clear();
}

void Cover::fit_slots(std::size_t count) {
    if (link_of_slot_.size() < count) link_of_slot_.resize(count);
}

void Cover::start(Region const& region, std::span<Region const> regions) {
    std::size_t const n = region.links.size();
    bits_.assign(n / 64 + 1, 0);
    kind_of_link_.resize(n);
    leaves_ = 0;
    keep_clear_ = 0;
    in_rim_ = false;
    for (std::size_t i = 0; i < n; ++i) {
        auto const slot = static_cast<std::size_t>(region.links[i].other);
        link_of_slot_[slot] = static_cast<int>(i);
        kind_of_link_[i] = regions[slot].kind;
        if (region.links[i].starts_in_other) toggle(region.links[i].other);
    }
}

void Cover::toggle(int slot) {
    int const link = link_of_slot_[static_cast<std::size_t>(slot)];
    std::uint64_t& word = bits_[static_cast<std::size_t>(link) / 64];
    std::uint64_t const bit = std::uint64_t{1} << (link % 64);
    word ^= bit;
    int const step = (word & bit) != 0 ? 1 : -1;
    switch (kind_of_link_[static_cast<std::size_t>(link)]) {
    case RegionKind::leaf:
        leaves_ += step;
        break;
    case RegionKind::keep_clear:
        keep_clear_ += step;
        break;
    case RegionKind::rim:
        in_rim_ = step > 0;
        break;
    }
}

int Cover::top() const {
    std::size_t word = bits_.size() - 1;
    while (bits_[word] == 0) --word;
    return static_cast<int>(word) * 64 + 63 - std::countl_zero(bits_[word]);
}

namespace {

// Calls piece(g) for every piece of the walk between events, with `cover` as it is there.
template <class Piece>
void walk(Region const& region, std::span<Region const> regions, Vec2 const& origin, Cover& cover, Piece&& piece) {
    Outline const& outline = region.outline;
    Vec2 const lever = 0.5 * (outline.centre - origin);
    int edge = 0;
    Vec2 from = outline.points.front();
    auto const go_to = [&](int to_edge, Vec2 const& to) {
        piece(outline.sweep(edge, from, to_edge, to) + cross(lever, to - from));
        edge = to_edge;
        from = to;
    };
    cover.start(region, regions);
    for (Event const& event : region.events) {
        go_to(static_cast<int>(event.key), event.at);
        cover.toggle(event.other);
    }
    go_to(outline.edges(), outline.points.back());
}

void add_leaf_piece(Region& leaf, Cover const& cover, double g) {
    Parts& parts = leaf.parts;
    auto const others = static_cast<std::size_t>(cover.leaves());
    parts.layers[others] += g;
    if (others == 0) {
        parts.exposed += g;
        if (!cover.in_rim()) return;
        parts.in_rim += g;
        if (!cover.in_keep_clear()) parts.bare -= g;
        return;
    }
    int const top = cover.top();
    if (top >= leaf.below) return; // a later leaf lies over this place
    parts.exposed += g;
    leaf.links[static_cast<std::size_t>(top)].credit_mm2 -= g;
}

void add_rim_piece(Region& rim, Cover const& cover, double g) {
    if (cover.leaves() > 0) rim.parts.in_rim += g;
    if (cover.in_keep_clear()) return;
    rim.parts.zone += g;
    if (cover.leaves() == 0) rim.parts.bare += g;
}

void add_keep_clear_piece(Region& ring, Cover const& cover, double g) {
    if (!cover.in_rim() || cover.in_keep_clear()) return;
    ring.parts.zone -= g;
    if (cover.leaves() == 0) ring.parts.bare -= g;
}

} // namespace

void take_parts(Region& region, std::span<Region const> regions, Vec2 const& origin, Cover& cover) {
    Parts& parts = region.parts;
    parts.exposed = parts.in_rim = parts.zone = parts.bare = 0;
    parts.layers.assign(region.links.size() + 1, 0.0);
    for (Link& link : region.links) link.credit_mm2 = 0;
    if (region.outline.points.empty()) return;
    auto const each = [&](auto add) { walk(region, regions, origin, cover, [&](double g) { add(region, cover, g); }); };
    switch (region.kind) {
    case RegionKind::leaf:
        each(add_leaf_piece);
        break;
    case RegionKind::rim:
        each(add_rim_piece);
        break;
    case RegionKind::keep_clear:
        each(add_keep_clear_piece);
        break;
    }
    if (region.kind != RegionKind::leaf) parts.layers.clear();
    while (!parts.layers.empty() && parts.layers.back() == 0) parts.layers.pop_back();
}

} // namespace leafwright::overlap
