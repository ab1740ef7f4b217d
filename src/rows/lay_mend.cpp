#include "rows/lay_mend.h"

#include "base/units.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace leafwright {

namespace {

constexpr double kForbiddenShare = 0.01;
constexpr double kFewCells = 4.0;      // in a feature do not matter for a small leaf
constexpr double kForbiddenCost = 4.0; // bare cells that one cell in a feature weighs up
constexpr double kThickCost = 0.4;

bool on_axis(LayState const& state, LayUnit const& unit) { return state.scene().mirror && !unit.paired; }

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
        auto add = [&](Vec2 by, double turn, double scale) {
            trials.push_back({from.by_mm + by, from.turn_rad + turn, from.scale * scale});
        };
        double const move = step * 0.5 * limits_.move_mm;
        double const turn = step * 0.5 * radians(limits_.turn_deg);
        double const grow = 1.0 + step * 0.5 * limits_.grow;
        for (double const way : {-1.0, 1.0}) {
            add({0, way * move}, 0, 1);
            if (on_axis(*state_, *unit_)) continue;
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

constexpr std::array kUsualScales{1.0, 0.85, 0.7};
constexpr std::array kSmallScales{0.56, 0.42, 0.31};

// Degrees from pointing outward: as the row does, beside features, and in nooks between them.
constexpr std::array kTurns{-20, -10, 0, 10, 20};
constexpr std::array kWideTurns{-90, -70, -50, -35, -20, -10, 0, 10, 20, 35, 50, 70, 90};
constexpr std::array kAllTurns{-165, -150, -135, -120, -105, -90, -75, -60, -45, -30, -15, 0,
                               15,   30,   45,   60,   75,   90,  105, 120, 135, 150, 165, 180};

constexpr double kTuckedShare = 0.06;
constexpr double kBesideAxis_mm = 3.0; // of a mirrored arrangement: one leaf upright there is tried, too

struct AdditionWays {
    std::span<double const> scales;
    double forbidden_share; // of the leaf's cells, in features
};

struct Addition {
    double score = -1e300;
    LayUnit unit;
    Trial trial;
};

// Tries leaves of one kind and row over a bare spot.
void try_additions(LayState const& state, CourseRow const& row, int kind, BarePatch const& spot, bool near_feature,
                   AdditionWays const& ways, bool paired, Addition& best) {
    LayUnit unit;
    unit.kind = kind;
    unit.row = row.row;
    unit.pose.middle = state.field().surface().from_chart(spot.deepest);
    unit.pose.turn_rad = state.field().outward_turn(unit.pose.middle);
    unit.paired = paired;
    bool const axis = on_axis(state, unit);
    if (axis) unit.pose.middle.azimuth_rad = spot.deepest.y > 0 ? 0.5 * kPi : -0.5 * kPi;
    if (axis) unit.pose.turn_rad = 0;
    LayKind const& used = state.kind(unit);
    TrialDrawer drawer(state, unit, 1.7 * used.reach_mm);
    bool const small = ways.scales[0] < 0.6;
    double const to_row = small ? 0.0 : state.field().depth_mm(unit.pose.middle) - row.middle_depth_mm;
    if (std::abs(to_row) > 0.7 * used.length_mm) return;
    double const side_step = small ? 3.0 : 0.2 * used.width_mm;
    double const out_step = small ? 3.0 : 6.0;
    std::span<int const> const turns = !near_feature ? kTurns : small ? std::span<int const>(kAllTurns) : kWideTurns;
    int const most_in = near_feature ? 3 : 1;
    // No leaf covers more than all that is bare (a pair drawn as two may count it twice).
    double const most_bare = (paired && !state.symmetric() ? 2.0 : 1.0) * state.grid().bare();
    for (double const scale : ways.scales) {
        for (int side = -2; side <= 2; ++side) {
            for (int along = small ? -most_in : -2; along <= most_in; ++along) {
                for (int const turn : turns) {
                    if (axis && (side != 0 || (turn != 0 && turn != 180))) continue;
                    double const cost =
                        std::min(0.08 * turn * turn, 120.0) + 4.0 * along * along + 200.0 * (1.0 - scale);
                    if (most_bare - cost <= best.score) continue;
                    Trial const trial{{side * side_step, to_row + out_step * along}, radians(turn), scale};
                    if (near_feature && drawer.meets_feature(trial)) continue;
                    Tally const tally = drawer.tally(trial);
                    if (tally.forbidden > std::max(kFewCells, ways.forbidden_share * tally.cells) || tally.bare == 0)
                        continue;
                    double const score = tally.bare - cost - kThickCost * tally.thick;
                    if (score > best.score) best = {score, unit, trial};
                }
            }
        }
    }
}

bool near_feature(LayState const& state, BarePatch const& spot, double reach) {
    for (int k = 0; k < 16; ++k) {
        Vec2 const way{std::cos(kTwoPi * k / 16), std::sin(kTwoPi * k / 16)};
        for (double r = 0; r <= reach; r += 6.0)
            if (state.grid().is_forbidden(spot.deepest + r * way)) return true;
    }
    return false;
}

} // namespace

bool add_leaf(LayState& state, std::span<CourseRow const> rows, BarePatch const& spot) {
    Spot const at = state.field().surface().from_chart(spot.deepest);
    double const depth = state.field().depth_mm(at);
    std::vector<CourseRow> nearest(rows.begin(), rows.end());
    std::stable_sort(nearest.begin(), nearest.end(), [&](CourseRow const& a, CourseRow const& b) {
        return std::abs(a.middle_depth_mm - depth) < std::abs(b.middle_depth_mm - depth);
    });
    if (nearest.size() > 2) nearest.resize(2);
    bool const beside_axis = state.scene().mirror && std::abs(spot.deepest.x) < kBesideAxis_mm;
    Addition best;
    // Small leaves only where no larger one fits, and a little further under a feature only where no small one does.
    for (AdditionWays const& ways :
         {AdditionWays{kUsualScales, kForbiddenShare}, AdditionWays{kSmallScales, kForbiddenShare},
          AdditionWays{kSmallScales, kTuckedShare}}) {
        for (CourseRow const& row : nearest) {
            if (ways.scales[0] < 0.6 && &row != &nearest[0]) break;
            bool const beside = near_feature(state, spot, 0.6 * state.scene().mean_length_mm(row.row));
            for (int const kind : state.scene().kinds_of(row.row)) {
                try_additions(state, row, kind, spot, beside, ways, state.scene().mirror, best);
                if (beside_axis) try_additions(state, row, kind, spot, beside, ways, false, best);
            }
        }
        if (best.score > -1e299) break;
    }
    if (best.score < -1e299) return false;
    TrialDrawer const drawer(state, best.unit, 1.7 * state.kind(best.unit).reach_mm);
    LayUnit unit = drawer.moved(best.trial);
    unit.home = unit.pose;
    if (state.grid().tally(unit.spans).bare == 0) return false;
    state.add(std::move(unit));
    return true;
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

// One leaf after another over the larger spots, the largest first. Spots that no leaf helps are passed over.
bool add_leaves(LayState& state, std::span<CourseRow const> rows, int least_cells, Task& task) {
    bool added = false;
    for (int count = 0; count < kMostAdditions && !task.cancelled(); ++count) {
        std::vector<BarePatch> const spots = state.grid().bare_spots();
        bool helped = false;
        for (BarePatch const& spot : spots) {
            if (spot.cells < least_cells || task.cancelled()) break;
            helped = add_leaf(state, rows, spot);
            if (helped) break;
        }
        if (!helped) break;
        added = true;
    }
    return added;
}

} // namespace

void mend(LayState& state, std::span<CourseRow const> rows, Task& task) {
    nudge_until_still(state, kPatient, task);
    // Large spots first; what is left of them may go away by moving neighbours.
    for (int const least_cells : {120, 40, 12, 1}) {
        if (state.grid().bare() == 0 || task.cancelled()) return;
        if (add_leaves(state, rows, least_cells, task)) nudge_until_still(state, kPatient, task);
    }
    if (state.grid().bare() > 0) add_leaves(state, rows, 1, task);
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
