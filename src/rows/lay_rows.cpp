#include "rows/lay_rows.h"

#include "base/units.h"
#include "rows/lay_mend.h"
#include "rows/lay_scene.h"
#include "rows/overlap.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace leafwright {

namespace {

Problem cancelled() { return {"cancelled", "rows", "was stopped before the rows were laid", "", ProblemKind::refusal}; }

struct Proposal {
    CoursePlan plan;
    LayState state;
    std::vector<CourseRow> rows;
    double cost = 0;
};

// Row 1 as far out as the rule says, or a little further where that saves leaves.
Proposal first_rows(LayState const& pinned) {
    Proposal best{{}, pinned, {}, 1e300};
    for (double const reach_out : {0.0, 3.0, 6.0, 10.0, 15.0, 20.0}) {
        Proposal proposal{{0, reach_out}, pinned, {}, 0};
        proposal.rows = plan_courses(pinned.scene(), proposal.plan);
        lay_first_course(proposal.state, proposal.rows);
        double const closed = proposal.rows.size() > 1 ? proposal.rows[1].tip_depth_mm : 1e9;
        proposal.cost = proposal.state.leaf_count() + 0.5 * reach_out + 0.5 * std::max(0.0, reach_out - 6.0) +
                        mending_leaves(pinned.scene().spots_above(proposal.state.grid(), closed));
        if (proposal.cost < best.cost) best = std::move(proposal);
    }
    return best;
}

// The number of rows that the head lap asks for, or more where that leaves less to mend.
Proposal all_rows(LayState const& pinned) {
    Proposal const first = first_rows(pinned);
    Proposal best{{}, pinned, {}, 1e300};
    for (int extra = 0; extra <= 2; ++extra) {
        Proposal proposal = first;
        proposal.plan.extra_rows = extra;
        proposal.rows = plan_courses(pinned.scene(), proposal.plan);
        lay_further_courses(proposal.state, proposal.rows);
        proposal.cost = proposal.state.leaf_count() + mending_leaves(proposal.state.grid().bare_spots());
        if (getenv("LAYDBG")) fprintf(stderr, "extra %d: leaves %d, cost %.1f, bare %d\n", extra, proposal.state.leaf_count(), proposal.cost, proposal.state.grid().bare());
        if (proposal.cost < best.cost) best = std::move(proposal);
    }
    return best;
}

// The same arrangement in another scene: leaves drawn with that scene's outlines.
LayState redrawn(LayState const& state, LayScene const& scene) {
    LayState out(scene);
    for (LayUnit unit : state.units()) {
        out.draw(unit);
        out.add(std::move(unit));
    }
    return out;
}

struct OrderedLeaf {
    LeafPlacement placement;
    double key = 0; // from straight down: up both sides when mirrored, else once round
    bool image = false;
};

double order_key(double azimuth_deg, bool mirror) {
    if (mirror) return std::abs(std::remainder(azimuth_deg + 90.0, 360.0));
    double const turned = azimuth_deg + 95.0;
    return turned - 360.0 * std::floor(turned / 360.0);
}

std::vector<LeafPlacement> ordered_leaves(LayState const& state, LayRequest const& request) {
    std::vector<OrderedLeaf> ordered;
    for (LayUnit const& unit : state.units()) {
        for (int image = 0; image < (unit.paired ? 2 : 1); ++image) {
            OrderedLeaf leaf{placement_of(state.scene(), unit, image == 1), 0, image == 1};
            leaf.key = order_key(degrees(unit.pose.middle.azimuth_rad), request.rules.mirror);
            if (!unit.paired || !request.rules.mirror)
                leaf.key = order_key(leaf.placement.azimuth_deg, request.rules.mirror);
            ordered.push_back(std::move(leaf));
        }
    }
    std::stable_sort(ordered.begin(), ordered.end(), [](OrderedLeaf const& a, OrderedLeaf const& b) {
        if (a.placement.row != b.placement.row) return a.placement.row < b.placement.row;
        return a.key < b.key;
    });
    std::set<int> taken;
    for (LeafPlacement const& pinned : request.pinned) taken.insert(pinned.id);
    int next = 1;
    std::vector<LeafPlacement> leaves;
    for (OrderedLeaf& leaf : ordered) {
        if (!leaf.placement.pinned) {
            while (taken.count(next) != 0) ++next;
            leaf.placement.id = next++;
        }
        leaves.push_back(std::move(leaf.placement));
    }
    // Pinned leaves come back exactly as they were given.
    for (LeafPlacement& leaf : leaves)
        for (LeafPlacement const& pinned : request.pinned)
            if (leaf.pinned && pinned.id == leaf.id) leaf = pinned;
    return leaves;
}

double exact_bare_mm2(LayRequest const& request, std::vector<LeafPlacement> const& leaves) {
    CladZone zone;
    zone.rim = std::make_shared<Ring>(request.surface->rim_chart(720));
    for (Feature const& feature : request.features)
        zone.keep_clear.push_back(std::make_shared<Ring>(lay_feature(*request.surface, feature).chart));
    std::vector<OverlapLeaf> laid;
    for (LeafPlacement const& leaf : leaves) {
        for (LeafPattern const& pattern : request.patterns) {
            if (pattern.spec.id != leaf.kind) continue;
            laid.push_back({leaf.id, std::make_shared<Polygon>(lay_leaf(*request.surface, pattern, leaf).chart)});
            break;
        }
    }
    OverlapEngine engine;
    return engine.update(zone, laid).bare_mm2;
}

} // namespace

Outcome<LayResult> lay_rows(LayRequest const& request, Task& task) {
    if (MaybeProblem problem = check_request(request)) return *problem;
    LayScene const scene = make_scene(request, kUsualInset_mm);
    LayState const pinned = pinned_state(scene, request);
    Proposal best = all_rows(pinned);
    if (task.cancelled()) return cancelled();
    if (getenv("LAYDBG")) fprintf(stderr, "plan: extra %d, out %.0f, leaves %d, bare %d\n", best.plan.extra_rows, best.plan.reach_out_mm, best.state.leaf_count(), best.state.grid().bare());
    if (!getenv("NOMEND")) mend(best.state, best.rows, task);
    if (getenv("LAYDBG")) fprintf(stderr, "mended: leaves %d, bare %d\n", best.state.leaf_count(), best.state.grid().bare());
    if (!getenv("NOMEND")) prune(best.state, task);
    if (task.cancelled()) return cancelled();
    LayResult result;
    result.leaves = ordered_leaves(best.state, request);
    result.bare_mm2 = exact_bare_mm2(request, result.leaves);
    for (LeafPlacement const& leaf : result.leaves) result.rows = std::max(result.rows, leaf.row);
    (void)redrawn;
    task.progress(1);
    return result;
}

} // namespace leafwright
