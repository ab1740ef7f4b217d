#include "rows/lay_mend.h"

#include "base/units.h"
#include "rows/lay_add.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace leafwright {

namespace {

constexpr double kForbiddenShare = 0.01;
constexpr double kForbiddenCost = 4.0; // bare cells that one cell in a feature weighs up
constexpr double kThickCost = 0.4;

// Tries small moves of one lifted leaf and keeps the best.
class Nudger {
public:
    Nudger(LayState const& state, LayUnit const& unit, MendLimits const& limits)
        : state_(&state),
          unit_(&unit),
          limits_(limits),
          drawer_(state, unit, 1.2 * state.kind(unit).reach_mm * unit.pose.scale + limits.move_mm),
          home_chart_(state.field().surface().to_chart(unit.home.middle)),
          now_chart_(state.field().surface().to_chart(unit.pose.middle)) {
        drawer_.list_bare(1.1 * (1 + limits.grow) * state.kind(unit).reach_mm * unit.pose.scale + limits.move_mm, 0);
        double const c = std::cos(unit.pose.turn_rad);
        double const s = std::sin(unit.pose.turn_rad);
        frame_x_ = {c, s};
        frame_y_ = {-s, c};
        double const azimuth = unit.pose.middle.azimuth_rad;
        right_ = {std::sin(azimuth), -std::cos(azimuth)};
        out_ = {std::cos(azimuth), std::sin(azimuth)};
    }

    double score(Trial const& trial) { return score(trial, drawer_.tally(trial)); }

    double score(Trial const& trial, Tally const& tally) const {
        double const over = std::max(0.0, tally.forbidden - kForbiddenShare * tally.cells);
        return tally.bare - kForbiddenCost * over - kThickCost * tally.thick - penalty(trial);
    }

    Trial best() {
        Trial best;
        double best_score = score(best);
        for (double const step : {1.0, 0.5, 0.2}) {
            for (int turn = 0; turn < 4; ++turn) {
                Trial const from = best;
                for (Trial const& trial : around(from, step)) {
                    if (drawer_.most_bare(trial) - penalty(trial) <= best_score + 0.5) continue;
                    double const value = score(trial);
                    if (value <= best_score + 0.5) continue;
                    best_score = value;
                    best = trial;
                }
                if (best.by_mm == from.by_mm && best.turn_rad == from.turn_rad && best.scale == from.scale) break;
            }
        }
        return best;
    }

    LayUnit moved(Trial const& trial) const { return drawer_.moved(trial); }

private:
    std::vector<Trial> around(Trial const& from, double step) const {
        std::vector<Trial> trials;
        auto add = [&](Vec2 const& by, double turn, double scale) {
            trials.push_back({from.by_mm + by, from.turn_rad + turn, from.scale * scale});
        };
        double const move = step * 0.5 * limits_.move_mm;
        double const turn = step * 0.5 * radians(limits_.turn_deg);
        double const grow = 1.0 + step * 0.5 * limits_.grow;
        for (double const way : {-1.0, 1.0}) {
            add({0, way * move}, 0, 1);
            if (state_->stands_on_axis(*unit_)) continue;
            add({way * move, 0}, 0, 1);
            add({0.7 * way * move, 0.7 * move}, 0, 1);
            add({0.7 * way * move, -0.7 * move}, 0, 1);
            add({0, 0}, way * turn, 1);
            add({way * 0.6 * move, 0}, way * turn, 1);
            add({-way * 0.6 * move, 0}, way * turn, 1);
        }
        add({0, 0}, 0, grow);
        add({0, 0}, 0, 1.0 / grow);
        return trials;
    }

    double penalty(Trial const& trial) const {
        Vec2 const local = trial.by_mm.x * frame_x_ + trial.by_mm.y * frame_y_;
        Vec2 const away = now_chart_ + local.x * right_ + local.y * out_ - home_chart_;
        double const move = glm::length(away) / limits_.move_mm;
        double const turn = std::remainder(unit_->pose.turn_rad + trial.turn_rad - unit_->home.turn_rad, kTwoPi) /
                            radians(limits_.turn_deg);
        double const ratio = unit_->pose.scale * trial.scale / unit_->home.scale - 1.0;
        double const size = ratio > 0 ? ratio / limits_.grow : -ratio / limits_.shrink;
        double const beyond = std::max({0.0, move - 1.0, std::abs(turn) - 1.0, size - 1.0});
        return limits_.reluctance * (35.0 * move * move + 35.0 * turn * turn + 45.0 * size * size) + 1e4 * beyond;
    }

    LayState const* state_;
    LayUnit const* unit_;
    MendLimits limits_;
    TrialDrawer drawer_;
    Vec2 home_chart_;
    Vec2 now_chart_;
    Vec2 frame_x_;
    Vec2 frame_y_;
    Vec2 right_;
    Vec2 out_;
};

// Whether the leaf moved.
bool nudge(LayState& state, std::size_t k, MendLimits const& limits) {
    state.lift(k);
    LayUnit const before = state.unit(k);
    Nudger nudger(state, before, limits);
    Trial const best = nudger.best();
    if (best.by_mm == Vec2{0, 0} && best.turn_rad == 0 && best.scale == 1) {
        state.lower(k);
        return false;
    }
    LayUnit after = nudger.moved(best);
    // The drawing of a trial is only nearly right: keep the move if the exact one is better, too.
    double const was = nudger.score({}, state.tally(before));
    double const is = nudger.score(best, state.tally(after));
    if (is <= was) {
        state.lower(k);
        return false;
    }
    state.replace_lifted(k, std::move(after));
    return true;
}

} // namespace

int nudge_round(LayState& state, MendLimits const& limits, Task& task) {
    int const before = state.grid().bare();
    for (std::size_t k = 0; k < state.units().size() && state.grid().bare() > 0; ++k) {
        if (task.cancelled()) break;
        std::uint64_t const print = state.bare_print(state.unit(k), limits.move_mm);
        if (state.unit(k).pinned || print == 0) continue;
        std::uint64_t const here = print + static_cast<std::uint64_t>(1000.0 * limits.reluctance);
        if (state.unit(k).still_print == here) continue;
        if (!nudge(state, k, limits)) state.mark_still(k, here);
    }
    return before - state.grid().bare();
}

namespace {

constexpr std::array kPatient{1.0, 0.4, 0.1};
constexpr std::array kHasty{0.4, 0.1};

void nudge_until_still(LayState& state, std::span<double const> reluctances, Task& task) {
    MendLimits limits;
    for (double const reluctance : reluctances) {
        limits.reluctance = reluctance;
        for (int round = 0; round < 3 && state.grid().bare() > 0; ++round)
            if (nudge_round(state, limits, task) < 3) break;
    }
}

} // namespace

void nudge_until_still(LayState& state, Task& task) { nudge_until_still(state, kHasty, task); }

namespace {

constexpr int kMostAdditions = 150;

} // namespace

// One leaf after another over the larger spots, the largest first. Spots that no leaf helps are passed over; they stay
// so while they stay as they are, since what is bare round them only grows less.
bool Mender::add_leaves(int least_cells, Task& task) {
    bool added = false;
    for (int count = 0; count < kMostAdditions && !task.cancelled(); ++count) {
        bool helped = false;
        for (BarePatch const& spot : state_->grid().bare_spots()) {
            if (spot.cells < least_cells || task.cancelled()) break;
            if (is_hopeless(spot)) continue;
            helped = add_leaf(*state_, rows_, spot);
            if (helped) break;
            hopeless_.emplace_back(spot.cells, spot.deepest);
        }
        if (!helped) break;
        added = true;
    }
    return added;
}

bool Mender::is_hopeless(BarePatch const& spot) const {
    return std::ranges::find(hopeless_, Seen{spot.cells, spot.deepest}) != hopeless_.end();
}

void Mender::close(int least_cells, Task& task) {
    if (state_->grid().bare() == 0 || task.cancelled()) return;
    if (add_leaves(least_cells, task)) nudge_until_still(*state_, kPatient, task);
}

void Mender::close_large(Task& task) {
    nudge_until_still(*state_, kPatient, task);
    close(120, task);
    close(40, task);
}

void Mender::close_all(Task& task) {
    // What is left of large spots may have gone away by moving neighbours.
    close(12, task);
    close(1, task);
    if (state_->grid().bare() > 0) add_leaves(1, task);
}

double Mender::promise() const {
    std::vector<BarePatch> spots = state_->grid().bare_spots();
    double hopeless = 0;
    for (BarePatch const& spot : spots) hopeless += is_hopeless(spot) ? spot.cells : 0;
    std::erase_if(spots, [&](BarePatch const& spot) { return is_hopeless(spot); });
    return state_->leaf_count() + mending_leaves(spots) + kBareCost * hopeless;
}

void mend(LayState& state, std::span<CourseRow const> rows, Task& task) {
    Mender mender(state, rows);
    mender.close_large(task);
    mender.close_all(task);
}

// Leaves with more than that of their own, in cells, are not tried.
constexpr int kPruneOwn = 220;

void prune(LayState& state, Task& task) {
    for (int round = 0; round < 400; ++round) {
        if (task.cancelled()) return;
        std::size_t idle = state.units().size();
        for (std::size_t k = state.units().size(); k-- > 0;) {
            if (state.unit(k).pinned || state.unit(k).regular || state.grid().own(state.unit(k).spans) > 0) continue;
            idle = k;
            break;
        }
        if (idle == state.units().size()) break;
        state.erase(idle);
    }
    int const target = state.grid().bare();
    std::vector<std::pair<int, Pose>> order;
    for (LayUnit const& unit : state.units())
        if (!unit.pinned && !unit.regular)
            order.emplace_back(state.grid().own(unit.spans) / (unit.paired ? 2 : 1), unit.pose);
    std::stable_sort(order.begin(), order.end(), [](auto const& a, auto const& b) { return a.first < b.first; });
    for (auto const& [own, pose] : order) {
        if (own > kPruneOwn || task.cancelled()) break;
        LayState trial = state;
        std::size_t found = trial.units().size();
        for (std::size_t k = 0; k < trial.units().size(); ++k) {
            Pose const& p = trial.unit(k).pose;
            if (p.middle == pose.middle && p.turn_rad == pose.turn_rad) found = k;
        }
        if (found == trial.units().size()) continue;
        trial.erase(found);
        nudge_until_still(trial, kHasty, task);
        if (trial.grid().bare() <= target) state = std::move(trial);
    }
}

} // namespace leafwright
