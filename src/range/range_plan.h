// Everything that follows from a range: its pieces' plans, what to get ready, kiln loads, calendar, costs.
#pragma once

#include "base/task.h"
#include "piece/second_half.h"
#include "range/kiln_loads.h"
#include "range/schedule.h"

namespace leafwright {

// One entry of the range: equal copies of one piece.
struct RangeEntry {
    std::string name; // its label, or the piece's name; no two are the same
    int copies = 1;
    int shape = 0; // entries with equal formers have the same
    std::shared_ptr<Plan const> plan;
    std::shared_ptr<SecondHalf const> second;
    Ring silhouette_mm; // plastic
    double make_hours = 0;
    // Of one copy, the kiln shared by mass; and what firing it alone would cost.
    CostAnswer cost;
    Figure firing_alone;
    double kWh = 0; // its share of all its loads, the mean of its copies
};

struct RangeShape {
    std::string name; // "oval, 300 mm x 400 mm, 58 mm high"
    int copies = 0;   // that are made on it
    int formers = 1;
    int enough = 1; // with so many the range is done as soon as with any number
};

struct RangeClay {
    std::string body; // "stoneware"
    Figure knead_g;
    int bags = 0;
    int bags_most = 0; // at the high end of the range
};

struct RangeLeaves {
    std::string outline; // "drawer:hornbeam"
    std::string label;   // "Hornbeam"
    int cut = 0;
    int gather = 0;
    double shortest_mm = 0;
    double longest_mm = 0;
};

struct RangeFiring {
    int firing = 0;
    LoadsAnswer answer; // its loads' of_kind: by entry
};

// How much sooner it would be done with more of something.
struct Relief {
    std::string what; // "one more drying place"
    int days = 0;
};

struct RangeCosts {
    Figure clay, firing, finish, labour, overhead, total, price;
    double hours = 0;
    double kWh = 0;
    Figure saving; // by firing together, overhead included
    std::string currency;
};

struct RangePlan {
    RangeSpec spec;
    KilnSpec kiln;
    std::vector<RangeEntry> entries;
    std::vector<RangeShape> shapes;
    std::vector<RangeClay> clay;
    std::vector<RangeLeaves> leaves; // most first
    std::vector<RangeFiring> firings;
    std::vector<KilnLoad> loads; // of all firings, in the calendar's order
    ScheduleJob job;
    Schedule schedule;
    Day done{};
    Day done_early{}; // when all dries at the fast end of its range, and at the slow end
    Day done_late{};
    std::vector<Relief> reliefs;       // the greatest first
    std::optional<LatestStart> latest; // with a due date
    RangeCosts costs;
    std::vector<Warning> warnings; // refusals first; `stage` names a stage or an entry
};

// `pieces` as spec.pieces. Problems: those of the planner, with the entry's place in the file ("pieces[1]"); refusals
// of the calendar. A piece that does not go into the kiln is a refusal among the warnings; the calendar then goes
// without it. Cost: 0.6 s for each different piece (two at a time), some tenths of a second for the rest.
Outcome<RangePlan> plan_range(RangeSpec const& spec, std::vector<Piece> const& pieces, Task& task);

// range.json; keys in README.md.
std::string range_plan_to_json(RangePlan const& plan);

// The calendar's days, one line each step: RFC 4180, CRLF.
std::string calendar_csv(RangePlan const& plan);
// All-day events by RFC 5545: CRLF, lines folded at 75 octets. Same plan, same bytes.
std::string calendar_ics(RangePlan const& plan);
// "Knead, roll, lay and clothe Hare 2": what a step is called in calendars and reports.
std::string step_words(RangePlan const& plan, ScheduleStep const& step);
std::string copy_name(RangePlan const& plan, int copy); // "Hare 2"; the number only when there are several
std::string load_name(int load);                        // "load 3"
// How good the number of loads is: a sentence without full stop.
std::string bound_words(LoadsAnswer const& loads);
// Whose pace and heat a load goes by, where its pieces were planned for different ones; else empty. Sentences.
std::string pace_words(RangePlan const& plan, KilnLoad const& load);

} // namespace leafwright
