#include "drying/drying.h"

#include "drying/air.h"
#include "drying/cracks.h"
#include "drying/drying_grid.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kReferenceHumidity = 0.6;
constexpr double kReference_degC = 20;
constexpr double kVented = 1.8;   // common practice, no source
constexpr double kOpen = 3.2;     // 90 g/m2h: still air of 7.5 mm by ISO 10456 (from memory)
constexpr double kBoneDry = 0.05; // of the water that can leave
constexpr double kMapHours = 6;
constexpr int kRangeBlock = 4; // cells to one, for the ends of the range

// Everything that changes on the way.
struct Run {
    DryingClay const& clay;
    DryingSpec const& spec;
    double flux_g_m2h;
    double diffusivity_mm2_h;

    Cover cover_on(double day) const {
        Cover cover = Cover::polythene;
        for (std::size_t i = 0; i < spec.covers.size(); ++i)
            if (i == 0 || spec.covers[i].from_day <= day) cover = spec.covers[i].cover;
        return cover;
    }
    DryingAir air(double day, bool former_in) const {
        DryingAir air;
        air.humidity = spec.room_humidity;
        air.faces = former_in ? 1.0 : 1.0 + spec.back_share;
        // The first flux belongs to wet clay in air of 60 %.
        double const wet = 1 - std::exp(-clay.water / kSorptionWater);
        double const drive = std::max(0.05, wet - kReferenceHumidity);
        air.exchange_g_mm2h = cover_flux_g_m2h(spec, cover_on(day), flux_g_m2h) * 1e-6 / drive;
        return air;
    }
    double bone_dry_water() const {
        double const balance = std::min(balance_water(spec.room_humidity), clay.water);
        return balance + kBoneDry * (clay.water - balance);
    }
};

// Steps that each take off a fortieth of the water while the cover is the limit, one to six hours.
double step_hours(DryingGrid const& grid, Run const& run, DryingAir const& air) {
    double const water_g = grid.dry_total_g * run.clay.water;
    double const g_per_h = air.exchange_g_mm2h * air.faces * (1 - kReferenceHumidity) * grid.open_total_mm2;
    return std::clamp(std::floor(0.03 * water_g / std::max(g_per_h, 1e-9)), 1.0, 6.0);
}

// Two by two cells of the grid make one of the maps.
class MapMaker {
public:
    MapMaker(DryingGrid const& grid, FaceMap const& face, int block) : grid_(grid) {
        ground.cell_mm = 2 * block * face.cell_mm;
        ground.columns = (grid.columns - 2 + 1) / 2;
        ground.rows = (grid.rows - 2 + 1) / 2;
        ground.origin_mm = face.cell_mm * Vec2(face.left + block, face.low + block);
        std::size_t const n = static_cast<std::size_t>(ground.columns) * static_cast<std::size_t>(ground.rows);
        ground.dry_g.assign(n, 0.0F);
        ground.thick_mm.assign(n, 0.0F);
        each([&](std::size_t to, std::size_t from) {
            ground.dry_g[to] += grid_.dry_g[from];
            ground.thick_mm[to] += grid_.dry_g[from] * grid_.thick_mm[from];
        });
        for (std::size_t i = 0; i < n; ++i)
            if (ground.dry_g[i] > 0) ground.thick_mm[i] /= ground.dry_g[i];
        std::vector<int> on_slab(n, 0);
        double const whole_mm2 = std::pow(block * face.cell_mm, 2);
        each([&](std::size_t to, std::size_t from) {
            on_slab[to] += !grid_.free[from] && static_cast<double>(grid_.open_mm2[from]) > 0.99 * whole_mm2 ? 1 : 0;
        });
        for (std::size_t i = 0; i < n; ++i) ground.held.push_back(on_slab[i] == 4);
    }
    template <class Value> std::vector<float> map(std::vector<Value> const& value, float none) const {
        std::vector<float> out(ground.dry_g.size(), 0.0F);
        each([&](std::size_t to, std::size_t from) { out[to] += grid_.dry_g[from] * static_cast<float>(value[from]); });
        for (std::size_t i = 0; i < out.size(); ++i) out[i] = ground.dry_g[i] > 0 ? out[i] / ground.dry_g[i] : none;
        return out;
    }
    MapGround ground;

private:
    template <class Work> void each(Work work) const {
        for (int row = 1; row + 1 < grid_.rows; ++row)
            for (int column = grid_.first[static_cast<std::size_t>(row)];
                 column < grid_.last[static_cast<std::size_t>(row)]; ++column)
                work(static_cast<std::size_t>((row - 1) / 2) * static_cast<std::size_t>(ground.columns) +
                         static_cast<std::size_t>((column - 1) / 2),
                     grid_.index(column, row));
    }
    DryingGrid const& grid_;
};

// Wettest of a map, and driest of what lies on slab all over; the driest hundredth of that does not count.
struct Ends {
    float wettest = 0, driest = 0;
    std::size_t wettest_at = 0, driest_at = 0;
};

Ends ends_of(MapGround const& ground, std::vector<float> const& map, std::vector<float>& scratch) {
    Ends ends;
    scratch.clear();
    for (std::size_t i = 0; i < map.size(); ++i) {
        if (map[i] < 0) continue;
        if (ground.held[i]) scratch.push_back(map[i]);
        if (map[i] > ends.wettest) {
            ends.wettest = map[i];
            ends.wettest_at = i;
        }
    }
    if (scratch.empty()) return ends;
    auto const nth = scratch.begin() + static_cast<std::ptrdiff_t>(scratch.size() / 100);
    std::nth_element(scratch.begin(), nth, scratch.end());
    ends.driest = *nth;
    for (std::size_t i = 0; i < map.size(); ++i)
        if (ground.held[i] && map[i] == ends.driest) ends.driest_at = i;
    return ends;
}

// The hour at which a falling series reaches a level, between its moments.
double crossing_day(std::vector<DryingMoment> const& moments, double DryingMoment::*value, double level) {
    for (std::size_t i = 1; i < moments.size(); ++i) {
        double const a = moments[i - 1].*value;
        double const b = moments[i].*value;
        if (b > level) continue;
        double const t = a > b ? std::clamp((a - level) / (a - b), 0.0, 1.0) : 1.0;
        return (moments[i - 1].hour + t * (moments[i].hour - moments[i - 1].hour)) / 24;
    }
    return moments.empty() ? 0 : moments.back().hour / 24;
}

Vec2 place_of(MapGround const& ground, std::size_t i) {
    auto const columns = static_cast<std::size_t>(ground.columns);
    std::size_t const row = i / columns;
    return ground.origin_mm + ground.cell_mm * Vec2(static_cast<double>(i % columns), static_cast<double>(row));
}

struct RunOptions {
    int block = 1;
    double most_days = 120;
    bool maps = true;
    bool cracks = true;
};

class Dryer {
public:
    Dryer(ClayMap const& clay, Run const& run, RunOptions const& options)
        : run_(run),
          options_(options),
          grid_(drying_grid(clay, run.clay.dry_g_cm3, run.diffusivity_mm2_h, options.block)),
          maker_(grid_, *clay.face, options.block),
          stepper_(grid_, run.diffusivity_mm2_h, run.clay.dry_g_cm3, run.clay.water),
          watch_(maker_.ground, run.clay, run.spec.stretch) {
        answer_.map_columns = maker_.ground.columns;
        answer_.map_rows = maker_.ground.rows;
        answer_.map_origin_mm = maker_.ground.origin_mm;
        answer_.map_cell_mm = maker_.ground.cell_mm;
        answer_.dry_g = grid_.dry_total_g;
        answer_.open_mm2 = grid_.open_total_mm2;
    }

    std::optional<DryingAnswer> dry(Task& task) {
        bool former_in = true;
        double hour = 0;
        keep(hour, true);
        while (grid_.dry_total_g > 0 && hour < 24 * options_.most_days && !answer_.finished) {
            if (task.cancelled()) return std::nullopt;
            if (former_in && former_comes_out(hour)) {
                former_in = false;
                answer_.former_out_day = hour / 24;
            }
            DryingAir const air = run_.air(hour / 24, former_in);
            double const hours = step_hours(grid_, run_, air);
            answer_.dried_g += stepper_.step(hours, air);
            hour += hours;
            keep(hour, hour - last_map_ >= kMapHours - 0.01);
            answer_.finished = answer_.moments.back().wettest <= run_.bone_dry_water();
        }
        finish();
        return std::move(answer_);
    }

private:
    bool former_comes_out(double hour) const {
        if (run_.spec.former_out_day > 0) return hour >= 24 * run_.spec.former_out_day;
        return answer_.moments.back().mean <= run_.clay.leather_water;
    }

    void keep(double hour, bool map) {
        DryingMoment moment;
        moment.hour = hour;
        moment.water_g = stepper_.water_g();
        moment.mass_g = moment.water_g + grid_.dry_total_g;
        moment.mean = grid_.dry_total_g > 0 ? moment.water_g / grid_.dry_total_g : 0;
        std::vector<float> water = maker_.map(stepper_.water(), -1.0F);
        Ends const ends = ends_of(maker_.ground, water, scratch_);
        moment.wettest = static_cast<double>(ends.wettest);
        moment.driest = static_cast<double>(ends.driest);
        answer_.moments.push_back(moment);
        if (moment.wettest - moment.driest > answer_.worst_moisture_spread) {
            answer_.worst_moisture_spread = moment.wettest - moment.driest;
            answer_.worst_spread_day = hour / 24;
            answer_.driest_chart = place_of(maker_.ground, ends.driest_at);
        }
        answer_.wettest_chart = place_of(maker_.ground, ends.wettest_at);
        if (!map) return;
        last_map_ = hour;
        if (options_.cracks) watch_.look(hour, water, maker_.map(stepper_.surface(), -1.0F));
        if (options_.maps) answer_.maps.push_back({hour, std::move(water)});
    }

    void finish() {
        auto const exact = [](double day) { return Figure{day, day, day, FigureFrom::by_default}; };
        answer_.days_to_leather_hard =
            exact(crossing_day(answer_.moments, &DryingMoment::mean, run_.clay.leather_water));
        answer_.days_to_bone_dry = exact(crossing_day(answer_.moments, &DryingMoment::wettest, run_.bone_dry_water()));
        if (options_.cracks) answer_.crack = watch_.answer();
    }

    Run run_;
    RunOptions options_;
    DryingGrid grid_;
    MapMaker maker_;
    DryingStepper stepper_;
    CrackWatch watch_;
    DryingAnswer answer_;
    std::vector<float> scratch_;
    double last_map_ = -1e9;
};

void widen(Figure& figure, double ratio) {
    figure.low = std::min(figure.low, figure.value * ratio);
    figure.high = std::max(figure.high, figure.value * ratio);
}

// The same piece on coarse cells, dried at the middle and at both ends of the figures: the ends as shares of the
// middle.
bool add_ranges(DryingAnswer& answer, ClayMap const& clay, DryingClay const& body, DryingSpec const& spec,
                DryingOptions const& options, Task& task) {
    RunOptions const coarse{kRangeBlock, options.most_days, false, false};
    auto const at = [&](double flux, double diffusivity) {
        return Dryer(clay, Run{body, spec, flux, diffusivity}, coarse).dry(task);
    };
    Figure const& flux = spec.flux_g_m2h;
    Figure const& diffusivity = spec.diffusivity_mm2_h;
    auto const middle = at(flux.value, diffusivity.value);
    auto const slow = at(flux.low, diffusivity.low);
    auto const fast = at(flux.high, diffusivity.high);
    if (!middle || !slow || !fast) return false;
    for (DryingAnswer const* end : {&*slow, &*fast}) {
        widen(answer.days_to_leather_hard,
              end->days_to_leather_hard.value / std::max(1e-9, middle->days_to_leather_hard.value));
        widen(answer.days_to_bone_dry, end->days_to_bone_dry.value / std::max(1e-9, middle->days_to_bone_dry.value));
    }
    bool const measured = flux.from == FigureFrom::measured;
    answer.days_to_leather_hard.from = answer.days_to_bone_dry.from =
        measured ? FigureFrom::measured : FigureFrom::by_default;
    return true;
}

} // namespace

std::string_view cover_name(Cover cover) {
    return cover == Cover::polythene ? "polythene" : cover == Cover::vented ? "vented" : "open";
}

std::string_view crack_class_name(CrackClass c) {
    return c == CrackClass::low ? "low" : c == CrackClass::fair ? "fair" : "high";
}

DryingClay drying_clay(BodySpec const& body) {
    double const water = body.water_dry_basis.value;
    auto const stages = clay_stages(body, 1e6, 1, 1, 1);
    DryingClay clay;
    clay.dry_g_cm3 = plastic_density_g_cm3(water, body.particle_density_g_cm3.value) / (1 + water);
    clay.water = water;
    // 1 cm3 of plastic clay loses the volume lost as water.
    clay.shrinkage_end = std::max(0.0, water - volume_shrinkage(body.drying_shrinkage.value) * 0.9982 / clay.dry_g_cm3);
    clay.leather_water = stages[1].water_dry_basis;
    clay.drying_shrinkage = body.drying_shrinkage.value;
    return clay;
}

double balance_water(double room_humidity) { return -kSorptionWater * std::log(1 - room_humidity); }

double cover_flux_g_m2h(DryingSpec const& spec, Cover cover, double flux_g_m2h) {
    double const times = cover == Cover::polythene ? 1.0 : cover == Cover::vented ? kVented : kOpen;
    // A flux that was weighed belongs to the maker's room as it is.
    bool const weighed = spec.flux_g_m2h.from == FigureFrom::measured;
    double const warmth = weighed ? 1.0 : saturation_Pa(spec.room_degC) / saturation_Pa(kReference_degC);
    return flux_g_m2h * times * warmth;
}

std::optional<DryingAnswer> dry(ClayMap const& clay, DryingClay const& body, DryingSpec const& spec,
                                DryingOptions const& options, Task& task) {
    Run const run{body, spec, spec.flux_g_m2h.value, spec.diffusivity_mm2_h.value};
    std::optional<DryingAnswer> answer = Dryer(clay, run, {1, options.most_days, options.maps, true}).dry(task);
    if (!answer) return std::nullopt;
    if (options.ranges && answer->dry_g > 0 && !add_ranges(*answer, clay, body, spec, options, task))
        return std::nullopt;
    return answer;
}

} // namespace leafwright
