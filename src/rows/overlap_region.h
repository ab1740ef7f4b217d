// Inside the overlap engine, for no other room: an outline among its neighbours, and its part in every total.
#pragma once

#include "rows/overlap_crossing.h"

#include <cstdint>
#include <memory>

namespace leafwright::overlap {

enum class RegionKind : std::uint8_t { leaf, rim, keep_clear };

// Where the walk goes into or out of another region.
struct Event {
    double key = 0;
    Vec2 at{0, 0};
    int other = 0; // slot
    int rank = 0;  // of the other, for ties: slots depend on history, ranks do not
};

struct Link {
    int other = 0; // slot
    bool starts_in_other = false;
    bool other_starts_in_this = false;
    bool crosses = false;
    double area_mm2 = 0;   // shared
    double credit_mm2 = 0; // what this walk adds to the other's exposed area (it takes away)
};

// What one walk adds to the totals.
struct Parts {
    double exposed = 0;
    double in_rim = 0; // leaf: union inside the rim; rim: the same
    double zone = 0;   // rim and keep-clear rings
    double bare = 0;
    std::vector<double> layers; // leaf: area under at least k + 1 leaves
};

struct Region {
    RegionKind kind = RegionKind::leaf;
    bool alive = false;
    bool changed = false; // outline new in this update
    bool dirty = false;   // parts to be taken again
    int rank = 0;
    int below = 0; // links before this leaf in the laying order, rim and keep-clear rings counted
    Outline outline;
    std::vector<Event> events; // along the walk
    std::vector<Event> fresh;  // to be merged into events
    std::vector<Link> links;   // rim and keep-clear rings, then leaves in laying order
    Parts parts;
};

bool comes_before(Event const& a, Event const& b);
// Sorts `fresh` and merges it into `events`.
void merge_fresh(Region& region);

// Which regions cover the place where a walk has come to.
class Cover {
public:
    // Room for slots below `count`.
    void fit_slots(std::size_t count);
    // Sets out at the start of the region's walk.
    void start(Region const& region, std::span<Region const> regions);
    void toggle(int slot);

    int leaves() const { return leaves_; }
    bool in_rim() const { return in_rim_; }
    bool in_keep_clear() const { return keep_clear_ > 0; }
    // Number of the last link among those that cover; there must be one.
    int top() const;

private:
    std::vector<int> link_of_slot_;
    std::vector<RegionKind> kind_of_link_;
    std::vector<std::uint64_t> bits_;
    int leaves_ = 0;
    int keep_clear_ = 0;
    bool in_rim_ = false;
};

// Takes the region's parts and its links' credits again, by one walk along its events. `origin` is that of all sums.
void take_parts(Region& region, std::span<Region const> regions, Vec2 const& origin, Cover& cover);

} // namespace leafwright::overlap
