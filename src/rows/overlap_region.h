// Inside the overlap engine, for no other room: an outline among its neighbours, and its part in every total.
#pragma once

#include "rows/overlap_crossing.h"

#include <bit>
#include <cstdint>
#include <memory>

namespace leafwright::overlap {

enum class RegionKind : std::uint8_t { leaf, rim, keep_clear };

// Areas as whole multiples of 2^-36 mm2 (1.5e-11 mm2): sums of them are exact in any order. So totals can follow the
// leaves by taking old parts away and adding new ones, without drift. Room for 1.3e8 mm2.
using Area = std::int64_t;
inline constexpr double kAreaUnits_per_mm2 = 68719476736.0;
inline Area to_area(double mm2) { return static_cast<Area>(mm2 * kAreaUnits_per_mm2); }
inline double to_mm2(Area area) { return static_cast<double>(area) / kAreaUnits_per_mm2; }

// Where the walk goes into or out of another region.
struct Event {
    double key = 0;
    Area swept = 0; // about the common origin, by the walk up to here
    int other = 0;  // slot
    int rank = 0;   // of the other, for ties: slots depend on history, ranks do not
};

struct Link {
    int other = 0; // slot
    bool starts_in_other = false;
    double area_mm2 = 0; // shared
    Area credit = 0;     // what this walk adds to the other's exposed area (it takes away)
};

// What one walk adds to the totals.
struct Parts {
    Area whole = 0; // of a leaf
    Area exposed = 0;
    Area in_rim = 0; // leaf: union inside the rim; rim: the same
    Area zone = 0;   // rim and keep-clear rings
    Area bare = 0;
    std::vector<Area> layers; // leaf: area under at least k + 1 leaves
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

// Area swept about the origin up to a point of that edge. The start of the walk has a value too, not always 0.
Area swept_up_to(Outline const& outline, Vec2 const& origin, int edge, Vec2 const& at);

// Drops events of regions that changed and merges `fresh` in. `spare` is room to work in.
void renew_events(Region& region, std::span<Region const> regions, std::vector<Event>& spare);

// Which regions cover the place where a walk has come to.
class Cover {
public:
    // Room for slots below `count`.
    void fit_slots(std::size_t count);
    // Sets out at the start of the region's walk.
    void start(Region const& region, std::span<Region const> regions);
    void toggle(int slot) {
        int const link = link_of_slot_[static_cast<std::size_t>(slot)];
        std::uint64_t& word = bits_[static_cast<std::size_t>(link) / 64];
        std::uint64_t const bit = std::uint64_t{1} << (link % 64);
        word ^= bit;
        int const step = (word & bit) != 0 ? 1 : -1;
        if (link >= first_leaf_)
            leaves_ += step;
        else if (slot == rim_slot_)
            in_rim_ = step > 0;
        else
            keep_clear_ += step;
    }

    int leaves() const { return leaves_; }
    bool in_rim() const { return in_rim_; }
    bool in_keep_clear() const { return keep_clear_ > 0; }
    // Number of the last link among those that cover; there must be one.
    int top() const {
        std::size_t word = bits_.size() - 1;
        while (bits_[word] == 0) --word;
        return static_cast<int>(word) * 64 + 63 - std::countl_zero(bits_[word]);
    }

private:
    std::vector<int> link_of_slot_;
    std::vector<std::uint64_t> bits_; // by link
    int first_leaf_ = 0;              // links before it are rings
    int rim_slot_ = -1;
    int leaves_ = 0;
    int keep_clear_ = 0;
    bool in_rim_ = false;
};

// Takes the region's parts and its links' credits again, by one walk along its events.
void take_parts(Region& region, std::span<Region const> regions, Vec2 const& origin, Cover& cover);

} // namespace leafwright::overlap
