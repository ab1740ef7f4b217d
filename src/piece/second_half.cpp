#include "piece/second_half.h"

#include "base/units.h"
#include "piece/second_warnings.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kCell_mm = 2;

StageAnswer const& stage_of(Plan const& plan, Stage stage) { return plan.stages[static_cast<std::size_t>(stage)]; }

std::vector<BackLump> lugs_of(Plan const& plan) {
    std::vector<BackLump> lumps;
    if (plan.piece.hanging.kind != "lugs") return lumps;
    // Two balls joined: their volume over the disc of the root.
    double const ball = kPi / 6 * kLugBall_mm * kLugBall_mm * kLugBall_mm;
    double const radius = kLugRoot_mm / 2;
    for (Vec2 const& chart : lug_charts(*plan.outer_face, plan.piece.hanging))
        lumps.push_back({chart, radius, ball / (kPi * radius * radius)});
    return lumps;
}

std::vector<Ring> holes_of(Plan const& plan) {
    std::vector<Ring> holes;
    for (LaidFeature const& laid : plan.features)
        if (laid.feature.kind == FeatureKind::opening) holes.push_back(opening_hole(*plan.outer_face, laid.feature));
    return holes;
}

std::vector<Feature> openings_of(Piece const& piece) {
    std::vector<Feature> openings;
    for (Feature const& feature : piece.features)
        if (feature.kind == FeatureKind::opening) openings.push_back(feature);
    return openings;
}

bool same_clay(Plan const& a, Plan const& b) {
    HangingSpec const& x = a.piece.hanging;
    HangingSpec const& y = b.piece.hanging;
    return a.outer_face == b.outer_face && a.stack == b.stack &&
           a.piece.slab.thickness_mm == b.piece.slab.thickness_mm && x.kind == y.kind &&
           x.above_centre_mm == y.above_centre_mm && x.half_span_mm == y.half_span_mm &&
           openings_of(a.piece) == openings_of(b.piece);
}

double thickest_mm(ClayMap const& clay) {
    double most = 0;
    for (std::size_t i = 0; i < clay.open.size(); ++i)
        if (clay.open[i] > 0.5F) most = std::max(most, clay.thickness_mm(i));
    return most;
}

double reach_mm(ClayMap const& clay) {
    double most = 0;
    for (std::size_t i = 0; i < clay.open.size(); ++i)
        if (clay.open[i] > 0) most = std::max(most, glm::length(Vec2(clay.face->position[i])));
    return most;
}

std::vector<FiringSpec> firings_of(Piece const& piece) {
    return piece.firing.empty() ? std::vector<FiringSpec>{{"first", 1000, {}}, {"last", 1260, {}}} : piece.firing;
}

FiringClay firing_clay(SecondHalf const& half, bool fired_before) {
    Plan const& plan = *half.plan;
    StageAnswer const& before = stage_of(plan, fired_before ? Stage::first_firing : Stage::bone_dry);
    FiringClay clay;
    clay.thickest_mm = before.length_factor.value * thickest_mm(*half.clay);
    clay.mean_mm = before.length_factor.value * half.clay->volume_mm3 / std::max(1.0, half.clay->open_mm2);
    clay.dry_g = before.mass_g.value;
    clay.fired_before = fired_before;
    clay.loss = fired_before ? 0 : plan.piece.body.loss_on_ignition.value;
    clay.water_share = fired_before ? 0 : balance_water(plan.piece.drying.room_humidity);
    clay.fracture_strain = plan.piece.body.fracture_strain;
    clay.expansion_per_K = plan.piece.body.expansion_per_K;
    clay.density_g_cm3 = before.volume_mm3 > 0 ? before.mass_g.value / before.volume_mm3 * 1000 : 1.9;
    return clay;
}

PieceSize size_at(SecondHalf const& half, Stage stage) {
    StageAnswer const& s = stage_of(*half.plan, stage);
    return {s.width_mm, s.height_mm, s.depth_mm, s.length_factor.value * reach_mm(*half.clay)};
}

void plan_firings(SecondHalf& half, std::vector<Warning>& warnings) {
    std::vector<FiringSpec> const specs = firings_of(half.plan->piece);
    for (std::size_t i = 0; i < specs.size(); ++i) {
        PieceSize const size = size_at(half, i == 0 ? Stage::bone_dry : Stage::first_firing);
        Outcome<FiringAnswer> fired = fire(specs[i], firing_clay(half, i > 0), half.plan->piece.kiln, size);
        if (fired)
            warn_of_firing(*fired, i, half.plan->piece.kiln != KilnSpec{}, warnings);
        else
            warnings.push_back({fired.problem().code, firing_stage(i), "The schedule " + fired.problem().what + '.',
                                fired.problem().hint + '.', true});
        if (!fired) fired = FiringAnswer{};
        fired->name = specs[i].name;
        half.firings.push_back(std::move(*fired));
        half.fits.push_back(half.firings.back().fit);
    }
}

void plan_finish(SecondHalf& half) {
    Plan const& plan = *half.plan;
    double const factor = stage_of(plan, Stage::first_firing).length_factor.value;
    HeightPatch const& height = plan.stack->height;
    half.finish = finish_answer(plan.piece.finish, true_face_mm2(*half.clay, height), half.clay->open_mm2, factor);
    half.outdoors = outdoor_answer(plan.piece.finish, plan.piece.body.absorption);
}

void plan_hanging(SecondHalf& half, std::vector<Warning>& warnings) {
    Plan const& plan = *half.plan;
    StageAnswer const& last = stage_of(plan, Stage::last_firing);
    Outcome<HangingAnswer> hung = hang_piece(
        *half.clay, *plan.outer_face, plan.piece.hanging, last.mass_g + half.finish.dry_g, last.length_factor.value,
        plan.piece.hanging.joint_share * tile_strength_N_mm2(plan.piece.body.absorption.value));
    if (hung)
        half.hanging = std::move(*hung);
    else
        warnings.push_back(
            {hung.problem().code, "Hang", "The hanging " + hung.problem().what + '.', hung.problem().hint + '.', true});
}

// Tiles, weighings and cooling readings.
void plan_measured(SecondHalf& half) {
    Piece const& piece = half.plan->piece;
    half.tiles_body = piece.body;
    if (piece.tiles != TileSet{}) {
        Outcome<TileAnswer> const tiles = tile_answer(piece.tiles);
        if (tiles) {
            half.tiles = *tiles;
            half.tiles_body = narrowed(piece.body, *tiles);
        } else {
            half.tiles_problem = tiles.problem();
        }
    }
    if (!piece.drying.weighings.empty()) {
        Outcome<CoverFit> const fit = fit_cover(piece.drying.weighings, half.drying->open_mm2, half.drying->dry_g,
                                                piece.body.water_dry_basis.value);
        if (fit)
            half.cover_fit = *fit;
        else
            half.cover_problem = fit.problem();
    }
    if (piece.kiln.cooling.empty()) return;
    Outcome<double> const tau = fit_newton_tau_h(piece.kiln.cooling, piece.kiln.room_degC);
    if (!tau) half.cooling_problem = tau.problem();
}

CostInput cost_input(SecondHalf const& half) {
    Plan const& plan = *half.plan;
    CostSpec const& prices = plan.piece.cost;
    CostInput in;
    in.knead_g = plan.clay.knead_g;
    in.leaves = plan.leaves.count;
    for (LeafPlacement const& leaf : plan.piece.leaves) in.first_row_leaves += leaf.row == 1 ? 1 : 0;
    in.features = static_cast<int>(plan.piece.features.size());
    in.drying_days = half.drying->days_to_bone_dry.value;
    for (FiringAnswer const& f : half.firings) in.firing_kWh.push_back(f.kWh * plan.piece.kiln.share);
    in.finish_g = half.finish.dry_g;
    FinishKind const kind = half.finish.kind;
    in.finish_per_kg = kind == FinishKind::glaze        ? prices.glaze_per_kg
                       : kind == FinishKind::oxide_wash ? prices.oxide_per_kg
                                                        : prices.cold_per_kg;
    in.finish_m2 = half.finish.face_mm2 * 1e-6;
    in.finish_layers = kind == FinishKind::none ? 0 : plan.piece.finish.layers;
    return in;
}

} // namespace

struct SecondHalfPlanner::Memory {
    std::shared_ptr<SecondHalf const> last;
};

SecondHalfPlanner::SecondHalfPlanner() : memory_(std::make_unique<Memory>()) {}
SecondHalfPlanner::~SecondHalfPlanner() = default;
SecondHalfPlanner::SecondHalfPlanner(SecondHalfPlanner&&) noexcept = default;
SecondHalfPlanner& SecondHalfPlanner::operator=(SecondHalfPlanner&&) noexcept = default;

std::shared_ptr<SecondHalf const> SecondHalfPlanner::plan(std::shared_ptr<Plan const> const& plan, Task& task) {
    SecondHalf const* const last = memory_->last.get();
    if (last && last->plan == plan) return memory_->last;
    if (task.cancelled()) return nullptr;
    auto half = std::make_shared<SecondHalf>();
    half->plan = plan;
    bool const clay_kept = last && same_clay(*last->plan, *plan);
    if (clay_kept) {
        half->clay = last->clay;
    } else {
        auto const face = face_map(*plan->outer_face, *plan->zone.rim, plan->stack->height, kCell_mm);
        half->clay = std::make_shared<ClayMap const>(
            clay_map(face, plan->piece.slab.thickness_mm, pile_clay(*plan->stack), holes_of(*plan), lugs_of(*plan)));
    }
    task.progress(0.1);
    DryingClay const clay = drying_clay(plan->piece.body);
    bool const drying_kept =
        clay_kept && drying_clay(last->plan->piece.body) == clay && last->plan->piece.drying == plan->piece.drying;
    if (drying_kept) {
        half->drying = last->drying;
    } else {
        std::optional<DryingAnswer> dried = dry(*half->clay, clay, plan->piece.drying, {}, task);
        if (!dried) return nullptr;
        half->drying = std::make_shared<DryingAnswer const>(std::move(*dried));
    }
    task.progress(0.8);
    half->thickest_mm = thickest_mm(*half->clay);
    plan_measured(*half);
    warn_of_drying(*half->drying, half->warnings);
    plan_firings(*half, half->warnings);
    plan_finish(*half);
    plan_hanging(*half, half->warnings);
    warn_of_finish(*half, half->warnings);
    if (half->hanging) warn_of_hanging(*half->hanging, half->warnings);
    half->cost = cost_answer(plan->piece.cost, cost_input(*half));
    std::stable_partition(half->warnings.begin(), half->warnings.end(), [](Warning const& w) { return w.refusal; });
    task.progress(1);
    memory_->last = half;
    return half;
}

std::shared_ptr<SecondHalf const> plan_second_half(std::shared_ptr<Plan const> const& plan, Task& task) {
    return SecondHalfPlanner().plan(plan, task);
}

} // namespace leafwright
