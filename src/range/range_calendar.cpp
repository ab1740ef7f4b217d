// The pieces' hours and days as a job for the calendar, and what the calendar answers.
#include "range/range_parts.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numeric>

namespace leafwright {

namespace {

constexpr double kPackingShare = 2.0 / 3; // of a firing's hours; the rest is unpacking. Common practice, no source

double hours_of(CostAnswer const& cost, std::string_view stage) {
    for (StageHours const& h : cost.hours)
        if (h.stage == stage) return h.hours;
    return 0;
}

int minutes(double hours) { return static_cast<int>(std::lround(60 * hours)); }

int whole_days(double days) { return std::max(1, static_cast<int>(std::ceil(days - 1e-9))); }

// Of hands, for one copy in one firing.
double firing_hours(RangeEntry const& entry, int firing) {
    if (firing == 0) return hours_of(entry.cost, "First firing");
    double const later = std::max(1.0, static_cast<double>(entry.second->firings.size()) - 1);
    return hours_of(entry.cost, "Last firing") / later;
}

bool is_in_loads(RangePlan const& plan, std::size_t entry) {
    return std::ranges::any_of(plan.loads, [&](KilnLoad const& load) { return load.of_kind[entry] > 0; });
}

ScheduleKind kind_of(RangePlan const& plan, std::size_t e, DryingEnd end) {
    RangeEntry const& entry = plan.entries[e];
    DryingAnswer const& drying = *entry.second->drying;
    Figure const& days = drying.days_to_bone_dry;
    ScheduleKind kind;
    kind.name = entry.name;
    kind.copies = is_in_loads(plan, e) ? entry.copies : 0;
    kind.shape = entry.shape;
    kind.make_min = minutes(entry.make_hours);
    kind.former_days = whole_days(drying.former_out_day);
    kind.out_min = minutes(hours_of(entry.cost, "Dry"));
    kind.drying_days = whole_days(end == DryingEnd::early ? days.low : end == DryingEnd::late ? days.high : days.value);
    kind.firings = static_cast<int>(entry.second->firings.size());
    kind.finish_min = minutes(hours_of(entry.cost, "Finish"));
    kind.hang_min = minutes(hours_of(entry.cost, "Hang"));
    return kind;
}

ScheduleLoad load_for(RangePlan const& plan, KilnLoad const& load) {
    ScheduleLoad made;
    made.firing = load.firing;
    made.of_kind = load.of_kind;
    double hours = 0;
    for (std::size_t e = 0; e < load.of_kind.size(); ++e)
        hours += load.of_kind[e] * firing_hours(plan.entries[e], load.firing);
    made.pack_min = minutes(hours * kPackingShare);
    made.unpack_min = minutes(hours * (1 - kPackingShare));
    made.kiln_days = whole_days((load.hours_up + load.hours_down) / 24);
    return made;
}

ScheduleOptions options_of(RangePlan const& plan, int most) {
    std::size_t items = plan.loads.size();
    for (RangeEntry const& entry : plan.entries) items += static_cast<std::size_t>(entry.copies);
    ScheduleOptions options;
    options.seed = plan.spec.seed;
    options.most_orders = std::clamp(60000 / static_cast<int>(std::max<std::size_t>(1, items)), 60, most);
    return options;
}

// Loads numbered as the calendar fires them.
void number_loads(RangePlan& plan) {
    std::vector<int> packed(plan.loads.size(), 0);
    for (ScheduleStep const& s : plan.schedule.steps)
        if (s.kind == StepKind::pack) packed[static_cast<std::size_t>(s.load)] = s.to;
    std::vector<std::size_t> order(plan.loads.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, {}, [&](std::size_t l) { return packed[l]; });
    std::vector<int> number(order.size());
    std::vector<KilnLoad> loads;
    std::vector<ScheduleLoad> jobs;
    for (std::size_t i = 0; i < order.size(); ++i) {
        number[order[i]] = static_cast<int>(i);
        loads.push_back(plan.loads[order[i]]);
        jobs.push_back(plan.job.loads[order[i]]);
    }
    plan.loads = std::move(loads);
    plan.job.loads = std::move(jobs);
    for (ScheduleStep& s : plan.schedule.steps)
        if (s.load >= 0) s.load = number[static_cast<std::size_t>(s.load)];
    for (CopyDates& copy : plan.schedule.copies)
        for (int& l : copy.loads) l = number[static_cast<std::size_t>(l)];
}

int done_with(ScheduleJob const& job, ScheduleOptions const& options, int otherwise) {
    Outcome<Schedule> const schedule = plan_schedule(job, options);
    return schedule ? schedule->done : otherwise;
}

void find_reliefs(RangePlan& plan, ScheduleOptions const& options) {
    auto const look = [&](ScheduleJob const& job, std::string what) {
        int const days = plan.schedule.done - done_with(job, options, plan.schedule.done);
        if (days > 0) plan.reliefs.push_back({std::move(what), days});
    };
    int copies = 0;
    for (std::size_t s = 0; s < plan.shapes.size(); ++s) {
        copies += plan.shapes[s].copies;
        if (plan.job.formers[s] >= plan.shapes[s].copies) continue;
        ScheduleJob job = plan.job;
        ++job.formers[s];
        look(job, "one more former (" + plan.shapes[s].name + ")");
    }
    if (plan.job.drying_places < copies) {
        ScheduleJob job = plan.job;
        ++job.drying_places;
        look(job, "one more drying place");
    }
    ScheduleJob longer = plan.job;
    longer.work.hours_a_day += 1;
    look(longer, "one more hour of work a day");
    if (!plan.job.work.days[5]) {
        ScheduleJob saturday = plan.job;
        saturday.work.days[5] = true;
        look(saturday, "work on Saturdays");
    }
    std::ranges::stable_sort(plan.reliefs, std::greater<>(), &Relief::days);
}

// The fewest formers of each shape with which it is done as soon as with one for every copy.
void find_enough_formers(RangePlan& plan, ScheduleOptions const& options) {
    ScheduleJob job = plan.job;
    for (std::size_t s = 0; s < plan.shapes.size(); ++s) job.formers[s] = std::max(1, plan.shapes[s].copies);
    int const soonest = done_with(job, options, kMostCopies);
    for (std::size_t s = 0; s < plan.shapes.size(); ++s) {
        int least = 1;
        for (int most = job.formers[s]; least < most;) { // halving: more never hurt
            job.formers[s] = (least + most) / 2;
            if (done_with(job, options, soonest + 1) <= soonest)
                most = job.formers[s];
            else
                least = job.formers[s] + 1;
        }
        plan.shapes[s].enough = job.formers[s] = least;
    }
}

void judge_due(RangePlan& plan, ScheduleOptions const& options) {
    if (!plan.spec.due) return;
    Day const due = *plan.spec.due;
    Outcome<LatestStart> const latest = latest_start(plan.job, due, options);
    if (latest) plan.latest = *latest;
    if (plan.done <= due) return;
    std::string hint = latest ? fmt::format("Begin by {}, make fewer copies, or see what would make it sooner.",
                                            spoken_date(latest->start))
                              : latest.problem().hint + '.';
    plan.warnings.push_back({"due.late", "Calendar",
                             fmt::format("It is not ready by {}: the last piece hangs on {}, {} days later.",
                                         spoken_date(due), spoken_date(plan.done), (plan.done - due).count()),
                             std::move(hint), true});
}

} // namespace

ScheduleJob schedule_job(RangePlan const& plan, DryingEnd drying) {
    ScheduleJob job;
    job.start = plan.spec.start;
    job.work = plan.spec.work;
    for (std::size_t e = 0; e < plan.entries.size(); ++e) job.kinds.push_back(kind_of(plan, e, drying));
    for (KilnLoad const& load : plan.loads) job.loads.push_back(load_for(plan, load));
    for (RangeShape const& shape : plan.shapes) job.formers.push_back(shape.formers);
    job.drying_places = plan.spec.drying_places;
    return job;
}

MaybeProblem plan_calendar(RangePlan& plan) {
    plan.job = schedule_job(plan, DryingEnd::usual);
    if (plan.loads.empty()) return {};
    ScheduleOptions const options = options_of(plan, 3000);
    Outcome<Schedule> schedule = plan_schedule(plan.job, options);
    if (!schedule) return schedule.problem();
    plan.schedule = std::move(*schedule);
    plan.done = plan.schedule.day(plan.schedule.done, plan.job.start);
    auto const other_end = [&](DryingEnd end) {
        return plan.job.start + std::chrono::days{done_with(schedule_job(plan, end), options, plan.schedule.done)};
    };
    plan.done_early = std::min(plan.done, other_end(DryingEnd::early));
    plan.done_late = std::max(plan.done, other_end(DryingEnd::late));
    ScheduleOptions const quick = options_of(plan, 500);
    find_reliefs(plan, quick);
    find_enough_formers(plan, quick);
    judge_due(plan, quick);
    number_loads(plan);
    return {};
}

} // namespace leafwright
