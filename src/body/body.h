// The clay body: densities, water, shrinkage, loss on firing; from volume as modelled to mass and size at each stage.
#pragma once

#include "base/figure.h"
#include "base/outcome.h"

#include <string>
#include <string_view>
#include <vector>

namespace leafwright {

// Figures carry a range where the maker has not narrowed them with a test tile.
struct BodySpec {
    std::string clay = "body:stoneware"; // body:NAME, of assets/bodies/
    Figure water_dry_basis;              // water mass / dry mass, plastic
    Figure particle_density_g_cm3;
    Figure drying_shrinkage;   // linear, of the plastic length
    Figure firing_shrinkage;   // linear, of the dry length, after the last firing
    Figure first_firing_share; // share of the firing shrinkage that comes with the first firing, 0 to 1
    Figure loss_on_ignition;   // of the dry mass
    Figure absorption;         // water taken up, of the fired mass
    // Dry or fired clay in the fire: what it stretches before it breaks (bending strength over Young's modulus: pressed
    // tiles 35 N/mm2 by ISO 13006 over some 60 000, dry clay 1 to 3 over some 10 000, moduli from memory) and its
    // expansion by heat (from memory). Wide ranges, no source for a clay of one's own.
    Figure fracture_strain{3e-4, 1e-4, 6e-4, FigureFrom::by_default};
    Figure expansion_per_K{6e-6, 4e-6, 8e-6, FigureFrom::by_default};
    double kneading_spare = 0.1; // share added to what must be kneaded
    bool operator==(BodySpec const&) const = default;
};

struct BodyEntry {
    std::string name;
    std::string label;
};
std::vector<BodyEntry> body_entries();
// Default figures of assets/bodies/NAME.json, by "NAME" or "body:NAME". Problem "body.unknown" lists the names.
Outcome<BodySpec> body_of(std::string_view name);

// Saturated plastic clay: rho = (1 + w)/(1/rs + w/rw), g/cm3 (phase relation of soil mechanics; water at 20 degC).
double plastic_density_g_cm3(double water_dry_basis, double particle_density_g_cm3);
// Sv = 1 - (1 - S)^3 and its inverse; oversize factor 1/(1 - S).
double volume_shrinkage(double linear);
double linear_shrinkage(double volume);
double oversize_factor(double linear);

enum class Stage { plastic, leather_hard, bone_dry, first_firing, last_firing };
std::string_view stage_name(Stage stage); // "plastic", "leather-hard", "bone dry", "first firing", "last firing"

struct StageAnswer {
    Stage stage = Stage::plastic;
    Figure mass_g;
    Figure length_factor;  // size now / plastic size
    double volume_mm3 = 0; // of the clay, pores included
    double water_dry_basis = 0;
    double width_mm = 0;
    double height_mm = 0;
    double depth_mm = 0;
};

// Clay volume as modelled and size, plastic -> all five stages. Leather-hard is where one third of the shrinkage water
// is left (common practice, no source). Ranges: each figure of the body at its low and high end, the widest case.
std::vector<StageAnswer> clay_stages(BodySpec const& body, double plastic_mm3, double width_mm, double height_mm,
                                     double depth_mm);

} // namespace leafwright
