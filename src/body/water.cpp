// Water and size: clay made up wetter or drier, the plastic length for a finished one, slip.
#include "base/units.h"
#include "body/tiles.h"

#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

double volume_per_dry_g(double water, double particle_density) {
    return 1 / particle_density + water / kWaterDensity_g_cm3;
}

double shrinkage_from(double end_water, double water, double particle_density) {
    if (end_water >= water) return 0;
    return 1 - std::cbrt(volume_per_dry_g(end_water, particle_density) / volume_per_dry_g(water, particle_density));
}

} // namespace

double shrinkage_end_water(double water_dry_basis, double particle_density_g_cm3, double drying_shrinkage) {
    double const dry =
        volume_per_dry_g(water_dry_basis, particle_density_g_cm3) * (1 - volume_shrinkage(drying_shrinkage));
    return std::max(0.0, (dry - 1 / particle_density_g_cm3) * kWaterDensity_g_cm3);
}

BodySpec with_water(BodySpec const& body, Figure const& water_dry_basis) {
    double const density = body.particle_density_g_cm3.value;
    double const was = body.water_dry_basis.value;
    auto const shrinkage = [&](double old, double water) {
        return shrinkage_from(shrinkage_end_water(was, density, old), water, density);
    };
    BodySpec out = body;
    out.water_dry_basis = water_dry_basis;
    Figure const& old = body.drying_shrinkage;
    out.drying_shrinkage = {shrinkage(old.value, water_dry_basis.value), shrinkage(old.low, water_dry_basis.low),
                            shrinkage(old.high, water_dry_basis.high), old.from};
    return out;
}

Figure plastic_length_mm(double finished_mm, Figure const& length_factor) {
    return {finished_mm / length_factor.value, finished_mm / length_factor.high, finished_mm / length_factor.low,
            length_factor.from};
}

double slip_dry_g_per_litre(double grams_per_litre, double solids_g_cm3) {
    return (grams_per_litre - 1000) * solids_g_cm3 / (solids_g_cm3 - 1);
}

Outcome<SlipMix> slip_mix(double litres, double grams_per_litre, double solids_g_cm3, double clay_water_dry_basis) {
    if (!(litres > 0) || !(solids_g_cm3 > 1) || !(clay_water_dry_basis >= 0))
        return Problem{"range", "slip", "needs litres above 0, solids denser than water and water of 0 or more", ""};
    double const heaviest = 1000 * (1 + clay_water_dry_basis) / (1 / solids_g_cm3 + clay_water_dry_basis);
    if (!(grams_per_litre > 1000 && grams_per_litre <= heaviest))
        return Problem{"range", "slip.grams_per_litre",
                       fmt::format("is {:g}; slip of this clay weighs between 1000 (water) and {:.0f} g (the clay "
                                   "itself) a litre",
                                   grams_per_litre, heaviest),
                       "Weigh one litre of the slip"};
    double const dry = litres * slip_dry_g_per_litre(grams_per_litre, solids_g_cm3);
    double const clay = dry * (1 + clay_water_dry_basis);
    return SlipMix{clay, litres * grams_per_litre - clay, dry};
}

} // namespace leafwright
