#include "body/tiles.h"

#include <cmath>
#include <fmt/format.h>
#include <functional>
#include <numeric>

namespace leafwright {

namespace {

constexpr double kCoverage = 2.0; // standard uncertainties; about 95 %, GUM 6.2

// f of several measured values, with the uncertainties carried on by central differences.
Measured carried(std::vector<Measured> const& inputs, std::function<double(std::vector<double> const&)> const& f) {
    std::vector<double> at;
    at.reserve(inputs.size());
    for (Measured const& input : inputs) at.push_back(input.value);
    Measured result{f(at), 0};
    double sum = 0;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        double const step = std::max(1e-6 * std::abs(at[i]), 1e-12);
        std::vector<double> up = at;
        std::vector<double> down = at;
        up[i] += step;
        down[i] -= step;
        double const part = (f(up) - f(down)) / (2 * step) * inputs[i].uncertainty;
        sum += part * part;
    }
    result.uncertainty = std::sqrt(sum);
    return result;
}

double mean_of(Readings const& readings) {
    return std::accumulate(readings.begin(), readings.end(), 0.0) / static_cast<double>(readings.size());
}

// Variance of the mean by the scatter; 0 for a single reading.
double scatter_of_mean(Readings const& readings) {
    std::size_t const n = readings.size();
    if (n < 2) return 0;
    double const mean = mean_of(readings);
    double sum = 0;
    for (double reading : readings) sum += (reading - mean) * (reading - mean);
    return sum / static_cast<double>(n - 1) / static_cast<double>(n);
}

std::optional<Measured> mean_of_tiles(std::vector<Measured> const& tiles) {
    if (tiles.empty()) return std::nullopt;
    Readings values;
    double own = 0;
    for (Measured const& tile : tiles) {
        values.push_back(tile.value);
        own += tile.uncertainty * tile.uncertainty;
    }
    double const n = static_cast<double>(tiles.size());
    return Measured{mean_of(values), std::sqrt(scatter_of_mean(values) + own / (n * n))};
}

double ratio_less(std::vector<double> const& v) { return 1 - v[1] / v[0]; }
double ratio_more(std::vector<double> const& v) { return v[0] / v[1] - 1; }
double volume_less(std::vector<double> const& v) { return volume_shrinkage(1 - v[1] / v[0]); }

Figure figure_of(Measured const& m, double least, double most) {
    double const reach = kCoverage * m.uncertainty;
    return {m.value, std::max(least, m.value - reach), std::min(most, m.value + reach), FigureFrom::measured};
}

// All that one set needs while its tiles are gone through.
struct Sums {
    std::vector<Measured> drying, drying_volume, water, absorption, porosity, bulk, apparent;
    struct Firing {
        std::vector<Measured> firing, total, volume, loss;
    };
    std::vector<Firing> firings;
};

class TileReader {
public:
    TileReader(TileSet const& set, Sums& sums) : set_(set), sums_(sums) {}

    MaybeProblem add(TestTile const& tile, std::string const& where) {
        sums_.firings.resize(std::max(sums_.firings.size(), tile.firings.size()));
        if (MaybeProblem problem = check(tile, where)) return problem;
        add_drying(tile);
        for (std::size_t i = 0; i < tile.firings.size(); ++i) add_firing(tile, i);
        add_soaking(tile);
        return {};
    }

private:
    Measured length(Readings const& readings) const { return measured(readings, set_.length_error_mm); }
    Measured mass(Readings const& readings) const { return measured(readings, set_.mass_error_g); }

    static Problem contradiction(std::string where, std::string what, char const* hint) {
        return {"tile.contradiction", std::move(where), std::move(what), hint};
    }

    MaybeProblem check_positive(Readings const& readings, std::string const& where) const {
        for (double reading : readings)
            if (!(reading > 0) || reading > 1e6)
                return Problem{"range", where,
                               fmt::format("is {:g}; a reading lies above 0 and below 1000000", reading),
                               "Leave out what was not read"};
        return {};
    }

    // `after` may not lie above `before` by more than the readings allow.
    MaybeProblem check_falls(Readings const& before, Readings const& after, double error, std::string const& where,
                             std::string const& what, char const* hint) const {
        if (before.empty() || after.empty()) return {};
        if (mean_of(after) <= mean_of(before) + 2 * error) return {};
        return contradiction(where, fmt::format("{}: {:g} after {:g}", what, mean_of(after), mean_of(before)), hint);
    }

    MaybeProblem check_states(TestTile const& tile, std::string const& where) const {
        if (MaybeProblem p = check_falls(tile.plastic.mass_g, tile.dry.mass_g, 0, where + ".dry.mass_g",
                                         "the dry tile is heavier than the plastic one",
                                         "Weigh the tile again, or look for swapped readings"))
            return p;
        if (MaybeProblem p =
                check_falls(tile.plastic.length_mm, tile.dry.length_mm, set_.length_error_mm, where + ".dry.length_mm",
                            "the tile has grown on drying", "Measure between the same marks again"))
            return p;
        TileState const* before = &tile.dry;
        for (std::size_t i = 0; i < tile.firings.size(); ++i) {
            TileState const& fired = tile.firings[i].state;
            std::string const at = fmt::format("{}.fired[{}].mass_g", where, i);
            if (MaybeProblem p = check_falls(before->mass_g, fired.mass_g, set_.mass_error_g, at,
                                             "the tile is heavier than before the fire",
                                             "Weigh the tile dry and cold, before it is soaked"))
                return p;
            before = &fired;
        }
        return {};
    }

    MaybeProblem check_soaking(TestTile const& tile, std::string const& where) const {
        if (tile.soaked_g.empty() && tile.suspended_g.empty()) return {};
        if (tile.firings.empty() || tile.firings.back().state.mass_g.empty())
            return Problem{"tile.missing", where + ".soaked_g", "has no fired mass to go with it",
                           "Weigh the fired tile dry as well"};
        double const fired = mean_of(tile.firings.back().state.mass_g);
        if (!tile.soaked_g.empty() && mean_of(tile.soaked_g) < fired - 2 * set_.mass_error_g)
            return contradiction(where + ".soaked_g",
                                 fmt::format("the soaked tile is lighter than the dry one: {:g} against {:g}",
                                             mean_of(tile.soaked_g), fired),
                                 "Weigh it dry after the fire and wet after the soak");
        if (!tile.suspended_g.empty() && mean_of(tile.suspended_g) >= fired)
            return contradiction(where + ".suspended_g",
                                 fmt::format("the tile hung in water weighs {:g}, not less than in air, {:g}",
                                             mean_of(tile.suspended_g), fired),
                                 "Hang it wholly under water, clear of the vessel");
        if (!tile.suspended_g.empty() && tile.soaked_g.empty())
            return Problem{"tile.missing", where + ".soaked_g", "is missing beside suspended_g",
                           "Weigh the soaked tile in air as well"};
        return {};
    }

    MaybeProblem check(TestTile const& tile, std::string const& where) const {
        std::vector<std::pair<Readings const*, std::string>> all = {{&tile.plastic.length_mm, ".plastic.length_mm"},
                                                                    {&tile.plastic.mass_g, ".plastic.mass_g"},
                                                                    {&tile.dry.length_mm, ".dry.length_mm"},
                                                                    {&tile.dry.mass_g, ".dry.mass_g"},
                                                                    {&tile.soaked_g, ".soaked_g"},
                                                                    {&tile.suspended_g, ".suspended_g"}};
        for (std::size_t i = 0; i < tile.firings.size(); ++i) {
            all.emplace_back(&tile.firings[i].state.length_mm, fmt::format(".fired[{}].length_mm", i));
            all.emplace_back(&tile.firings[i].state.mass_g, fmt::format(".fired[{}].mass_g", i));
        }
        for (auto const& [readings, key] : all)
            if (MaybeProblem p = check_positive(*readings, where + key)) return p;
        if (MaybeProblem p = check_states(tile, where)) return p;
        return check_soaking(tile, where);
    }

    void add_drying(TestTile const& tile) {
        if (!tile.plastic.length_mm.empty() && !tile.dry.length_mm.empty()) {
            std::vector<Measured> const lengths = {length(tile.plastic.length_mm), length(tile.dry.length_mm)};
            sums_.drying.push_back(carried(lengths, ratio_less));
            sums_.drying_volume.push_back(carried(lengths, volume_less));
        }
        if (!tile.plastic.mass_g.empty() && !tile.dry.mass_g.empty())
            sums_.water.push_back(carried({mass(tile.plastic.mass_g), mass(tile.dry.mass_g)}, ratio_more));
    }

    void add_firing(TestTile const& tile, std::size_t i) {
        TileState const& fired = tile.firings[i].state;
        Sums::Firing& sums = sums_.firings[i];
        if (!fired.length_mm.empty() && !tile.dry.length_mm.empty())
            sums.firing.push_back(carried({length(tile.dry.length_mm), length(fired.length_mm)}, ratio_less));
        if (!fired.length_mm.empty() && !tile.plastic.length_mm.empty()) {
            std::vector<Measured> const lengths = {length(tile.plastic.length_mm), length(fired.length_mm)};
            sums.total.push_back(carried(lengths, ratio_less));
            sums.volume.push_back(carried(lengths, volume_less));
        }
        if (!fired.mass_g.empty() && !tile.dry.mass_g.empty())
            sums.loss.push_back(carried({mass(tile.dry.mass_g), mass(fired.mass_g)}, ratio_less));
    }

    // D dry, M soaked, S suspended: A = (M - D)/D, P = (M - D)/(M - S), B = D rw/(M - S), T = D rw/(D - S).
    void add_soaking(TestTile const& tile) {
        if (tile.soaked_g.empty()) return;
        Measured const dry = mass(tile.firings.back().state.mass_g);
        Measured const soaked = mass(tile.soaked_g);
        sums_.absorption.push_back(carried({soaked, dry}, ratio_more));
        if (tile.suspended_g.empty()) return;
        std::vector<Measured> const masses = {dry, soaked, mass(tile.suspended_g)};
        double const water = set_.water_g_cm3;
        sums_.porosity.push_back(carried(masses, [](auto const& v) { return (v[1] - v[0]) / (v[1] - v[2]); }));
        sums_.bulk.push_back(carried(masses, [water](auto const& v) { return v[0] * water / (v[1] - v[2]); }));
        sums_.apparent.push_back(carried(masses, [water](auto const& v) { return v[0] * water / (v[0] - v[2]); }));
    }

    TileSet const& set_;
    Sums& sums_;
};

MaybeProblem add_lump(TileSet const& set, TileAnswer& answer) {
    if (set.lump_wet_g.empty() && set.lump_dry_g.empty()) return {};
    if (set.lump_wet_g.empty() || set.lump_dry_g.empty())
        return Problem{"tile.missing", "lump", "needs both wet_g and dry_g", "Dry the lump until it loses no more"};
    Measured const wet = measured(set.lump_wet_g, set.mass_error_g);
    Measured const dry = measured(set.lump_dry_g, set.mass_error_g);
    if (!(dry.value > 0) || !(wet.value > 0))
        return Problem{"range", "lump", "holds a mass that is not above 0", "Give both masses in grams"};
    if (dry.value > wet.value)
        return Problem{"tile.contradiction", "lump.dry_g",
                       fmt::format("the lump is heavier dry than wet: {:g} after {:g}", dry.value, wet.value),
                       "Look for swapped readings"};
    answer.lump_water = carried({wet, dry}, ratio_more);
    return {};
}

FiredTiles fired_of(Sums::Firing const& sums, TileFiring const& named) {
    FiredTiles fired;
    fired.name = named.name;
    fired.top_degC = named.top_degC;
    fired.firing_shrinkage = mean_of_tiles(sums.firing).value_or(Measured{});
    fired.total_shrinkage = mean_of_tiles(sums.total).value_or(Measured{});
    fired.volume_shrinkage = mean_of_tiles(sums.volume).value_or(Measured{});
    fired.loss_on_ignition = mean_of_tiles(sums.loss).value_or(Measured{});
    return fired;
}

} // namespace

Measured measured(Readings const& readings, double error) {
    assert(!readings.empty());
    return {mean_of(readings), std::sqrt(scatter_of_mean(readings) + error * error / 3)};
}

Outcome<TileAnswer> tile_answer(TileSet const& set) {
    Sums sums;
    TileReader reader(set, sums);
    TestTile const* longest = nullptr;
    for (std::size_t i = 0; i < set.tiles.size(); ++i) {
        if (MaybeProblem problem = reader.add(set.tiles[i], fmt::format("tiles[{}]", i))) return *problem;
        if (!longest || set.tiles[i].firings.size() > longest->firings.size()) longest = &set.tiles[i];
    }
    TileAnswer answer;
    answer.tiles = static_cast<int>(set.tiles.size());
    answer.drying_shrinkage = mean_of_tiles(sums.drying);
    answer.drying_volume_shrinkage = mean_of_tiles(sums.drying_volume);
    answer.water_of_plasticity = mean_of_tiles(sums.water);
    for (std::size_t i = 0; i < sums.firings.size(); ++i)
        answer.firings.push_back(fired_of(sums.firings[i], longest->firings[i]));
    answer.absorption = mean_of_tiles(sums.absorption);
    answer.open_porosity = mean_of_tiles(sums.porosity);
    answer.bulk_g_cm3 = mean_of_tiles(sums.bulk);
    answer.apparent_g_cm3 = mean_of_tiles(sums.apparent);
    if (MaybeProblem problem = add_lump(set, answer)) return *problem;
    return answer;
}

BodySpec narrowed(BodySpec const& body, TileAnswer const& tiles) {
    BodySpec out = body;
    if (tiles.water_of_plasticity) out.water_dry_basis = figure_of(*tiles.water_of_plasticity, 0.05, 0.6);
    if (tiles.drying_shrinkage) out.drying_shrinkage = figure_of(*tiles.drying_shrinkage, 0, 0.2);
    if (!tiles.firings.empty()) {
        FiredTiles const& last = tiles.firings.back();
        FiredTiles const& first = tiles.firings.front();
        if (last.firing_shrinkage != Measured{}) out.firing_shrinkage = figure_of(last.firing_shrinkage, 0, 0.25);
        if (last.loss_on_ignition != Measured{}) out.loss_on_ignition = figure_of(last.loss_on_ignition, 0, 0.4);
        if (tiles.firings.size() > 1 && last.firing_shrinkage.value > 0)
            out.first_firing_share = figure_of(
                carried({last.firing_shrinkage, first.firing_shrinkage}, [](auto const& v) { return v[1] / v[0]; }), 0,
                1);
    }
    if (tiles.absorption) out.absorption = figure_of(*tiles.absorption, 0, 0.4);
    return tiles.lump_water ? with_water(out, figure_of(*tiles.lump_water, 0.05, 0.6)) : out;
}

} // namespace leafwright
