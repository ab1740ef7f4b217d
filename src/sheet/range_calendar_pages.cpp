// The calendar as bars by week, and as a list.
#include "sheet/range_page.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr TextStyle kSmall{.size_mm = 3.0};
constexpr TextStyle kTiny{.size_mm = 2.4, .ink = kRangeSoft};
constexpr double kNames_mm = 40;
constexpr double kRow_mm = 6.4;

Ink ink_of(StepKind kind) {
    switch (kind) {
    case StepKind::dry:
        return {0.80, 0.84, 0.86};
    case StepKind::fire:
    case StepKind::pack:
    case StepKind::unpack:
        return {0.76, 0.36, 0.22};
    case StepKind::finish:
    case StepKind::hang:
        return {0.42, 0.52, 0.38};
    default:
        return {0.45, 0.33, 0.24};
    }
}

// Days across the page.
struct Axis {
    double left = 0;
    double day_mm = 1;
    int first = 0; // day number of the first Monday at or before the start
    int days = 7;
    double x(int day) const { return left + (day - first) * day_mm; }
};

int due_day(RangeSheet const& s) {
    return s.plan.spec.due ? static_cast<int>((*s.plan.spec.due - s.plan.job.start).count()) : -1;
}

// A due day far beyond the end would press the bars together: it stands in the words above.
Axis axis_of(RangeSheet const& s) {
    Axis axis;
    axis.left = kRangeMargin + kNames_mm;
    axis.first = 1 - iso_week(s.plan.job.start).day;
    int last = s.plan.schedule.done;
    if (int const due = due_day(s); due > last && due <= last + std::max(14, last / 4)) last = due;
    axis.days = (last + 1 - axis.first + 6) / 7 * 7;
    axis.day_mm = (s.width() - kNames_mm) / axis.days;
    return axis;
}

void weeks(RangeSheet& s, Axis const& axis, double top, double bottom) {
    int const count = axis.days / 7;
    int const every = std::max(1, static_cast<int>(std::ceil(13.0 / (7 * axis.day_mm)))); // room for a name
    WorkSpec const& work = s.plan.spec.work;
    for (int day = axis.first; day < axis.first + axis.days; ++day) {
        Day const date = s.plan.schedule.day(day, s.plan.job.start);
        bool off = !work.days[static_cast<std::size_t>(iso_week(date).day - 1)];
        for (AwaySpec const& away : work.away) off = off || (date >= away.from && date <= away.to);
        if (off) s.paper.fill(range_box({axis.x(day), top}, {axis.x(day + 1), bottom}), {0.965, 0.955, 0.935});
    }
    for (int week = 0; week <= count; ++week) {
        double const x = axis.x(axis.first + 7 * week);
        s.paper.line(std::vector<Vec2>{{x, top}, {x, bottom}}, 0.12, kRangeRule);
        if (week == count || week % every != 0) continue;
        Day const monday = s.plan.schedule.day(axis.first + 7 * week, s.plan.job.start);
        s.paper.text({x + 0.5, top - 4.2}, fmt::format("W{:02}", iso_week(monday).week), {.size_mm = 2.7});
        s.paper.text({x + 0.5, top - 1.2}, short_date(monday), kTiny);
    }
}

void bar(RangeSheet& s, Axis const& axis, ScheduleStep const& step, double y) {
    bool const thin = step.kind == StepKind::dry;
    // Drying and firing go on into their last day; work fills its days.
    double const to = step.kind == StepKind::dry || step.kind == StepKind::fire ? step.to + 0.0 : step.to + 1.0;
    double const right = std::max(axis.left + (to - axis.first) * axis.day_mm, axis.x(step.from) + 0.5);
    double const half = thin ? 1.1 : 2.1;
    s.paper.fill(range_box({axis.x(step.from), y - half}, {right, y + half}), ink_of(step.kind));
}

struct Row {
    std::string name;
    int copy = -1;
    int load = -1;
};

void legend(RangeSheet& s) {
    double x = kRangeMargin;
    for (auto const& [kind, name] :
         {std::pair{StepKind::make, "made, off the former"}, std::pair{StepKind::dry, "drying"},
          std::pair{StepKind::fire, "kiln: packed, fired, cooling, unpacked"},
          std::pair{StepKind::hang, "finished, hung"}}) {
        double const half = kind == StepKind::dry ? 1.1 : 1.8;
        s.paper.fill(range_box({x, s.y - 1 - half}, {x + 6, s.y - 1 + half}), ink_of(kind));
        x += 8 + s.paper.text({x + 7.5, s.y}, name, {.size_mm = 2.7}) + 5;
    }
    s.y += 6;
}

void bars(RangeSheet& s) {
    std::vector<Row> rows;
    for (int l = 0; l < static_cast<int>(s.plan.loads.size()); ++l)
        rows.push_back(
            {fmt::format("Load {}, {}", l + 1, s.plan.loads[static_cast<std::size_t>(l)].firing_name), -1, l});
    std::vector<Row> copies;
    for (int c = 0; c < static_cast<int>(s.plan.schedule.copies.size()); ++c)
        copies.push_back({copy_name(s.plan, c), c, -1});
    rows.insert(rows.begin(), copies.begin(), copies.end());
    Axis const axis = axis_of(s);
    for (std::size_t from = 0; from < rows.size();) {
        double const top = s.y + 9;
        auto const fits = static_cast<std::size_t>(std::max(1.0, std::floor((s.bottom() - top) / kRow_mm)));
        std::size_t const to = std::min(rows.size(), from + fits);
        double const bottom = top + kRow_mm * static_cast<double>(to - from);
        weeks(s, axis, top, bottom);
        for (std::size_t i = from; i < to; ++i) {
            double const y = top + kRow_mm * (static_cast<double>(i - from) + 0.5);
            s.paper.text({kRangeMargin, y + 1.1}, fitted_words(s.paper, rows[i].name, kNames_mm - 3, kSmall), kSmall);
            s.paper.line(
                std::vector<Vec2>{{kRangeMargin, y + kRow_mm / 2}, {kRangeMargin + s.width(), y + kRow_mm / 2}}, 0.1,
                kRangeRule);
            for (bool const drying : {true, false}) // drying lies behind
                for (ScheduleStep const& step : s.plan.schedule.steps)
                    if ((step.kind == StepKind::dry) == drying &&
                        (rows[i].copy >= 0 ? step.copy == rows[i].copy : step.load == rows[i].load))
                        bar(s, axis, step, y);
        }
        if (int const due = due_day(s); due >= 0 && due < axis.first + axis.days) {
            s.paper.line(std::vector<Vec2>{{axis.x(due + 1), top - 6}, {axis.x(due + 1), bottom}}, 0.4, kRangeInk,
                         false, true);
            s.paper.text({axis.x(due + 1) - 0.8, bottom - 1}, "due", {.size_mm = 2.6, .align = Align::right});
        }
        s.y = bottom + 7;
        from = to;
        if (from < rows.size()) s.page("Calendar");
    }
    s.room_for(8, "Calendar");
    legend(s);
}

void list_line(RangeSheet& s, ScheduleStep const& step, bool decides, std::string_view title) {
    s.room_for(5, title);
    Day const from = s.plan.schedule.day(step.from, s.plan.job.start),
              to = s.plan.schedule.day(step.to, s.plan.job.start);
    TextStyle style = kSmall;
    if (decides) style.weight = Weight::bold;
    s.paper.text({kRangeMargin, s.y}, iso_week_date(from), kTiny);
    s.paper.text({kRangeMargin + 19, s.y}, spoken_date(from) + (step.from == step.to ? "" : " to " + short_date(to)),
                 style);
    s.paper.text({kRangeMargin + 66, s.y}, fitted_words(s.paper, step_words(s.plan, step), s.width() - 84, style),
                 style);
    if (step.minutes > 0) {
        style.align = Align::right;
        s.paper.text({kRangeMargin + s.width(), s.y}, fmt::format("{:.1f} h", step.minutes / 60.0), style);
    }
    s.y += 4.7;
}

void list(RangeSheet& s) {
    s.y += 4;
    s.heading("Day by day");
    s.words("Bold: what decides the last day.", kTiny);
    s.y += 1;
    for (std::size_t i = 0; i < s.plan.schedule.steps.size(); ++i) {
        ScheduleStep const& step = s.plan.schedule.steps[i];
        bool const decides = std::ranges::any_of(
            s.plan.schedule.chain, [&](ChainLink const& link) { return link.step == static_cast<int>(i); });
        if (step.kind != StepKind::dry) list_line(s, step, decides, "Day by day");
    }
}

} // namespace

void calendar_pages(RangeSheet& s) {
    s.page("Calendar");
    Schedule const& c = s.plan.schedule;
    s.words(
        fmt::format("Begin on {}; all done on {} ({} if everything dries at the fast end of its range, {} at the slow "
                    "end). {} days; no plan needs fewer than {}: {}.",
                    spoken_date(s.plan.job.start), spoken_date(s.plan.done), spoken_date(s.plan.done_early),
                    spoken_date(s.plan.done_late), c.done + 1, c.least + 1, c.least_by),
        kSmall);
    if (s.plan.latest)
        s.words(fmt::format("Due on {}: begin on {} at the latest.", spoken_date(*s.plan.spec.due),
                            spoken_date(s.plan.latest->start)),
                kSmall);
    auto const& d = c.days_by;
    s.words(fmt::format(
                "What decides the last day: work on {} days, drying on {}, the kiln on {}, waiting for formers on {}, "
                "days off {}.",
                d[0], d[1], d[2], d[3], d[4]),
            kSmall);
    for (Relief const& relief : s.plan.reliefs)
        s.words(fmt::format("Sooner by {} day{} with {}.", relief.days, relief.days == 1 ? "" : "s",
                            s.units.sentence(relief.what)),
                kSmall);
    s.y += 2;
    bars(s);
    list(s);
}

} // namespace leafwright
