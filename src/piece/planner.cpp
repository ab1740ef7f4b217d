#include "piece/planner.h"

#include "piece/clay_answer.h"
#include "piece/fields.h"
#include "piece/finished_size.h"
#include "piece/own_leaves.h"
#include "piece/spots.h"
#include "piece/warnings.h"
#include "slab/drape.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <tbb/parallel_for.h>
#include <tbb/parallel_invoke.h>
#include <unordered_map>

namespace leafwright {

namespace {

constexpr int kRimPoints = 720; // the inscribed ring is short by 1.3e-5 of the area

// The room names its own field; the file's path goes before it where it does not stand there yet.
Problem located(Problem problem, std::string const& path) {
    if (problem.where.starts_with(path)) return problem;
    problem.where = problem.where.empty() ? path : path + '.' + problem.where;
    return problem;
}

// Room for the longest leaf beyond the rim, in whole steps, so that a small change of a leaf does not remake the
// surface.
double board_mm(Piece const& piece, std::span<std::shared_ptr<LeafPattern const> const> patterns) {
    constexpr double kLeast_mm = 200;
    constexpr double kStep_mm = 100;
    std::unordered_map<std::string_view, double> lengths;
    for (auto const& pattern : patterns) lengths[pattern->spec.id] = pattern->spec.length_mm;
    double longest = 0;
    for (LeafPlacement const& leaf : piece.leaves) longest = std::max(longest, lengths[leaf.kind] * leaf.scale);
    return std::max(kLeast_mm, kStep_mm * std::ceil(longest / kStep_mm));
}

// ---- Steps that may fail
// ----------------------------------------------------------------------------------------------

MaybeProblem plan_former(Plan& plan, Plan const* last) {
    if (last && last->piece.former == plan.piece.former) {
        plan.former = last->former;
        plan.former_measures = last->former_measures;
        return {};
    }
    Outcome<Former> former = Former::make(plan.piece.former);
    if (!former) return located(former.problem(), "former");
    plan.former = std::make_shared<Former const>(*former);
    plan.former_measures = plan.former->measures();
    return {};
}

MaybeProblem plan_patterns(Plan& plan, Plan const* last) {
    for (std::size_t i = 0; i < plan.piece.leaf_kinds.size(); ++i) {
        LeafKindSpec const& spec = plan.piece.leaf_kinds[i];
        OwnLeaf const* const own = own_leaf_in(plan.piece, spec.outline);
        OwnLeaf const* const old_own = last ? own_leaf_in(last->piece, spec.outline) : nullptr;
        bool const same_own = own ? old_own && *own == *old_own : !old_own;
        std::shared_ptr<LeafPattern const> pattern;
        if (last && same_own)
            for (auto const& old : last->patterns)
                if (old->spec == spec) pattern = old;
        if (!pattern) {
            if (own)
                if (MaybeProblem problem = check_own_leaf(*own)) return located(*problem, "own_leaves." + own->id);
            Outcome<LeafPattern> made = resolve_leaf_kind(spec, plan.piece.own_leaves);
            if (!made) return located(made.problem(), "leaf_kinds[" + std::to_string(i) + ']');
            pattern = std::make_shared<LeafPattern const>(std::move(*made));
        }
        plan.patterns.push_back(std::move(pattern));
    }
    return {};
}

// The slab and its outer face follow from the former alone and are the two slow steps: side by side.
MaybeProblem plan_slab_and_face(Plan& plan, Plan const* last, DrapeEngine& drape, PlanOptions const& how) {
    SlabSpec const& spec = plan.piece.slab;
    bool const same_former = last && last->former == plan.former;
    SurfaceOptions options;
    options.offset_mm = spec.thickness_mm;
    options.board_mm = board_mm(plan.piece, plan.patterns);
    options.coarse = how.coarse_slab;
    if (same_former && last->piece.slab == spec && (how.coarse_slab || !last->coarse)) plan.slab = last->slab;
    plan.coarse = plan.slab ? last->coarse : how.coarse_slab;
    if (same_former && (how.coarse_slab || !last->outer_face->options().coarse) &&
        last->outer_face->options().offset_mm == options.offset_mm &&
        last->outer_face->options().board_mm == options.board_mm)
        plan.outer_face = last->outer_face;

    if (!plan.outer_face && how.coarse_slab) plan.coarse = true;

    MaybeProblem problem;
    tbb::parallel_invoke(
        [&] {
            if (plan.slab) return;
            Task never;
            Outcome<SlabAnswer> slab = how.coarse_slab
                                           ? drape.preview(*plan.former, spec)
                                           : drape.drape(*plan.former, spec, {}, how.task ? *how.task : never);
            if (slab)
                plan.slab = std::make_shared<SlabAnswer const>(std::move(*slab));
            else
                problem = located(slab.problem(), "slab");
        },
        [&] {
            if (!plan.outer_face)
                plan.outer_face = std::make_shared<ClaySurface const>(ClaySurface::make(*plan.former, options));
        });
    return problem;
}

// ---- Steps that always succeed
// ----------------------------------------------------------------------------------------

void plan_laid_leaves(Plan& plan, Plan const* last) {
    std::vector<LeafPlacement> const& leaves = plan.piece.leaves;
    std::unordered_map<std::string_view, LeafPattern const*> patterns;
    for (auto const& pattern : plan.patterns) patterns[pattern->spec.id] = pattern.get();
    std::unordered_map<int, std::size_t> before;
    if (last && last->outer_face == plan.outer_face)
        for (std::size_t i = 0; i < last->laid.size(); ++i) before[last->piece.leaves[i].id] = i;

    plan.laid.resize(leaves.size());
    std::vector<std::size_t> fresh;
    for (std::size_t i = 0; i < leaves.size(); ++i) {
        auto const found = before.find(leaves[i].id);
        bool const same = found != before.end() && last->piece.leaves[found->second] == leaves[i] &&
                          last->pattern_of(leaves[i]) == patterns.at(leaves[i].kind);
        if (same)
            plan.laid[i] = last->laid[found->second];
        else
            fresh.push_back(i);
    }
    tbb::parallel_for(std::size_t{0}, fresh.size(), [&](std::size_t k) {
        LeafPlacement const& leaf = leaves[fresh[k]];
        plan.laid[fresh[k]] =
            std::make_shared<LaidLeaf const>(lay_leaf(*plan.outer_face, *patterns.at(leaf.kind), leaf));
    });
}

void plan_features_and_zone(Plan& plan, Plan const* last) {
    bool const same_face = last && last->outer_face == plan.outer_face;
    plan.zone.rim = same_face ? last->zone.rim : std::make_shared<Ring const>(plan.outer_face->rim_chart(kRimPoints));
    for (Feature const& feature : plan.piece.features) {
        std::size_t old = same_face ? 0 : SIZE_MAX;
        while (old < (same_face ? last->features.size() : 0) && last->features[old].feature != feature) ++old;
        if (same_face && old < last->features.size()) {
            plan.features.push_back(last->features[old]);
            plan.zone.keep_clear.push_back(last->zone.keep_clear[old]);
            continue;
        }
        LaidFeature laid = lay_feature(*plan.outer_face, feature);
        if (!laid.mound) laid.mound = std::make_shared<FeatureMound const>(lay_mound(*plan.outer_face, feature));
        plan.zone.keep_clear.push_back(std::make_shared<Ring const>(laid.chart));
        plan.features.push_back(std::move(laid));
    }
}

std::vector<OverlapLeaf> overlap_leaves(Plan const& plan) {
    std::vector<OverlapLeaf> leaves;
    leaves.reserve(plan.laid.size());
    for (auto const& laid : plan.laid)
        leaves.push_back({laid->placement.id, std::shared_ptr<Polygon const>(laid, &laid->chart)});
    return leaves;
}

LeavesAnswer leaves_answer(Plan const& plan, OverlapFigures overlap) {
    LeavesAnswer answer;
    std::set<int> rows;
    for (auto const& laid : plan.laid) {
        rows.insert(laid->placement.row);
        answer.area_mm2 += laid->flat_mm2;
        answer.volume_mm3 += laid->flat_mm2 * laid->thickness_mm;
    }
    double exposed = 0;
    for (OverlapOfLeaf const& leaf : overlap.leaves) exposed += leaf.exposed_mm2;
    answer.count = static_cast<int>(plan.laid.size());
    answer.rows = static_cast<int>(rows.size());
    answer.lap = overlap.area_mm2 > 0 ? 1.0 - exposed / overlap.area_mm2 : 0.0;
    answer.stack_most_mm = plan.stack->most_mm;
    for (auto const& relief : plan.stack->leaves) {
        answer.bonded_mm2 += relief->bonded_mm2;
        answer.hollow_mm3 += relief->gap_mm3;
    }
    answer.overlap = std::move(overlap);
    return answer;
}

// While the former moves under the hand, what lies on it waits: leaves, laps and stack are those of before.
bool carry_over(Plan& plan, Plan const* last) {
    if (!plan.coarse || !last) return false;
    Piece before = last->piece;
    before.former = plan.piece.former;
    before.slab = plan.piece.slab;
    if (before != plan.piece) return false;
    plan.laid = last->laid;
    plan.features = last->features;
    plan.zone = last->zone;
    plan.stack = last->stack;
    plan.leaves = last->leaves;
    return true;
}

bool is_cancelled(PlanOptions const& options) { return options.task && options.task->cancelled(); }

Problem cancelled() { return {"cancelled", "", "the plan was not worked out to its end", "", ProblemKind::refusal}; }

} // namespace

struct Planner::Memory {
    std::shared_ptr<Plan const> last;
    OverlapEngine overlap;
    StackEngine stack;
    SizeKeeper size;
    DrapeEngine drape;
};

Planner::Planner() : memory_(std::make_unique<Memory>()) {}
Planner::~Planner() = default;
Planner::Planner(Planner&&) noexcept = default;
Planner& Planner::operator=(Planner&&) noexcept = default;

Outcome<std::shared_ptr<Plan const>> Planner::plan(Piece const& piece, PlanOptions const& options) {
    Plan const* const last = memory_->last.get();
    if (last && last->piece == piece && (options.coarse_slab || !last->coarse)) return memory_->last;
    if (MaybeProblem problem = check_values(piece)) return *problem;

    auto plan = std::make_shared<Plan>();
    plan->piece = piece;
    if (MaybeProblem problem = plan_former(*plan, last)) return *problem;
    if (MaybeProblem problem = plan_patterns(*plan, last)) return *problem;
    if (MaybeProblem problem = plan_slab_and_face(*plan, last, memory_->drape, options)) return *problem;
    if (is_cancelled(options)) return cancelled();
    if (!carry_over(*plan, last)) {
        plan_laid_leaves(*plan, last);
        if (is_cancelled(options)) return cancelled();
        plan_what_lies_on_it(*plan, last);
    }
    plan->clay = clay_answer(*plan);
    Vec3 const size = memory_->size.size_mm(*plan);
    plan->stages = clay_stages(piece.body, piece_volume_mm3(*plan), size.x, size.y, size.z);
    plan->warnings = warnings_of(*plan);
    memory_->last = plan;
    return std::shared_ptr<Plan const>(plan);
}

void Planner::plan_what_lies_on_it(Plan& plan, Plan const* last) {
    plan_features_and_zone(plan, last);
    OverlapFigures overlap;
    std::vector<BareSpot> bare_spots;
    tbb::parallel_invoke(
        [&] {
            overlap = memory_->overlap.update(plan.zone, overlap_leaves(plan));
            bare_spots = bare_spots_of(memory_->overlap.bare_polygons(), *plan.outer_face);
        },
        [&] { plan.stack = memory_->stack.update(*plan.zone.rim, plan.laid, plan.features); });
    plan.leaves = leaves_answer(plan, std::move(overlap));
    plan.leaves.bare_spots = std::move(bare_spots);
    plan.leaves.thick_spots = thick_spots_of(plan);
}

} // namespace leafwright
