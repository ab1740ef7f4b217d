#include "piece/plots.h"

#include "piece/moisture_map.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace leafwright {

namespace {

// Both axes: from 0 to round ends that hold all lines and level marks.
void fit_axes(Plot& plot, int across_wanted, int up_wanted) {
    double across = 0;
    double up = 0;
    for (PlotLine const& line : plot.lines)
        for (Vec2 const& p : line.points) {
            across = std::max(across, p.x);
            up = std::max(up, p.y);
        }
    for (PlotMark const& mark : plot.marks)
        if (mark.level) up = std::max(up, mark.at);
    double const step = round_step(std::max(up, 1e-6) / up_wanted);
    plot.high = {std::max(across, 1e-6), step * std::ceil(1.001 * up / step)};
    plot.across_ticks = round_ticks(0, plot.high.x, across_wanted);
    plot.up_ticks = round_ticks(0, plot.high.y, up_wanted);
}

// Some hundreds of points are enough for any picture.
template <class Moments, class At> std::vector<Vec2> thinned(Moments const& moments, At at) {
    std::size_t const step = std::max<std::size_t>(1, moments.size() / 400);
    std::vector<Vec2> points;
    for (std::size_t i = 0; i < moments.size(); i += step) points.push_back(at(moments[i]));
    if (!moments.empty() && (moments.size() - 1) % step != 0) points.push_back(at(moments.back()));
    return points;
}

void add_covers(Plot& plot, DryingSpec const& spec) {
    std::vector<CoverPhase> covers = spec.covers;
    if (covers.empty()) covers.push_back({Cover::polythene, 0});
    for (std::size_t i = 0; i < covers.size(); ++i) {
        double const from = i == 0 ? 0 : covers[i].from_day;
        double const to = i + 1 < covers.size() ? covers[i + 1].from_day : plot.high.x;
        if (from < plot.high.x && to > from)
            plot.spans.push_back({from, std::min(to, plot.high.x), std::string(cover_name(covers[i].cover))});
    }
}

} // namespace

double line_at(PlotLine const& line, double across) {
    auto const& p = line.points;
    double constexpr nothing = std::numeric_limits<double>::quiet_NaN();
    if (line.stroke == Stroke::crosses || p.empty() || across < p.front().x || across > p.back().x) return nothing;
    auto const next =
        std::lower_bound(p.begin(), p.end(), across, [](Vec2 const& point, double x) { return point.x < x; });
    if (next == p.begin()) return next->y;
    Vec2 const& before = *(next - 1);
    double const span = next->x - before.x;
    return span > 0 ? before.y + (next->y - before.y) * (across - before.x) / span : next->y;
}

std::vector<double> round_ticks(double low, double high, int wanted) {
    double const step = round_step(std::max(high - low, 1e-9) / std::max(1, wanted));
    std::vector<double> ticks;
    for (double i = std::ceil(low / step - 1e-9) + 0.0; i * step <= high * (1 + 1e-9); ++i)
        ticks.push_back(i * step + 0.0);
    return ticks;
}

Plot moisture_plot(SecondHalf const& half) {
    DryingAnswer const& drying = *half.drying;
    Piece const& piece = half.plan->piece;
    Plot plot;
    plot.title = "Water in the clay";
    plot.across = "days";
    plot.up = "% of the dry clay";
    plot.decimals = 1;
    plot.across_decimals = 1;
    auto const series = [&](double DryingMoment::*value) {
        return thinned(drying.moments, [&](DryingMoment const& m) { return Vec2(m.hour / 24, 100 * (m.*value)); });
    };
    plot.lines.push_back({"wettest place", Stroke::dashed, false, series(&DryingMoment::wettest)});
    plot.lines.push_back({"mean", Stroke::plain, true, series(&DryingMoment::mean)});
    plot.lines.push_back({"driest place", Stroke::dotted, false, series(&DryingMoment::driest)});
    PlotLine weighed{"your weighings", Stroke::crosses, true, {}};
    for (Weighing const& w : piece.drying.weighings)
        if (drying.dry_g > 0) weighed.points.emplace_back(w.day, std::max(0.0, 100 * (w.mass_g / drying.dry_g - 1)));
    if (!weighed.points.empty()) plot.lines.push_back(std::move(weighed));
    auto const waters = named_waters(piece);
    plot.marks.push_back({waters[0].value, waters[0].name, true});
    plot.marks.push_back({waters[1].value, waters[1].name, true, 0.25});
    fit_axes(plot, 6, 5);
    if (drying.former_out_day > 0) plot.marks.push_back({drying.former_out_day, "former out", false});
    add_covers(plot, piece.drying);
    return plot;
}

Plot firing_plot(FiringAnswer const& firing) {
    Plot plot;
    plot.title = "Temperature";
    plot.across = "hours";
    plot.up = "°C";
    plot.across_decimals = 1;
    plot.lines.push_back({"kiln", Stroke::plain, true,
                          thinned(firing.moments, [](FiringMoment const& m) { return Vec2(m.hour, m.kiln_degC); })});
    plot.lines.push_back({"inside the thickest clay", Stroke::dashed, false,
                          thinned(firing.moments, [](FiringMoment const& m) { return Vec2(m.hour, m.inside_degC); })});
    plot.marks.push_back({100, "100 °C steam", true, 0.5});
    plot.marks.push_back({kQuartz_degC, "573 °C quartz", true});
    fit_axes(plot, 6, 5);
    return plot;
}

Plot gradient_plot(FiringAnswer const& firing) {
    Plot plot;
    plot.title = "Skin against inside";
    plot.across = "hours";
    plot.up = "K";
    plot.across_decimals = 1;
    plot.lines.push_back({"difference in the thickest clay", Stroke::plain, true,
                          thinned(firing.moments, [](FiringMoment const& m) { return Vec2(m.hour, m.difference_K); })});
    PlotLine bears{"bears, by an estimate", Stroke::dotted, false, {}};
    double const end = firing.moments.empty() ? 0 : firing.moments.back().hour;
    bears.points = {{0, firing.bearable_K.value},
                    {firing.hours_up, firing.bearable_K.value},
                    {firing.hours_up + 1e-6, firing.bearable_cooling_K.value},
                    {end, firing.bearable_cooling_K.value}};
    plot.lines.push_back(std::move(bears));
    fit_axes(plot, 6, 3);
    return plot;
}

Plot making_line_plot(Plan const& plan) {
    Plot plot;
    plot.title = "Size and weight on the way";
    plot.up = "% of the wet piece";
    PlotLine weight{"weight", Stroke::plain, true, {}};
    PlotLine length{"length", Stroke::dashed, true, {}};
    double const whole = plan.stages.empty() ? 1 : std::max(1e-9, plan.stages.front().mass_g.value);
    for (std::size_t i = 0; i < plan.stages.size(); ++i) {
        StageAnswer const& s = plan.stages[i];
        auto const x = static_cast<double>(i);
        weight.points.emplace_back(x, 100 * s.mass_g.value / whole);
        length.points.emplace_back(x, 100 * s.length_factor.value);
        plot.across_ticks.push_back(x);
        plot.across_words.emplace_back(stage_name(s.stage));
    }
    plot.lines = {std::move(weight), std::move(length)};
    double least = 100;
    for (PlotLine const& line : plot.lines)
        for (Vec2 const& p : line.points) least = std::min(least, p.y);
    plot.low = {-0.3, 10 * std::floor((least - 2) / 10)};
    plot.high = {static_cast<double>(plan.stages.size()) - 0.7, 105};
    plot.up_ticks = round_ticks(plot.low.y, 100, 4);
    return plot;
}

} // namespace leafwright
