// When is what done: all copies through one pair of hands, so many formers and drying places, and one kiln.
//
// Time goes by calendar days; hands have so many minutes on a working day and none on others. What comes free on a day
// is used again that day. Work other than making that fits into a day is done in one go.
//   Making    from rolling to the last feature, on working days without a gap in the piece's turn, within plastic_days
//             calendar days from begin to end: a piece that would have to lie longer is begun later.
//   Former    taken up from the first day of making until it is taken out by hand, on the first working day on or after
//             the clay is stiff enough; the hours of drying are worked on that day.
//   Drying    so many days from the end of making, in a drying place. Days off do not stop it.
//   Load      waits for all its pieces; packed by hand into a kiln that is empty, fired from the end of the last day of
//             packing, unpacked by hand from the first working day on which it is cold.
//   Finish    by hand, after the first firing; the piece may be packed again from the next day. Hanging closes the
//   work.
#pragma once

#include "range/range_spec.h"

#include <string>

namespace leafwright {

struct ScheduleKind { // equal copies
    std::string name;
    int copies = 1;
    int shape = 0; // index into ScheduleJob::formers
    int make_min = 0;
    int former_days = 0; // after the end of making
    int out_min = 0;
    int drying_days = 0; // after the end of making
    int firings = 2;
    int finish_min = 0;
    int hang_min = 0;
};

struct ScheduleLoad {
    int firing = 0; // 0 first
    std::vector<int> of_kind;
    int pack_min = 0;
    int kiln_days = 2; // from the end of packing until it is cold
    int unpack_min = 0;
};

struct ScheduleJob {
    Day start{};
    WorkSpec work;
    std::vector<ScheduleKind> kinds;
    std::vector<ScheduleLoad> loads; // every copy once in a load of each of its firings
    std::vector<int> formers;        // how many, by shape
    int drying_places = 1;
};

enum class StepKind { make, former_out, dry, pack, fire, unpack, finish, hang };
std::string_view step_name(StepKind kind); // "make", "take off the former", ...

// Days are counted from the start (0); `to` is the last day, for drying and firing the day on which it is over.
struct ScheduleStep {
    StepKind kind = StepKind::make;
    int copy = -1; // index into Schedule::copies; -1 for a load's
    int load = -1; // index into ScheduleJob::loads
    int from = 0;
    int to = 0;
    int minutes = 0; // of hands
};

// Why a step did not begin earlier than it did.
enum class HeldBy { start, step_before, former, place, kiln, hands, days_off };

struct ChainLink {
    HeldBy by = HeldBy::start;
    int step = 0; // index into Schedule::steps; the chain runs from the start to the end
};

struct CopyDates {
    int kind = 0;
    int number = 1; // of its kind, from 1
    int make_from = 0;
    int make_to = 0;
    int former_out = 0;
    int bone_dry = 0;
    std::vector<int> loads; // by firing
    int done = 0;
};

struct Schedule {
    std::vector<CopyDates> copies;   // in the order in which they are made
    std::vector<ScheduleStep> steps; // by day, then as booked
    std::vector<int> hand_minutes;   // by day
    int done = 0;                    // the day on which the last piece hangs
    int least = 0;                   // no plan is done earlier
    std::string least_by;            // a sentence without full stop
    std::vector<ChainLink> chain;    // what decided the last day
    std::array<int, 5> days_by{};    // of the chain: hands, drying, kiln, former or place, days off
    int tried = 0;                   // orders
    bool all_tried = false;
    Day day(int number, Day start) const { return start + std::chrono::days{number}; }
};

struct ScheduleOptions {
    std::uint64_t seed = 1;
    int most_orders = 3000; // tried at most
    bool chain = true;
};

// The earliest end that is found. The order of making and of loads decides everything else; it begins with rules and is
// improved by a seeded search; where there are few orders all are tried. Same job, same answer.
// Problems (refusals): "work.hands" when a piece can not be made within its days under polythene whatever the week,
// "work.away" when there are no working days for years.
// Cost: about 20 us for each order of ten copies.
Outcome<Schedule> plan_schedule(ScheduleJob const& job, ScheduleOptions const& options = {});

// One order: numbers below the number of kinds mean a copy of that kind, those above it a load; a load that comes
// before its copies waits for them. For tests; `order` must hold every copy and every load once.
Outcome<Schedule> schedule_of(ScheduleJob const& job, std::vector<int> const& order);

// The latest start with which the found plan is done by `due`; nothing when even 1500 days before it do not suffice.
struct LatestStart {
    Day start{};
    Day done{};
    Day never_after{}; // no start after this one can be ready by any plan
};
Outcome<LatestStart> latest_start(ScheduleJob job, Day due, ScheduleOptions const& options = {});

} // namespace leafwright
