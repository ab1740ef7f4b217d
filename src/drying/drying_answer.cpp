// Reading the answer between its moments, and the cover from weighings.
#include "drying/drying.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr double kStillWet = 0.6; // share of the water left, above which the cover alone sets the pace

double between(double a, double b, double t) { return a + t * (b - a); }

// Water of one map at a place: its cell, or -1.
double read_map(DryingAnswer const& answer, MoistureMap const& map, Vec2 const& chart) {
    Vec2 const at = (chart - answer.map_origin_mm) / answer.map_cell_mm;
    double const x = std::floor(at.x + 0.5);
    double const y = std::floor(at.y + 0.5);
    if (!(x >= 0 && y >= 0 && x < answer.map_columns && y < answer.map_rows)) return -1;
    return static_cast<double>(map.water[static_cast<std::size_t>(y) * static_cast<std::size_t>(answer.map_columns) +
                                         static_cast<std::size_t>(x)]);
}

// Before which item of a rising list the hour lies, and how far between it and the one before.
template <class List> std::size_t place_in(List const& list, double hour, double& share) {
    auto const after =
        std::upper_bound(list.begin(), list.end(), hour, [](double h, auto const& item) { return h < item.hour; });
    share = 0;
    if (after == list.begin()) return 0;
    auto const i = static_cast<std::size_t>(after - list.begin()) - 1;
    if (after != list.end()) share = (hour - list[i].hour) / (list[i + 1].hour - list[i].hour);
    return i;
}

} // namespace

double DryingAnswer::water_at(double hour, Vec2 const& chart) const {
    if (maps.empty()) return -1;
    double share = 0;
    std::size_t const i = place_in(maps, hour, share);
    double const a = read_map(*this, maps[i], chart);
    return a < 0 || share == 0 ? a : between(a, read_map(*this, maps[i + 1], chart), share);
}

DryingMoment DryingAnswer::at(double hour) const {
    if (moments.empty()) return {};
    double t = 0;
    std::size_t const i = place_in(moments, hour, t);
    DryingMoment m = moments[i];
    if (t == 0) return m;
    DryingMoment const& b = moments[i + 1];
    return {hour,
            between(m.mean, b.mean, t),
            between(m.wettest, b.wettest, t),
            between(m.driest, b.driest, t),
            between(m.water_g, b.water_g, t),
            between(m.mass_g, b.mass_g, t)};
}

Outcome<CoverFit> fit_cover(std::vector<Weighing> const& weighings, double open_mm2, double dry_g, double start_water) {
    std::vector<Weighing> used;
    for (std::size_t i = 0; i < weighings.size(); ++i) {
        std::string const where = fmt::format("weighings[{}]", i);
        if (i > 0 && !(weighings[i].day > weighings[i - 1].day))
            return Problem{"cover.contradiction", where, "is not later than the one before", "Give them in order"};
        if (i > 0 && weighings[i].mass_g > weighings[i - 1].mass_g)
            return Problem{"cover.contradiction", where,
                           fmt::format("is heavier than the one before, {:g} g after {:g} g", weighings[i].mass_g,
                                       weighings[i - 1].mass_g),
                           "Weigh the piece with the same board and without its cover"};
        if (!(weighings[i].mass_g > dry_g))
            return Problem{"cover.contradiction", where,
                           fmt::format("is {:g} g, no more than the dry clay of {:.0f} g", weighings[i].mass_g, dry_g),
                           "Take off the board, or check the clay's water"};
        if (weighings[i].mass_g > dry_g * (1 + kStillWet * start_water)) used.push_back(weighings[i]);
    }
    if (used.size() < 3)
        return Problem{"cover.few", "weighings",
                       fmt::format("are {} while the clay is wet; at least 3 are needed", used.size()),
                       "Weigh once a day while the clay is wet"};
    double const n = static_cast<double>(used.size());
    double day = 0;
    double mass = 0;
    for (Weighing const& w : used) day += w.day / n, mass += w.mass_g / n;
    double dd = 0;
    double dm = 0;
    for (Weighing const& w : used) {
        dd += (w.day - day) * (w.day - day);
        dm += (w.day - day) * (w.mass_g - mass);
    }
    double rest = 0;
    for (Weighing const& w : used) {
        double const miss = w.mass_g - mass - dm / dd * (w.day - day);
        rest += miss * miss;
    }
    double const to_flux = 1 / 24.0 / (open_mm2 * 1e-6); // g/day to g/m2h
    return CoverFit{-dm / dd * to_flux, std::sqrt(rest / (n - 2) / dd) * to_flux, static_cast<int>(used.size())};
}

} // namespace leafwright
