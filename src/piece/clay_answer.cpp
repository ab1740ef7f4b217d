#include "piece/clay_answer.h"

#include "base/units.h"

#include <cmath>

namespace leafwright {

namespace {

double feature_volume_mm3_of(Plan const& plan) {
    double volume = 0;
    for (LaidFeature const& laid : plan.features) volume += feature_volume_mm3(laid.feature);
    return volume;
}

// Lips and lugs are cut as thick as the slab.
double lips_and_lugs_mm3(Plan const& plan) {
    double volume = lug_volume_mm3(plan.piece.hanging);
    for (LaidFeature const& laid : plan.features)
        if (laid.feature.kind == FeatureKind::opening) volume += feature_volume_mm3(laid.feature);
    return volume;
}

} // namespace

double cut_volume_mm3(Plan const& plan) {
    return plan.slab->volume_mm3 + plan.leaves.volume_mm3 + lips_and_lugs_mm3(plan);
}

double cut_area_mm2(Plan const& plan) {
    return plan.slab->flat_mm2 + plan.leaves.area_mm2 + lips_and_lugs_mm3(plan) / plan.piece.slab.thickness_mm;
}

Figure plastic_density(BodySpec const& body) {
    Figure const& water = body.water_dry_basis;
    Figure const& particle = body.particle_density_g_cm3;
    FigureFrom const from = (water + particle).from;
    return {plastic_density_g_cm3(water.value, particle.value), plastic_density_g_cm3(water.high, particle.low),
            plastic_density_g_cm3(water.low, particle.high), from};
}

double lug_volume_mm3(HangingSpec const& hanging) {
    if (hanging.kind != "lugs") return 0;
    return 2.0 * kPi / 6.0 * kLugBall_mm * kLugBall_mm * kLugBall_mm;
}

namespace {

// All but the offcuts, and what follows from them.
ClayAnswer parts_of(Plan const& plan, Figure const& g_per_mm3) {
    double const slip_g = plan.piece.extra.slip_g_per_m2 * plan.leaves.area_mm2 * 1e-6;
    ClayAnswer clay;
    clay.slab_g = g_per_mm3 * plan.slab->volume_mm3;
    clay.leaves_g = g_per_mm3 * plan.leaves.volume_mm3;
    clay.features_g = g_per_mm3 * feature_volume_mm3_of(plan);
    clay.lugs_g = g_per_mm3 * lug_volume_mm3(plan.piece.hanging);
    clay.slip_g = {slip_g, slip_g, slip_g, FigureFrom::by_default};
    return clay;
}

void add_up(ClayAnswer& clay, double kneading_spare) {
    Figure const parts = clay.slab_g + clay.leaves_g + clay.features_g + clay.lugs_g + clay.slip_g + clay.offcuts_g;
    clay.spare_g = parts * kneading_spare;
    clay.knead_g = parts + clay.spare_g;
}

Figure g_per_mm3_of(Plan const& plan) { return plastic_density(plan.piece.body) * (1.0 / kMm3PerCm3); }

} // namespace

ClayAnswer clay_answer(Plan const& plan, double offcuts_mm3) {
    Figure const g_per_mm3 = g_per_mm3_of(plan);
    ClayAnswer clay = parts_of(plan, g_per_mm3);
    clay.offcuts_g = g_per_mm3 * offcuts_mm3;
    clay.offcuts_by = ClayAnswer::OffcutsBy::sheets;
    add_up(clay, plan.piece.body.kneading_spare);
    return clay;
}

ClayAnswer clay_answer(Plan const& plan) {
    Piece const& piece = plan.piece;
    CuttingSpec const& cutting = piece.cutting;
    if (cutting.nested_share > 0) {
        ClayAnswer clay = clay_answer(plan, cut_volume_mm3(plan) * (1.0 / cutting.nested_share - 1.0));
        bool const same = std::abs(cut_area_mm2(plan) - cutting.nested_cut_mm2) <= 1e-6 * cutting.nested_cut_mm2;
        if (!same) clay.offcuts_by = ClayAnswer::OffcutsBy::sheets_of_before;
        return clay;
    }
    ClayAnswer clay = parts_of(plan, g_per_mm3_of(plan));
    clay.offcuts_g = clay.leaves_g * (1.0 / piece.extra.cutting_density - 1.0);
    add_up(clay, piece.body.kneading_spare);
    return clay;
}

double piece_volume_mm3(Plan const& plan) {
    double holes = 0;
    for (LaidFeature const& laid : plan.features) holes += laid.slab_hole_mm2 * plan.slab->thickness_mm.mean;
    return plan.slab->shell_mm3 + plan.leaves.volume_mm3 + feature_volume_mm3_of(plan) +
           lug_volume_mm3(plan.piece.hanging) - holes;
}

} // namespace leafwright
