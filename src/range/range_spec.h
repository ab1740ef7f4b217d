// The document of a range: several pieces that are planned together, as plain values.
#pragma once

#include "firing/kiln.h"
#include "piece/cost.h"
#include "range/date.h"

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

namespace leafwright {

struct AwaySpec {
    Day from{};
    Day to{}; // the last day away
    bool operator==(AwaySpec const&) const = default;
};

inline constexpr std::array<bool, 7> kWeekdays = {true, true, true, true, true, false, false}; // Monday first

struct WorkSpec {
    double hours_a_day = 6; // 0.5 to 16
    std::array<bool, 7> days = kWeekdays;
    std::vector<AwaySpec> away;
    // Calendar days that a begun piece may lie under polythene and still be worked on, from rolling to the last
    // feature; 1 to 14. Common practice, no source.
    int plastic_days = 4;
    bool operator==(WorkSpec const&) const = default;
};

struct RangePieceSpec {
    std::string file; // beside the range's file, or "demo:NAME"
    int copies = 1;   // 1 to 100
    std::string label;
    bool operator==(RangePieceSpec const&) const = default;
};

// How the kiln is filled. Defaults are common practice, no source.
struct ShelfSpec {
    double shelf_thickness_mm = 18; // 5 to 60
    double post_gap_mm = 12;        // between the tallest piece of a shelf and the shelf above; 0 to 100
    double piece_gap_mm = 8;        // between pieces; 0 to 100
    double top_play_degC = 10;      // pieces whose tops differ by no more may share a load; 0 to 100
    double hours_play = 4;          // likewise the hours up of proposed schedules; the slowest is run; 0 to 48
    bool mix_schedules = false;     // pieces with schedules of their own may share a load all the same
    bool operator==(ShelfSpec const&) const = default;
};

struct RangeSpec {
    std::string name = "New range";
    std::uint64_t seed = 1;
    Day start{};
    std::optional<Day> due;
    WorkSpec work;
    std::vector<RangePieceSpec> pieces;
    int formers = 1;              // of each shape; 1 to 50
    int drying_places = 6;        // pieces that can dry at once; 1 to 200
    double bag_kg = 12.5;         // clay in a bag; 0.5 to 1000
    int presses_per_leaf = 3;     // clay leaves from one gathered leaf; 1 to 50. Common practice, no source
    std::optional<KilnSpec> kiln; // for all pieces; none: the pieces' own
    ShelfSpec shelves;
    std::optional<CostSpec> cost; // for all pieces; none: the pieces' own
    bool operator==(RangeSpec const&) const = default;
};

inline constexpr std::size_t kMostRangePieces = 60;
inline constexpr std::size_t kMostAway = 100;
inline constexpr int kMostCopies = 200; // of all pieces together

} // namespace leafwright
