#include "sheet/second_pages.h"

#include "piece/drawings.h"
#include "sheet/plot_paper.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr Ink kSoft{0.45, 0.42, 0.38};
constexpr double kMargin = 14;
constexpr TextStyle kSmall{.size_mm = 3.0};

void page_title(Paper& paper, std::string_view words) {
    paper.next_page();
    paper.text({kMargin, kMargin + 5}, words, {.size_mm = 5.5, .weight = Weight::bold});
}

double heading(Paper& paper, double y, std::string_view words) {
    paper.text({kMargin, y}, words, {.size_mm = 4.2, .weight = Weight::bold});
    return y + 5;
}

double width_of(Paper const& paper) { return paper.size().width_mm - 2 * kMargin; }

std::string days(Figure const& f) {
    return f.is_exact() ? fmt::format("{:.1f} days", f.value)
                        : fmt::format("{:.0f} days ({:.0f} to {:.0f})", f.value, f.low, f.high);
}

double drying_part(Paper& paper, double y, SecondHalf const& half, UnitWords const& units) {
    DryingAnswer const& d = *half.drying;
    y = heading(paper, y, "Dry");
    y = paper.paragraph({kMargin, y}, width_of(paper),
                        fmt::format("Leather-hard after {}, former out on day {:.1f}, bone dry after {}.",
                                    days(d.days_to_leather_hard), d.former_out_day, days(d.days_to_bone_dry)),
                        {});
    y = paper.paragraph({kMargin, y}, width_of(paper),
                        fmt::format("Risk of cracks: {} (three classes, not calibrated). {}. {}.",
                                    crack_class_name(d.crack.found), units.sentence(d.crack.why), d.crack.help),
                        kSmall);
    plot_on(paper, {{kMargin, y}, {kMargin + width_of(paper), y + 56}}, moisture_plot(half));
    return y + 63;
}

std::string schedule_words(FiringAnswer const& f) {
    std::string words;
    for (FiringSegment const& s : f.segments) {
        words += fmt::format("{}{:.0f} K/h to {:.0f} °C", words.empty() ? "" : ", ", s.rate_K_h, s.target_degC);
        if (s.hold_h > 0) words += fmt::format(" and hold {:.2g} h", s.hold_h);
    }
    return words + ", then let it cool by itself.";
}

double firing_part(Paper& paper, double y, FiringAnswer const& f, std::size_t index, UnitWords const& units) {
    y = heading(paper, y, index == 0 ? "First firing" : "Last firing");
    y = paper.paragraph({kMargin, y}, width_of(paper), schedule_words(f), {});
    y = paper.paragraph({kMargin, y}, width_of(paper),
                        fmt::format("Up {:.1f} h, down to 100 °C {:.0f} h, about {:.0f} kWh. {}.", f.hours_up,
                                    f.hours_down, f.kWh, units.sentence(f.fit.words)),
                        kSmall);
    double const half = width_of(paper) / 2 - 3;
    plot_on(paper, {{kMargin, y}, {kMargin + half, y + 44}}, firing_plot(f));
    plot_on(paper, {{kMargin + half + 6, y}, {kMargin + width_of(paper), y + 44}}, gradient_plot(f));
    return y + 51;
}

LineDrawing in_units(LineDrawing drawing, UnitWords const& units) {
    for (DrawnWord& word : drawing.words) word.text = units.sentence(word.text);
    return drawing;
}

double wall_part(Paper& paper, double y, SecondHalf const& half, UnitWords const& units) {
    y = heading(paper, y, "On the wall");
    if (!half.hanging)
        return paper.paragraph({kMargin, y}, width_of(paper), "No place for lugs or wire was found.", {});
    HangingAnswer const& h = *half.hanging;
    double const side = 78;
    drawing_on(paper, {{kMargin, y - 3}, {kMargin + side, y + 82}},
               hanging_side(h, half.plan->piece.hanging.kind == "lugs"));
    drawing_on(paper, {{kMargin + side + 4, y - 3}, {kMargin + width_of(paper), y + 46}},
               in_units(hanging_back(*half.plan, h), units));
    double x = kMargin + side + 8;
    double line = y + 52;
    std::string const lean =
        h.state.contact == Contact::flush ? std::string("hangs true") : fmt::format("leans {:.1f}°", h.state.lean_deg);
    for (std::string const& words :
         {fmt::format("Weight {} as it hangs; it {}.", units.mass(h.mass_g), lean),
          fmt::format("Each leg of the wire: {:.0f} N, {:.0f}° from the level.", h.state.tension_N, h.state.angle_deg),
          fmt::format("Wire breaks at {:.0f} N, {:.1f} times that (five asked for).", h.breaking_N, h.factor),
          fmt::format("Pull-out at the hook {:.0f} N, down {:.0f} N.", h.state.pull_out_N, h.rig.weight_N),
          fmt::format("A lug's joint may bear {:.1f} to {:.1f} times the pull: an estimate, no proof.", h.lug_range.low,
                      h.lug_range.high)})
        line = paper.paragraph({x, line}, paper.size().width_mm - kMargin - x, words, kSmall);
    return std::max(line, y + 90);
}

double finish_part(Paper& paper, double y, SecondHalf const& half, UnitWords const& units) {
    FinishAnswer const& f = half.finish;
    y = heading(paper, y, "Finish");
    char const* const kinds[] = {"None", "Oxide wash", "Glaze", "Cold finish"};
    std::string words =
        fmt::format("{}; true area of the face {}.", kinds[static_cast<std::size_t>(f.kind)], units.area(f.face_mm2));
    if (f.dry_g.value > 0)
        words += fmt::format(" Dry matter {} ({} to {}).", units.small_mass(f.dry_g.value),
                             units.small_mass(f.dry_g.low), units.small_mass(f.dry_g.high));
    y = paper.paragraph({kMargin, y}, width_of(paper), words, {});
    for (std::string const& step : f.steps) y = paper.paragraph({kMargin, y}, width_of(paper), step, kSmall);
    y = paper.paragraph({kMargin, y}, width_of(paper),
                        fmt::format("Out of doors: {}. {}.", outdoors_name(half.outdoors.fit), half.outdoors.words),
                        {});
    return y + 3;
}

double cost_part(Paper& paper, double y, SecondHalf const& half) {
    CostAnswer const& c = half.cost;
    std::string const& currency = half.plan->piece.cost.currency;
    y = heading(paper, y, "Hours and price");
    std::string hours;
    for (StageHours const& h : c.hours)
        hours += fmt::format("{}{} {:.1f}", hours.empty() ? "" : ", ", h.stage, h.hours);
    y = paper.paragraph({kMargin, y}, width_of(paper), fmt::format("{:.1f} h: {}.", c.hours_total, hours), {});
    y = paper.paragraph({kMargin, y}, width_of(paper),
                        fmt::format("Cost {:.0f} ({:.0f} to {:.0f}), price by your rule {:.0f}{}{}.", c.total.value,
                                    c.total.low, c.total.high, c.price.value, currency.empty() ? "" : " ", currency),
                        {});
    return y + 3;
}

} // namespace

void second_pages(Paper& paper, SecondHalf const& half, UnitWords const& units) {
    page_title(paper, "Dry and fire");
    double y = drying_part(paper, kMargin + 13, half, units);
    for (std::size_t i = 0; i < std::min<std::size_t>(2, half.firings.size()); ++i)
        y = firing_part(paper, y, half.firings[i], i, units);
    page_title(paper, "Finish and hang");
    y = wall_part(paper, kMargin + 13, half, units);
    y = finish_part(paper, y, half, units);
    y = cost_part(paper, y, half);
    y = heading(paper, y, "Mind");
    if (half.hanging)
        for (std::string const& caution : half.hanging->cautions)
            y = paper.paragraph({kMargin, y}, width_of(paper), caution, kSmall);
    TextStyle const soft{.size_mm = 3.0, .ink = kSoft};
    for (std::string const& caution : half.finish.cautions)
        y = paper.paragraph({kMargin, y}, width_of(paper), caution, soft);
}

} // namespace leafwright
