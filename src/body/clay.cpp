#include "body/body.h"

#include "base/units.h"

#include <cmath>

namespace leafwright {

double plastic_density_g_cm3(double water_dry_basis, double particle_density_g_cm3) {
    return (1 + water_dry_basis) / (1 / particle_density_g_cm3 + water_dry_basis / kWaterDensity_g_cm3);
}

double volume_shrinkage(double linear) { return 1 - std::pow(1 - linear, 3); }

double linear_shrinkage(double volume) { return 1 - std::cbrt(1 - volume); }

double oversize_factor(double linear) { return 1 / (1 - linear); }

std::string_view stage_name(Stage stage) {
    switch (stage) {
    case Stage::plastic:
        return "plastic";
    case Stage::leather_hard:
        return "leather-hard";
    case Stage::bone_dry:
        return "bone dry";
    case Stage::first_firing:
        return "first firing";
    case Stage::last_firing:
        return "last firing";
    }
    return {};
}

} // namespace leafwright
