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

// Leaves that a bare cell will cost when it is mended: a mending leaf covers about a fifth of its area anew.
double estimated_leaves(LayState const& state) {
    LayScene const& scene = state.scene();
    double const length = scene.mean_length_mm(2);
    double const free_cells = 0.006 * scene.empty.zone_cells();
    return state.leaf_count() + std::max(0.0, state.grid().bare() - free_cells) / (0.1 * 0.6 * length * length * 0.6);
}

Proposal propose(LayState const& pinned, CoursePlan const& plan) {
    Proposal proposal{plan, pinned, {}, 0};
    proposal.rows = lay_courses(proposal.state, plan);
    proposal.cost = estimated_leaves(proposal.state);
    return proposal;
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
    Proposal best = propose(pinned, {});
    if (task.cancelled()) return cancelled();
    mend(best.state, best.rows, task);
    prune(best.state, task);
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
