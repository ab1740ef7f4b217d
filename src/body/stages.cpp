// One clay through all stages, and the widest range over the ends of every figure of the body.
#include "base/units.h"
#include "body/body.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leafwright {

namespace {

constexpr std::size_t kStages = 5;
constexpr double kShrinkageWaterLeft = 1.0 / 3; // leather-hard; common practice, no source

// The figures that decide mass and size, as plain numbers.
struct Clay {
    double water;
    double density_g_cm3;
    double drying;
    double firing;
    double first_share;
    double loss;
};
constexpr std::size_t kFigures = 6;

struct State {
    double mass_g;
    double length_factor;
    double water;
};

std::array<State, kStages> states_of(Clay const& clay, double plastic_mm3) {
    double const volume_cm3 = plastic_mm3 / kMm3PerCm3;
    double const plastic_g = volume_cm3 * plastic_density_g_cm3(clay.water, clay.density_g_cm3);
    double const dry_g = plastic_g / (1 + clay.water);
    double const fired_g = dry_g * (1 - clay.loss);
    double const dry_length = 1 - clay.drying;
    // While clay shrinks its pores stay full: the volume lost is water lost. A body cannot lose more than it holds.
    double const shrinkage_water = std::min(clay.water, volume_shrinkage(clay.drying) * volume_cm3 *
                                                            kWaterDensity_g_cm3 / std::max(dry_g, 1e-300));
    double const leather_water = clay.water - (1 - kShrinkageWaterLeft) * shrinkage_water;
    double const leather_length = std::cbrt(1 - (1 - kShrinkageWaterLeft) * volume_shrinkage(clay.drying));
    return {{{plastic_g, 1, clay.water},
             {dry_g * (1 + leather_water), leather_length, leather_water},
             {dry_g, dry_length, 0},
             {fired_g, dry_length * (1 - clay.first_share * clay.firing), 0},
             {fired_g, dry_length * (1 - clay.firing), 0}}};
}

using Figures = std::array<Figure, kFigures>;

Figures figures_of(BodySpec const& body) {
    return {body.water_dry_basis,  body.particle_density_g_cm3, body.drying_shrinkage,
            body.firing_shrinkage, body.first_firing_share,     body.loss_on_ignition};
}

Clay at_values(Figures const& f) { return {f[0].value, f[1].value, f[2].value, f[3].value, f[4].value, f[5].value}; }

// Bit i of `corner` takes figure i at its high end.
Clay at_corner(Figures const& f, unsigned corner) {
    auto end = [&](unsigned i) { return (corner >> i) & 1U ? f[i].high : f[i].low; };
    return {end(0), end(1), end(2), end(3), end(4), end(5)};
}

FigureFrom from_of(Figures const& figures) {
    auto any = [&](FigureFrom from) {
        return std::ranges::any_of(figures, [&](Figure const& f) { return f.from == from; });
    };
    if (any(FigureFrom::by_default)) return FigureFrom::by_default;
    return any(FigureFrom::measured) ? FigureFrom::measured : FigureFrom::computed;
}

void widen(Figure& figure, double value) {
    figure.low = std::min(figure.low, value);
    figure.high = std::max(figure.high, value);
}

} // namespace

std::vector<StageAnswer> clay_stages(BodySpec const& body, double plastic_mm3, double width_mm, double height_mm,
                                     double depth_mm) {
    Figures const figures = figures_of(body);
    FigureFrom const from = from_of(figures);
    auto const best = states_of(at_values(figures), plastic_mm3);
    std::vector<StageAnswer> answers;
    for (std::size_t i = 0; i < kStages; ++i) {
        double const factor = best[i].length_factor;
        StageAnswer answer;
        answer.stage = static_cast<Stage>(i);
        answer.mass_g = {best[i].mass_g, best[i].mass_g, best[i].mass_g, from};
        answer.length_factor = {factor, factor, factor, i == 0 ? FigureFrom::computed : from};
        answer.volume_mm3 = plastic_mm3 * factor * factor * factor;
        answer.water_dry_basis = best[i].water;
        answer.width_mm = width_mm * factor;
        answer.height_mm = height_mm * factor;
        answer.depth_mm = depth_mm * factor;
        answers.push_back(answer);
    }
    // Mass and size rise or fall evenly with each figure alone, so that the widest case stands at a corner.
    for (unsigned corner = 0; corner < (1U << kFigures); ++corner) {
        auto const states = states_of(at_corner(figures, corner), plastic_mm3);
        for (std::size_t i = 0; i < kStages; ++i) {
            widen(answers[i].mass_g, states[i].mass_g);
            widen(answers[i].length_factor, states[i].length_factor);
        }
    }
    return answers;
}

} // namespace leafwright
