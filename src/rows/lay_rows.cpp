#include "rows/lay_rows.h"

#include "rows/lay_mend.h"
#include "rows/lay_scene.h"
#include "rows/lay_seen.h"

#include <algorithm>
#include <tbb/parallel_for.h>

namespace leafwright {

namespace {

// Bare clay that the grid did not see is looked for again with leaves drawn still smaller.
constexpr double kCarefulInset_mm = 0.8;
constexpr double kSpeck_mm2 = 0.5;

Problem cancelled() { return {"cancelled", "rows", "was stopped before the rows were laid", "", ProblemKind::refusal}; }

// The same arrangement in another scene: leaves drawn with that scene's outlines.
LayState redrawn(LayState const& state, LayState const& pinned, LayScene const& scene) {
    LayState out(scene);
    for (LayUnit unit : state.units()) {
        out.draw(unit);
        out.add(std::move(unit));
    }
    if (pinned.symmetric()) out.keep_symmetric();
    return out;
}

LayResult result_of(LayRequest const& request, LayState const& state) {
    LayResult result;
    result.leaves = ordered_leaves(state, request);
    result.bare_mm2 = exact_bare_mm2(request, result.leaves);
    return result;
}

// Bare clay counts first, then leaves; places more than five leaves deep count a little.
double fault_of(LayState const& state) {
    return kBareCost * state.grid().bare() + state.leaf_count() + state.grid().deep_cells() / 150.0;
}

Proposal& best_of(std::vector<Proposal>& proposals) {
    return *std::min_element(proposals.begin(), proposals.end(), [](Proposal const& a, Proposal const& b) {
        return fault_of(a.state) < fault_of(b.state);
    });
}

// Side by side; what falls far behind after the first step is given up.
void mend_all(std::vector<Proposal>& proposals, Task& task) {
    constexpr double kFarBehind = 40; // leaves
    std::vector<Mender> menders;
    for (Proposal& proposal : proposals) menders.emplace_back(proposal.state, proposal.rows);
    tbb::parallel_for(std::size_t{0}, menders.size(), [&](std::size_t k) { menders[k].close_large(task); });
    task.progress(0.5);
    std::vector<double> promises;
    for (Mender const& mender : menders) promises.push_back(mender.promise());
    double const best = *std::ranges::min_element(promises);
    tbb::parallel_for(std::size_t{0}, menders.size(), [&](std::size_t k) {
        if (promises[k] > best + kFarBehind) return;
        menders[k].close_all(task);
        task.progress(0.7);
        prune(proposals[k].state, task);
    });
}

} // namespace

Outcome<LayResult> lay_rows(LayRequest const& request, Task& task) {
    if (MaybeProblem problem = check_request(request)) return *problem;
    LayScene const scene = make_scene(request, kUsualInset_mm);
    LayState const pinned = pinned_state(scene, request);
    task.progress(0.05);
    std::vector<Proposal> proposals = propose_rows(pinned, task);
    task.progress(0.3);
    mend_all(proposals, task);
    if (task.cancelled()) return cancelled();
    Proposal& proposal = best_of(proposals);
    task.progress(0.8);
    LapMeter meter(scene, request);
    bring_to_light(proposal.state, proposal.rows, meter, task);
    if (task.cancelled()) return cancelled();
    task.progress(0.9);
    LayResult result = result_of(request, proposal.state);
    LayScene const careful = result.bare_mm2 > kSpeck_mm2 ? make_scene(request, kCarefulInset_mm) : scene;
    SeenLaps laps = meter.measure(proposal.state);
    if (result.bare_mm2 > kSpeck_mm2) {
        LayState polished = redrawn(proposal.state, pinned, careful);
        mend(polished, proposal.rows, task);
        bring_to_light(polished, proposal.rows, meter, task);
        if (task.cancelled()) return cancelled();
        LayResult again = result_of(request, polished);
        if (again.bare_mm2 < result.bare_mm2) {
            result = std::move(again);
            laps = meter.measure(polished);
        }
    }
    for (LeafPlacement const& leaf : result.leaves) result.rows = std::max(result.rows, leaf.row);
    result.remarks = rule_remarks(scene, proposal, result.leaves, result.bare_mm2);
    append_lap_remarks(scene, laps, result.remarks);
    task.progress(1);
    return result;
}

} // namespace leafwright
