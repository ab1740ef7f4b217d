#include "range/range_plan.h"

#include "piece/planner.h"
#include "range/range_parts.h"
#include "range/silhouette.h"

#include <algorithm>
#include <atomic>
#include <fmt/format.h>
#include <functional>
#include <set>
#include <thread>

namespace leafwright {

namespace {

constexpr int kThreads = 2;

// A piece as the range wants it, and what came of it.
struct Planned {
    Piece piece;
    std::size_t first_entry = 0;
    std::shared_ptr<Plan const> plan;
    std::shared_ptr<SecondHalf const> second;
    Ring silhouette_mm;
    MaybeProblem problem;
};

void plan_one(Planned& planned, Task& task) {
    Planner planner;
    Outcome<std::shared_ptr<Plan const>> const plan =
        planner.plan(planned.piece, {.coarse_slab = false, .task = &task});
    if (!plan) {
        planned.problem = plan.problem();
        return;
    }
    planned.plan = *plan;
    planned.second = plan_second_half(planned.plan, task);
    planned.silhouette_mm = silhouette_mm(*planned.plan);
}

Piece with_range(Piece piece, RangeSpec const& spec, KilnSpec const& kiln) {
    piece.kiln = kiln;
    piece.kiln.share = 1; // shared by mass, later
    if (spec.cost) piece.cost = *spec.cost;
    return piece;
}

// Equal pieces once; threads only carry the work out.
std::vector<Planned> plan_all(std::vector<Piece> const& pieces, std::vector<std::size_t>& which, Task& task) {
    std::vector<Planned> planned;
    for (std::size_t e = 0; e < pieces.size(); ++e) {
        auto const same = std::ranges::find_if(planned, [&](Planned const& p) { return p.piece == pieces[e]; });
        which.push_back(static_cast<std::size_t>(same - planned.begin()));
        if (same == planned.end()) planned.push_back({pieces[e], e, nullptr, nullptr, {}, {}});
    }
    std::atomic<std::size_t> next{0};
    auto const work = [&] {
        for (std::size_t i = next++; i < planned.size(); i = next++) plan_one(planned[i], task);
    };
    {
        std::jthread const other(kThreads > 1 && planned.size() > 1 ? std::function<void()>(work) : [] {});
        work();
    }
    return planned;
}

std::string unique_name(std::string const& wanted, std::set<std::string>& taken) {
    std::string name = wanted.empty() ? "Piece" : wanted;
    for (int n = 2; !taken.insert(name).second; ++n) name = fmt::format("{} ({})", wanted, n);
    return name;
}

double make_hours(CostAnswer const& cost) {
    double hours = 0;
    for (StageHours const& h : cost.hours)
        for (std::string_view stage : {"Knead", "Roll", "Drape", "Leaves", "Features"})
            if (h.stage == stage) hours += h.hours;
    return hours;
}

// What makes a piece impossible on its own makes the range so. Whether it goes into the kiln is found out anew, by its
// outline in any turn.
void take_refusals(RangePlan& plan, RangeEntry const& entry) {
    for (auto const* warnings : {&entry.plan->warnings, &entry.second->warnings})
        for (Warning const& warning : *warnings)
            if (warning.refusal && warning.code != "kiln.small")
                plan.warnings.push_back(
                    {warning.code, entry.name, warning.stage + ": " + warning.text, warning.hint, true});
}

void choose_kiln(RangePlan& plan, std::vector<Piece> const& pieces) {
    plan.kiln = plan.spec.kiln.value_or(pieces.front().kiln);
    plan.kiln.share = 1;
    if (plan.spec.kiln) return;
    auto const other =
        std::ranges::find_if(pieces, [&](Piece const& piece) { return piece.kiln != pieces.front().kiln; });
    if (other != pieces.end())
        plan.warnings.push_back(
            {"kiln.differs", "Kiln",
             fmt::format("{} was planned for another kiln; the first piece's is taken for all.", other->name),
             "Describe your kiln in the range, as \"kiln\".", false});
}

} // namespace

Outcome<RangePlan> plan_range(RangeSpec const& spec, std::vector<Piece> const& pieces, Task& task) {
    assert(pieces.size() == spec.pieces.size() && !pieces.empty());
    RangePlan plan;
    plan.spec = spec;
    choose_kiln(plan, pieces);
    std::vector<Piece> wanted;
    for (Piece const& piece : pieces) wanted.push_back(with_range(piece, spec, plan.kiln));
    std::vector<std::size_t> which;
    std::vector<Planned> const planned = plan_all(wanted, which, task);
    if (task.cancelled()) return Problem{"cancelled", "", "was broken off", ""};
    for (Planned const& p : planned)
        if (p.problem) {
            Problem problem = *p.problem;
            std::string const entry = fmt::format("pieces[{}]", p.first_entry);
            problem.where = problem.where.empty() ? entry : entry + ": " + problem.where;
            return problem;
        }
    std::set<std::string> taken;
    for (std::size_t e = 0; e < pieces.size(); ++e) {
        Planned const& p = planned[which[e]];
        std::string const& label = spec.pieces[e].label;
        plan.entries.push_back({unique_name(label.empty() ? pieces[e].name : label, taken),
                                spec.pieces[e].copies,
                                0,
                                p.plan,
                                p.second,
                                p.silhouette_mm,
                                make_hours(p.second->cost),
                                p.second->cost,
                                {},
                                0});
        take_refusals(plan, plan.entries.back());
    }
    plan_clay(plan);
    plan_leaves(plan);
    plan_shapes(plan);
    task.progress(0.6);
    plan_loads(plan);
    if (MaybeProblem const problem = plan_calendar(plan)) return *problem;
    plan_costs(plan);
    std::stable_partition(plan.warnings.begin(), plan.warnings.end(), [](Warning const& w) { return w.refusal; });
    task.progress(1);
    return plan;
}

std::string copy_name(RangePlan const& plan, int copy) {
    CopyDates const& dates = plan.schedule.copies[static_cast<std::size_t>(copy)];
    RangeEntry const& entry = plan.entries[static_cast<std::size_t>(dates.kind)];
    return entry.copies == 1 ? entry.name : fmt::format("{} {}", entry.name, dates.number);
}

std::string load_name(int load) { return fmt::format("load {}", load + 1); }

std::string bound_words(LoadsAnswer const& loads) {
    int const found = static_cast<int>(loads.loads.size());
    if (found <= loads.least) return fmt::format("no filling can do with fewer ({})", loads.least_by);
    if (found <= loads.least_by_shelves)
        return fmt::format(
            "no stacking does with fewer, as far as pieces were found to go side by side on a shelf; {} at "
            "least in any case",
            loads.least);
    return fmt::format("the best found{}; {} at least ({}){}", loads.all_tried ? ", every filling was tried" : "",
                       loads.least, loads.least_by,
                       loads.least_by_shelves > loads.least
                           ? fmt::format(", {} as far as pieces were found to go side by side", loads.least_by_shelves)
                           : "");
}

std::string pace_words(RangePlan const& plan, KilnLoad const& load) {
    std::string words;
    auto const fired = [&](std::size_t e) -> FiringAnswer const& {
        return plan.entries[e].second->firings[static_cast<std::size_t>(load.firing)];
    };
    for (std::size_t e = 0; e < load.of_kind.size(); ++e) {
        if (load.of_kind[e] == 0) continue;
        double const hotter = load.top_degC - fired(e).top_degC;
        if (hotter > 0.5)
            words += fmt::format(" {} is fired {:.0f} K hotter than it asks.", plan.entries[e].name, hotter);
        double const slower = load.hours_up - fired(e).hours_up;
        if (slower > 0.25)
            words += fmt::format(" {} goes up {:.1f} h more slowly than it needs.", plan.entries[e].name, slower);
    }
    return words.empty() ? words : words.substr(1);
}

std::string step_words(RangePlan const& plan, ScheduleStep const& step) {
    std::string whose = step.copy >= 0 ? copy_name(plan, step.copy) : load_name(step.load);
    switch (step.kind) {
    case StepKind::make:
        return "Make " + whose;
    case StepKind::former_out:
        return fmt::format("Take {} off its former", whose);
    case StepKind::dry:
        return whose + " dries";
    case StepKind::pack:
        return fmt::format("Pack {} ({} firing)", whose, plan.loads[static_cast<std::size_t>(step.load)].firing_name);
    case StepKind::fire:
        return fmt::format("Fire {} to {:.0f} °C", whose, plan.loads[static_cast<std::size_t>(step.load)].top_degC);
    case StepKind::unpack:
        return "Unpack " + whose;
    case StepKind::finish:
        return "Finish " + whose;
    case StepKind::hang:
        return "Hang " + whose;
    }
    return whose;
}

} // namespace leafwright
