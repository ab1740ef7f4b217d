// Inside the overlap engine, for no other room: all regions, who lies on whom, and the totals, kept up with every
// change.
#pragma once

#include "rows/overlap.h"
#include "rows/overlap_region.h"

#include <unordered_map>

namespace leafwright::overlap {

inline std::size_t index(int number) { return static_cast<std::size_t>(number); }

inline constexpr int kRimSlot = 0;

struct Totals {
    Area leaves = 0;
    Area in_rim = 0;
    Area zone = 0;
    Area bare = 0;
    std::vector<Area> layers;
    std::vector<Area> exposed; // by slot
};

class Plane {
public:
    Plane();

    // Takes over the arrangement and brings all parts and totals up to it.
    void update(CladZone const& zone, std::span<OverlapLeaf const> leaves);

    Totals const& totals() const { return totals_; }
    std::vector<int> const& order() const { return order_; }     // slots in laying order
    std::span<Region const> regions() const { return regions_; } // by slot
    Region const& region(int slot) const { return regions_[index(slot)]; }
    int position(int slot) const { return position_[index(slot)]; } // in the laying order; below 0 for rings
    bool has_rim() const { return zone_.rim != nullptr; }
    // Of the last update: the laying order or the ids are others; slots whose own parts or links are new.
    bool sequence_is_new() const { return sequence_is_new_; }
    std::vector<int> const& renewed() const { return dirty_; }

private:
    int take_slot(RegionKind kind, int rank, int position);
    void release(int slot);
    void set_outline(int slot, Polygon const& polygon);
    void count(int slot, Area sign);
    void mark_dirty(int slot);
    void mark_changed(int slot);
    void take_zone(CladZone const& next);
    void take_rim(std::shared_ptr<Ring const> const& rim);
    void take_keep_clear(CladZone const& next);
    void take_leaves(std::span<OverlapLeaf const> leaves);
    void take_sequence(std::span<OverlapLeaf const> leaves);
    void mark_reordered();
    void drop_old_links();
    void find_neighbours();
    void join(int slot_a, int slot_b);
    void add_link(int slot, Link const& link);
    void sort_links(Region& region, int slot);
    void take_dirty_parts();
    void forget_changes();

    std::vector<Region> regions_; // by slot; 0 is the rim
    std::vector<CullBox> boxes_;  // by slot
    std::vector<int> position_;   // by slot
    std::vector<int> free_slots_;
    std::vector<int> order_;
    std::unordered_map<int, int> slot_of_id_;
    CladZone zone_;                   // as last time
    std::vector<OverlapLeaf> leaves_; // as last time
    std::vector<int> keep_clear_slots_;
    Vec2 origin_{0, 0}; // of all sums: the rim's middle
    Totals totals_;

    bool sequence_is_new_ = false;
    std::vector<int> changed_; // slots with a new outline
    std::vector<int> dirty_;   // slots whose parts must be taken again, changed ones included
    Shared shared_;
    Cover cover_;
    std::vector<Event> spare_events_;
};

} // namespace leafwright::overlap
