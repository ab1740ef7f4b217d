#include "rows/overlap_region.h"

#include <algorithm>

namespace leafwright::overlap {

Area swept_up_to(Outline const& outline, Vec2 const& origin, int edge, Vec2 const& at) {
    auto const e = static_cast<std::size_t>(edge);
    Vec2 const centre = outline.centre;
    double const about_centre = outline.swept[e] + 0.5 * cross(outline.points[e] - centre, at - centre);
    return to_area(about_centre + 0.5 * cross(centre - origin, at - origin));
}

namespace {

bool comes_before(Event const& a, Event const& b) {
    if (a.key != b.key) return a.key < b.key;
    return a.rank != b.rank ? a.rank < b.rank : a.swept < b.swept;
}

} // namespace

void renew_events(Region& region, std::span<Region const> regions, std::vector<Event>& spare) {
    if (region.changed) region.events.clear();
    std::ranges::sort(region.fresh, comes_before);
    spare.resize(region.events.size() + region.fresh.size());
    Event* out = spare.data();
    auto fresh = region.fresh.begin();
    for (Event const& event : region.events) {
        if (regions[static_cast<std::size_t>(event.other)].changed) continue;
        while (fresh != region.fresh.end() && comes_before(*fresh, event)) *out++ = *fresh++;
        *out++ = event;
    }
    out = std::copy(fresh, region.fresh.end(), out);
    spare.resize(static_cast<std::size_t>(out - spare.data()));
    region.events.swap(spare);
    region.fresh.clear();
}

void Cover::fit_slots(std::size_t count) {
    if (link_of_slot_.size() < count) link_of_slot_.resize(count);
}

void Cover::start(Region const& region, std::span<Region const> regions) {
    int const n = static_cast<int>(region.links.size());
    bits_.assign(static_cast<std::size_t>(n) / 64 + 1, 0);
    leaves_ = 0;
    keep_clear_ = 0;
    in_rim_ = false;
    first_leaf_ = 0;
    rim_slot_ = -1;
    for (int i = 0; i < n; ++i) {
        Link const& link = region.links[static_cast<std::size_t>(i)];
        RegionKind const kind = regions[static_cast<std::size_t>(link.other)].kind;
        link_of_slot_[static_cast<std::size_t>(link.other)] = i;
        if (kind != RegionKind::leaf) first_leaf_ = i + 1;
        if (kind == RegionKind::rim) rim_slot_ = link.other;
        if (link.starts_in_other) toggle(link.other);
    }
}

namespace {

// Calls piece(area) for every piece of the walk between events, with `cover` as it is there.
template <class Piece>
void walk(Region const& region, std::span<Region const> regions, Vec2 const& origin, Cover& cover, Piece&& piece) {
    Outline const& outline = region.outline;
    Area from = swept_up_to(outline, origin, 0, outline.points.front());
    cover.start(region, regions);
    for (Event const& event : region.events) {
        piece(event.swept - from);
        from = event.swept;
        cover.toggle(event.other);
    }
    piece(swept_up_to(outline, origin, outline.edges(), outline.points.back()) - from);
}

struct LeafPiece {
    static void add(Region& leaf, Cover const& cover, Area piece) {
        Parts& parts = leaf.parts;
        auto const others = static_cast<std::size_t>(cover.leaves());
        parts.layers[others] += piece;
        if (others == 0) {
            parts.exposed += piece;
            if (!cover.in_rim()) return;
            parts.in_rim += piece;
            if (!cover.in_keep_clear()) parts.bare -= piece;
            return;
        }
        int const top = cover.top();
        if (top >= leaf.below) return; // a later leaf lies over this place
        parts.exposed += piece;
        leaf.links[static_cast<std::size_t>(top)].credit -= piece;
    }
};

struct RimPiece {
    static void add(Region& rim, Cover const& cover, Area piece) {
        if (cover.leaves() > 0) rim.parts.in_rim += piece;
        if (cover.in_keep_clear()) return;
        rim.parts.zone += piece;
        if (cover.leaves() == 0) rim.parts.bare += piece;
    }
};

struct KeepClearPiece {
    static void add(Region& ring, Cover const& cover, Area piece) {
        if (!cover.in_rim() || cover.in_keep_clear()) return;
        ring.parts.zone -= piece;
        if (cover.leaves() == 0) ring.parts.bare -= piece;
    }
};

template <class Kind> void take(Region& region, std::span<Region const> regions, Vec2 const& origin, Cover& cover) {
    walk(region, regions, origin, cover, [&](Area piece) { Kind::add(region, cover, piece); });
}

} // namespace

void take_parts(Region& region, std::span<Region const> regions, Vec2 const& origin, Cover& cover) {
    Parts& parts = region.parts;
    parts.exposed = parts.in_rim = parts.zone = parts.bare = 0;
    parts.whole = region.kind == RegionKind::leaf ? to_area(region.outline.area_mm2()) : 0;
    parts.layers.assign(region.links.size() + 1, 0);
    for (Link& link : region.links) link.credit = 0;
    if (!region.outline.points.empty()) {
        switch (region.kind) {
        case RegionKind::leaf:
            take<LeafPiece>(region, regions, origin, cover);
            break;
        case RegionKind::rim:
            take<RimPiece>(region, regions, origin, cover);
            break;
        case RegionKind::keep_clear:
            take<KeepClearPiece>(region, regions, origin, cover);
            break;
        }
    }
    while (!parts.layers.empty() && parts.layers.back() == 0) parts.layers.pop_back();
}

} // namespace leafwright::overlap
