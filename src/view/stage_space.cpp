#include "view/stage_space.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

double look_flatness(SceneOptions const& options) {
    if (options.flatness >= 0) return std::min(options.flatness, 1.0);
    return options.look == Look::flat ? 1.0 : 0.0;
}

} // namespace

double flatness_of(SceneOptions const& options) {
    return options.stage == MakingStage::drape ? 0.0 : look_flatness(options);
}

double laid_of(SceneOptions const& options) {
    if (options.stage != MakingStage::drape) return 1;
    return options.laid >= 0 ? std::min(options.laid, 1.0) : 1 - look_flatness(options);
}

StageScene scene_of(SceneOptions const& options) {
    StageScene scene = scene_at(options.stage);
    if (options.stage != MakingStage::drape || look_flatness(options) < 1) return scene;
    scene.flat_slab = true;
    scene.slab = scene.former = false;
    return scene;
}

double scale_at(Plan const& plan, MakingStage stage) {
    StageAnswer const* const state = state_at(plan, stage);
    return state && state->length_factor.value > 0 ? state->length_factor.value : 1.0;
}

double lump_mm3(Plan const& plan) {
    BodySpec const& body = plan.piece.body;
    if (body.particle_density_g_cm3.value <= 0) return 0;
    double const density = plastic_density_g_cm3(body.water_dry_basis.value, body.particle_density_g_cm3.value);
    return plan.clay.knead_g.value / density * kMm3PerCm3;
}

double lift_mm(Plan const& plan) {
    if (!plan.outer_face) return 0;
    constexpr double kWellOut_mm = 60; // beyond skirt and fillet
    double const rim = plan.outer_face->rim_from_crown_mm(0);
    return -plan.outer_face->at({0, rim + kWellOut_mm}).position.z;
}

double flat_base_mm(Plan const& plan) { return plan.outer_face ? plan.outer_face->options().offset_mm : 0; }

Vec3 scene_point(Plan const& plan, SceneOptions const& options, Spot const& spot, double height_mm) {
    double const flatness = flatness_of(options), scale = scale_at(plan, options.stage);
    LaidPoint const at = plan.outer_face->at(spot);
    Vec3 const laid = at.position + height_mm * at.normal + Vec3{0, 0, lift_mm(plan)};
    Vec3 const flat{at.chart, flat_base_mm(plan) + height_mm};
    return scale * ((1 - flatness) * laid + flatness * flat);
}

Vec3 scene_size(Plan const& plan, SceneOptions const& options) {
    StageScene const scene = scene_of(options);
    double const scale = scale_at(plan, options.stage);
    if (scene.lump) return Vec3{1.5, 1.1, 0.7} * 1.35 * std::cbrt(lump_mm3(plan));
    if (scene.flat_slab && plan.slab) return {plan.slab->bounds_mm.x + 190, plan.slab->bounds_mm.y + 190, 60};
    Box2 flat;
    Vec3 low{1e9}, high{-1e9};
    auto const add = [&](Vec2 const& chart) {
        flat.add(chart);
        Vec3 const p = plan.outer_face->at_chart(chart).position;
        low = glm::min(low, p);
        high = glm::max(high, p);
    };
    for (Vec2 const& p : plan.outer_face->rim_chart(72)) add(p);
    for (auto const& leaf : plan.laid)
        for (Vec2 const& p : leaf->chart.outer) add(p);
    double const rise = plan.outer_face->at({0, 0}).position.z + lift_mm(plan) + (plan.stack ? plan.stack->most_mm : 0);
    double const flatness = flatness_of(options);
    if (laid_of(options) < 1 && plan.slab) {
        flat.add(0.5 * plan.slab->bounds_mm);
        low = glm::min(low, Vec3{-0.5 * plan.slab->bounds_mm, low.z});
        high = glm::max(high, Vec3{0.5 * plan.slab->bounds_mm, high.z});
    }
    Vec3 const laid{2 * std::max(-low.x, high.x), 2 * std::max(-low.y, high.y), rise};
    Vec3 const rolled{2 * std::max(-flat.low.x, flat.high.x), 2 * std::max(-flat.low.y, flat.high.y), 20};
    return scale * ((1 - flatness) * laid + flatness * rolled);
}

} // namespace leafwright
