#include "cli/commands.h"
#include "range/range_plan.h"
#include "sheet/words.h"

#include <fmt/format.h>

namespace leafwright {

namespace {

std::string plural(std::int64_t count, char const* one, char const* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

// Bytes are not columns: letters beyond ASCII count once.
std::string padded(std::string text, std::size_t width) {
    std::size_t shown = 0;
    for (char c : text) shown += (static_cast<unsigned char>(c) & 0xC0) != 0x80;
    text.append(shown < width ? width - shown : 1, ' ');
    return text;
}

std::string line(std::string_view name, std::string const& value) {
    return "  " + padded(std::string(name), 16) + value + '\n';
}

std::string money(Figure const& f, std::string const& currency) {
    return fmt::format("{:.0f} ({:.0f} to {:.0f}){}{}", f.value, f.low, f.high, currency.empty() ? "" : " ", currency);
}

std::string pieces_part(RangePlan const& plan, UnitWords const& words) {
    std::size_t width = 12;
    for (RangeEntry const& e : plan.entries) width = std::max(width, e.name.size() + 2);
    std::string text = "\nPieces\n  " + padded("", width);
    text += fmt::format("{:>6}  {:>20}  {:>9}  {:>9}  {:>9}  {:>7}  {:>6}  {:>6}\n", "copies", "on the wall", "deep",
                        "weight", "knead", "leaves", "cost", "price");
    for (RangeEntry const& e : plan.entries) {
        StageAnswer const& wall = e.plan->stages.back();
        std::string wide = words.length(wall.width_mm);
        wide.resize(wide.find(' ')); // the unit stands once
        std::string const size = wide + " x " + words.length(wall.height_mm);
        text += "  " + padded(e.name, width);
        text += fmt::format("{:>6}  {:>20}  {:>9}  {:>9}  {:>9}  {:>7}  {:>6.0f}  {:>6.0f}\n", e.copies, size,
                            words.length(wall.depth_mm), words.mass(wall.mass_g.value),
                            words.mass(e.plan->clay.knead_g.value), e.plan->leaves.count, e.cost.total.value,
                            e.cost.price.value);
    }
    return text;
}

std::string ready_part(RangePlan const& plan, UnitWords const& words) {
    std::string text = "\nGet ready\n";
    for (RangeClay const& c : plan.clay) {
        std::string bags = plural(c.bags, "bag", "bags");
        if (c.bags_most > c.bags) bags += fmt::format(" ({} at the high end)", c.bags_most);
        text +=
            line("Clay", fmt::format("{} of {}: {} of {:g} kg", words.mass(c.knead_g), c.body, bags, plan.spec.bag_kg));
    }
    for (RangeLeaves const& l : plan.leaves)
        text += line("Leaves", fmt::format("{}: cut {}, {} to {} long; gather {}", l.label, l.cut,
                                           words.length(l.shortest_mm), words.length(l.longest_mm), l.gather));
    for (RangeShape const& s : plan.shapes)
        text += line("Former", fmt::format("{} for {}: {} there, {} enough", words.sentence(s.name),
                                           plural(s.copies, "piece", "pieces"), s.formers, s.enough));
    return text;
}

std::string members(RangePlan const& plan, KilnLoad const& load) {
    std::string text;
    for (std::size_t e = 0; e < load.of_kind.size(); ++e) {
        if (load.of_kind[e] == 0) continue;
        text += (text.empty() ? "" : ", ") + plan.entries[e].name;
        if (load.of_kind[e] > 1) text += fmt::format(" x {}", load.of_kind[e]);
    }
    return text;
}

std::string loads_part(RangePlan const& plan, UnitWords const& words) {
    std::string text = "\nKiln loads\n";
    for (std::size_t l = 0; l < plan.loads.size(); ++l) {
        KilnLoad const& load = plan.loads[l];
        text += line(fmt::format("Load {}, {}", l + 1, load.firing_name), members(plan, load));
        text += line("", fmt::format("{:.0f} °C, {:.1f} h up, {:.0f} h down, {:.0f} kWh; {}, {} of {} high, {} full",
                                     load.top_degC, load.hours_up, load.hours_down, load.kWh,
                                     plural(std::ssize(load.shelves), "shelf", "shelves"),
                                     words.length(load.used_height_mm),
                                     words.length(plan.firings.front().answer.room_height_mm), percent(load.filled)));
        if (std::string const pace = pace_words(plan, load); !pace.empty()) text += line("", pace);
    }
    for (RangeFiring const& f : plan.firings) {
        int const found = static_cast<int>(f.answer.loads.size());
        if (found == 0) continue;
        text += line(fmt::format("Firing {}", f.firing + 1),
                     fmt::format("{}; {}", plural(found, "load", "loads"), bound_words(f.answer)));
    }
    return text;
}

std::string chain_part(RangePlan const& plan, UnitWords const& words) {
    constexpr std::array<char const*, 7> kWhy = {"from the start",     "",
                                                 "waits for a former", "waits for a drying place",
                                                 "waits for the kiln", "waits for the maker's hands",
                                                 "waits over days off"};
    std::string text = "\nWhat decides the last day\n";
    for (ChainLink const& link : plan.schedule.chain) {
        ScheduleStep const& step = plan.schedule.steps[static_cast<std::size_t>(link.step)];
        std::string const why = kWhy[static_cast<std::size_t>(link.by)];
        text += fmt::format("  {}{}{}\n", padded(spoken_date(plan.schedule.day(step.from, plan.job.start)), 18),
                            padded(step_words(plan, step), 40), why);
    }
    auto const& d = plan.schedule.days_by;
    text += line("Of these days",
                 fmt::format("work {}, drying {}, kiln {}, formers {}, days off {}", d[0], d[1], d[2], d[3], d[4]));
    for (Relief const& relief : plan.reliefs)
        text += line("Sooner",
                     fmt::format("by {} with {}", plural(relief.days, "day", "days"), words.sentence(relief.what)));
    return text;
}

std::string calendar_part(RangePlan const& plan, UnitWords const& words) {
    if (plan.loads.empty()) return "";
    std::string text = "\nCalendar\n";
    text += line("Begin", fmt::format("{} ({})", spoken_date(plan.job.start), iso_week_date(plan.job.start)));
    text += line("All done", fmt::format("{} ({})", spoken_date(plan.done), iso_week_date(plan.done)));
    text += line("", fmt::format("{} if all dries at the fast end, {} at the slow end", spoken_date(plan.done_early),
                                 spoken_date(plan.done_late)));
    text += line("Days", fmt::format("{}; no plan needs fewer than {} ({})", plan.schedule.done + 1,
                                     plan.schedule.least + 1, plan.schedule.least_by));
    if (plan.spec.due) text += line("Due", spoken_date(*plan.spec.due));
    if (plan.latest)
        text += line("Begin at latest",
                     fmt::format("{}, then done on {}; after {} no plan can be ready", spoken_date(plan.latest->start),
                                 spoken_date(plan.latest->done), spoken_date(plan.latest->never_after)));
    text += '\n';
    for (ScheduleStep const& step : plan.schedule.steps) {
        if (step.kind == StepKind::dry) continue;
        Day const from = plan.schedule.day(step.from, plan.job.start), to = plan.schedule.day(step.to, plan.job.start);
        std::string const days = step.from == step.to ? "" : " to " + short_date(to);
        std::string const hours = step.minutes > 0 ? fmt::format("{:.1f} h", step.minutes / 60.0) : "";
        text +=
            fmt::format("  {}{}{}\n", padded(spoken_date(from) + days, 29), padded(step_words(plan, step), 40), hours);
    }
    return text + chain_part(plan, words);
}

std::string costs_part(RangePlan const& plan) {
    RangeCosts const& c = plan.costs;
    std::string text = "\nCosts\n";
    text += line("All pieces", money(c.total, c.currency));
    text += line("  of it",
                 fmt::format("clay {:.0f}, firing {:.0f}, finish {:.0f}, labour {:.0f} ({:.0f} h), "
                             "overhead {:.0f}",
                             c.clay.value, c.firing.value, c.finish.value, c.labour.value, c.hours, c.overhead.value));
    text += line("Sell for", money(c.price, c.currency));
    text += line("Saved", fmt::format("{:.0f} by firing together, {:.0f} kWh in all", c.saving.value, c.kWh));
    return text;
}

} // namespace

std::string report_of(RangePlan const& plan, bool inches) {
    UnitWords const words{inches};
    std::string text = plan.spec.name + '\n';
    text += pieces_part(plan, words) + ready_part(plan, words) + loads_part(plan, words) + calendar_part(plan, words) +
            costs_part(plan);
    if (!plan.warnings.empty()) text += '\n';
    for (Warning const& w : plan.warnings)
        text += fmt::format("  {}: {} {}\n", w.stage, words.sentence(w.text), words.sentence(w.hint));
    return text;
}

} // namespace leafwright
