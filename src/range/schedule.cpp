#include "range/schedule.h"

#include "base/random.h"
#include "range/booking.h"
#include "range/schedule_bound.h"

#include <algorithm>
#include <fmt/format.h>
#include <numeric>

namespace leafwright {

namespace {

using Order = std::vector<int>;

struct Mark {
    int done = kHorizon;
    std::int64_t sum = 0;
    auto operator<=>(Mark const&) const = default;
};

MaybeProblem unworkable(ScheduleJob const& job, std::vector<char> const& works) {
    Hands const hands(works, static_cast<int>(std::lround(60 * job.work.hours_a_day)));
    if (hands.first_free(0, 1) >= kHorizon)
        return Problem{"work.away", "work", "leaves no working day for years",
                       "Name working days, or shorten a time away", ProblemKind::refusal};
    for (ScheduleKind const& kind : job.kinds) {
        bool fits = false;
        for (int from = 0; from < kHorizon - 1 && !fits; ++from) {
            int const to = hands.end_of(from, kind.make_min);
            fits = to < kHorizon && to - hands.first_free(from, kind.make_min) + 1 <= job.work.plastic_days;
        }
        if (!fits)
            return Problem{
                "work.hands", "work",
                fmt::format("{} takes {:.1f} h to make; in {} days under polythene there is not so much time",
                            kind.name, kind.make_min / 60.0, job.work.plastic_days),
                "Work more hours or days, or let it rest longer if your clay stays plastic (plastic_days)",
                ProblemKind::refusal};
    }
    return {};
}

// Copies in an order of kinds, behind all loads: a load goes as soon as its pieces can.
class Rules {
public:
    explicit Rules(ScheduleJob const& job) : job_(job) {}

    std::vector<Order> all() const {
        std::vector<int> kinds(job_.kinds.size());
        std::iota(kinds.begin(), kinds.end(), 0);
        std::vector<Order> orders = {by_kind(kinds), in_turns(kinds), by_load()};
        auto const sorted = [&](auto key) {
            std::vector<int> by = kinds;
            std::ranges::stable_sort(by, std::greater<>(),
                                     [&](int k) { return key(job_.kinds[static_cast<std::size_t>(k)]); });
            return by;
        };
        for (auto const& by : {sorted([](ScheduleKind const& k) { return k.drying_days; }),
                               sorted([](ScheduleKind const& k) { return -k.make_min; }),
                               sorted([](ScheduleKind const& k) { return k.former_days * k.copies; })}) {
            orders.push_back(by_kind(by));
            orders.push_back(in_turns(by));
        }
        return orders;
    }

private:
    Order loads() const {
        std::vector<int> by(job_.loads.size());
        std::iota(by.begin(), by.end(), 0);
        std::ranges::stable_sort(by, {}, [&](int l) { return job_.loads[static_cast<std::size_t>(l)].firing; });
        for (int& l : by) l += static_cast<int>(job_.kinds.size());
        return by;
    }
    Order by_kind(std::vector<int> const& kinds) const {
        Order order = loads();
        for (int k : kinds)
            order.insert(order.end(), static_cast<std::size_t>(job_.kinds[static_cast<std::size_t>(k)].copies), k);
        return order;
    }
    Order in_turns(std::vector<int> const& kinds) const {
        Order order = loads();
        for (int round = 0, any = 1; any; ++round) {
            any = 0;
            for (int k : kinds)
                if (round < job_.kinds[static_cast<std::size_t>(k)].copies) order.push_back(k), any = 1;
        }
        return order;
    }
    Order by_load() const {
        Order order = loads();
        for (ScheduleLoad const& load : job_.loads) {
            if (load.firing != 0) continue;
            std::vector<int> left = load.of_kind; // shapes in turns within the load
            for (int any = 1; any;) {
                any = 0;
                for (std::size_t k = 0; k < left.size(); ++k)
                    if (left[k] > 0) --left[k], order.push_back(static_cast<int>(k)), any = 1;
            }
        }
        return order;
    }
    ScheduleJob const& job_;
};

// Distinct orders, or most + 1 when they are more.
int distinct_orders(ScheduleJob const& job, int most) {
    double count = 1;
    int placed = 0;
    for (std::size_t i = 0; i < job.kinds.size() + job.loads.size(); ++i) {
        int const copies = i < job.kinds.size() ? job.kinds[i].copies : 1;
        for (int c = 1; c <= copies; ++c) count = count * ++placed / c;
        if (count > most) return most + 1;
    }
    return static_cast<int>(std::lround(count));
}

class OrderSearch {
public:
    OrderSearch(ScheduleJob const& job, std::vector<char> const& works, int least, ScheduleOptions const& options)
        : job_(job),
          booking_(job, works),
          least_(least),
          random_(options.seed),
          most_(std::max(1, options.most_orders)) {}

    Schedule run() {
        bool const few = distinct_orders(job_, most_) <= most_;
        if (few)
            try_all();
        else
            improve();
        booking_.run(best_);
        Schedule schedule = booking_.schedule();
        schedule.tried = tried_;
        schedule.all_tried = few;
        return schedule;
    }

private:
    Mark mark_of(Order const& order) {
        ++tried_;
        int const done = booking_.run(order);
        return {done, booking_.sum_of_ends()};
    }
    Mark look_at(Order const& order) {
        Mark const mark = mark_of(order);
        if (best_.empty() || mark < best_mark_) best_ = order, best_mark_ = mark;
        return mark;
    }
    void try_all() {
        Order order = Rules(job_).all().front();
        std::ranges::sort(order);
        do look_at(order);
        while (std::ranges::next_permutation(order).found);
    }
    void improve() {
        for (Order const& order : Rules(job_).all()) look_at(order);
        // A little worse is taken up now and then, so that it does not stay where it began.
        Order at = best_;
        Mark mark = best_mark_;
        int since = 0;
        int const enough = std::max(60, most_ / 6); // once the bound is reached only the pieces' own days improve
        while (tried_ < most_ && !(best_mark_.done <= least_ && tried_ >= enough)) {
            Order next = at;
            move_one(next);
            if (random_.below(4) == 0) move_one(next);
            Mark const found = look_at(next);
            bool const takes = found <= mark || (found.done <= mark.done + 1 && random_.below(20) == 0);
            if (takes) at = std::move(next), mark = found;
            if (++since > 200) at = best_, mark = best_mark_, since = 0;
        }
    }
    void move_one(Order& order) {
        auto const n = static_cast<std::uint32_t>(order.size());
        std::size_t const i = random_.below(n), j = random_.below(n);
        if (random_.below(2) == 0) return std::swap(order[i], order[j]);
        int const item = order[i];
        order.erase(order.begin() + static_cast<std::ptrdiff_t>(i));
        order.insert(order.begin() + static_cast<std::ptrdiff_t>(std::min(j, order.size())), item);
    }

    ScheduleJob const& job_;
    Booking booking_;
    int least_;
    Random random_;
    int most_;
    int tried_ = 0;
    Order best_;
    Mark best_mark_;
};

// Whose days they were, along the chain from its first step to the end.
void count_days(Schedule& schedule, std::vector<char> const& works) {
    int day = 0; // each counts once, though a making may begin before the place that it waits for is free
    for (std::size_t i = 0; i < schedule.chain.size(); ++i) {
        ScheduleStep const& s = schedule.steps[static_cast<std::size_t>(schedule.chain[i].step)];
        bool const last = i + 1 == schedule.chain.size();
        ScheduleStep const* const next =
            last ? nullptr : &schedule.steps[static_cast<std::size_t>(schedule.chain[i + 1].step)];
        for (int const until = next ? next->from : schedule.done + 1; day < until; ++day) {
            bool const off = day < static_cast<int>(works.size()) && !works[static_cast<std::size_t>(day)];
            std::size_t whose = off ? 4 : 0;
            if (s.kind == StepKind::dry && day >= s.from && day < s.to) whose = 1;
            if (s.kind == StepKind::fire && day < s.to) whose = 2;
            if (s.kind == StepKind::make && day >= s.to && next && next->kind == StepKind::former_out) whose = 3;
            ++schedule.days_by[whose];
        }
    }
}

Problem too_long() {
    return {"work.away", "work", fmt::format("does not come to an end within {} days", kHorizon),
            "Make fewer copies, or work more hours", ProblemKind::refusal};
}

} // namespace

std::string_view step_name(StepKind kind) {
    constexpr std::array<std::string_view, 8> kNames = {"make", "take off the former", "dry",    "pack the kiln",
                                                        "fire", "unpack the kiln",     "finish", "hang"};
    return kNames[static_cast<std::size_t>(kind)];
}

Outcome<Schedule> plan_schedule(ScheduleJob const& job, ScheduleOptions const& options) {
    std::vector<char> const works = working_days(job.start, job.work, kHorizon);
    if (MaybeProblem const problem = unworkable(job, works)) return *problem;
    ScheduleBound const bound = least_days(job, works);
    Schedule schedule = OrderSearch(job, works, bound.least, options).run();
    if (schedule.done >= kHorizon) return too_long();
    schedule.least = bound.least;
    schedule.least_by = bound.by;
    count_days(schedule, works);
    return schedule;
}

Outcome<Schedule> schedule_of(ScheduleJob const& job, std::vector<int> const& order) {
    std::vector<char> const works = working_days(job.start, job.work, kHorizon);
    if (MaybeProblem const problem = unworkable(job, works)) return *problem;
    Booking booking(job, works);
    if (booking.run(order) >= kHorizon) return too_long();
    Schedule schedule = booking.schedule();
    ScheduleBound const bound = least_days(job, works);
    schedule.least = bound.least;
    schedule.least_by = bound.by;
    count_days(schedule, works);
    return schedule;
}

namespace {

// A plan begun so many days before it is due.
struct Begun {
    bool works = false;    // that day is worked
    bool possible = false; // by the bound
    int late = 0;          // days beyond the due date; 0 or less: ready
    LatestStart latest;
};

Outcome<Begun> begun(ScheduleJob job, Day due, int back, ScheduleOptions const& options) {
    job.start = due - std::chrono::days{back};
    std::vector<char> const works = working_days(job.start, job.work, kHorizon);
    Begun answer;
    answer.works = works[0] != 0;
    if (!answer.works) return answer;
    if (MaybeProblem const problem = unworkable(job, works)) return *problem;
    answer.possible = least_days(job, works).least <= back;
    if (!answer.possible) return answer;
    Outcome<Schedule> const schedule = plan_schedule(job, options);
    if (!schedule) return schedule.problem();
    answer.late = schedule->done - back;
    int first = schedule->done;
    for (CopyDates const& copy : schedule->copies) first = std::min(first, copy.make_from);
    answer.latest = {schedule->day(first, job.start), schedule->day(schedule->done, job.start), {}};
    return answer;
}

} // namespace

Outcome<LatestStart> latest_start(ScheduleJob job, Day due, ScheduleOptions const& options) {
    constexpr int kMostBack = 1500;
    constexpr int kClose = 3; // days that are gone through one by one
    std::optional<Day> never_after;
    int skipped = 0;
    for (int back = 0; back < kMostBack; ++back) {
        Outcome<Begun> const one = begun(job, due, back, options);
        if (!one) return one.problem();
        if (!one->possible) continue;
        if (!never_after) never_after = due - std::chrono::days{back};
        if (one->late > 0) { // far too late: go back by nearly as much
            skipped = std::max(0, one->late - kClose);
            back += skipped;
            continue;
        }
        LatestStart latest = one->latest;
        for (int later = back - 1; later >= back - skipped && later >= 0; --later) {
            Outcome<Begun> const next = begun(job, due, later, options);
            if (!next) return next.problem();
            if (!next->works) continue;
            if (!next->possible || next->late > 0) break;
            latest = next->latest;
        }
        latest.never_after = *never_after;
        return latest;
    }
    return Problem{"due.never", "due", fmt::format("can not be met, not even from {} days before", kMostBack),
                   "Make fewer copies, or set a later day", ProblemKind::refusal};
}

} // namespace leafwright
