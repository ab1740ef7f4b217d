#include "rows/lay_add.h"

#include "base/units.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

namespace leafwright {

namespace {

constexpr double kForbiddenShare = 0.01;
constexpr double kFewCells = 4.0; // in a feature do not matter for a small leaf
constexpr double kThickCost = 0.4;
constexpr double kSpot_mm = 15.0; // round a spot's middle, where all that is bare is looked at
constexpr double kMapReach = 1.7; // of the leaf's own

constexpr std::array kUsualScales{1.0, 0.85, 0.7};
constexpr std::array kSmallScales{0.56, 0.42, 0.31};

// Degrees from pointing outward: as the row does, beside features, and in nooks between them.
constexpr std::array kTurns{-20, -10, 0, 10, 20};
constexpr std::array kWideTurns{-90, -70, -50, -35, -20, -10, 0, 10, 20, 35, 50, 70, 90};
constexpr std::array kAllTurns{-165, -150, -135, -120, -105, -90, -75, -60, -45, -30, -15, 0,
                               15,   30,   45,   60,   75,   90,  105, 120, 135, 150, 165, 180};

constexpr double kTuckedShare = 0.06;
constexpr double kBesideAxis_mm = 15.0; // of a mirrored arrangement: one leaf upright there is tried, too

struct AdditionWays {
    std::span<double const> scales;
    double forbidden_share; // of the leaf's cells, in features
};

struct Addition {
    double score = -1e300;
    LayUnit unit;
    Trial trial;
};

// How leaves of one kind and row are tried over a bare spot, from the spot's middle.
struct Tries {
    double to_row_mm = 0;
    double side_step_mm = 0;
    double out_step_mm = 0;
    int most_out = 0; // steps outward
    int most_in = 0;  // and inward
    std::span<int const> turns;
};

Tries tries_of(LayState const& state, CourseRow const& row, LayUnit const& unit, bool near_feature, bool small) {
    LayKind const& used = state.kind(unit);
    Tries tries;
    tries.to_row_mm = small ? 0.0 : state.field().depth_mm(unit.pose.middle) - row.middle_depth_mm;
    tries.side_step_mm = small ? 3.0 : 0.2 * used.width_mm;
    tries.out_step_mm = small ? 3.0 : 6.0;
    tries.turns = !near_feature ? kTurns : small ? std::span<int const>(kAllTurns) : kWideTurns;
    tries.most_in = near_feature ? 3 : 1;
    tries.most_out = small ? tries.most_in : 2;
    return tries;
}

// A trial and about what it is worth.
struct Prospect {
    double about = 0;
    double cost = 0;
    Trial trial;
};

// Of all that may cover something, the most promising first.
std::vector<Prospect> prospects(TrialDrawer const& drawer, Tries const& tries, AdditionWays const& ways, bool axis) {
    std::vector<Prospect> found;
    for (double const scale : ways.scales) {
        for (int side = -2; side <= 2; ++side) {
            for (int along = -tries.most_out; along <= tries.most_in; ++along) {
                for (int const turn : tries.turns) {
                    if (axis && (side != 0 || (turn != 0 && turn != 180))) continue;
                    double const cost =
                        std::min(0.08 * turn * turn, 120.0) + 4.0 * along * along + 200.0 * (1.0 - scale);
                    Trial const trial{
                        {side * tries.side_step_mm, tries.to_row_mm + tries.out_step_mm * along}, radians(turn), scale};
                    int const bare = drawer.about_bare(trial);
                    if (bare > 0) found.push_back({bare - cost, cost, trial});
                }
            }
        }
    }
    std::ranges::stable_sort(found, std::greater<>(), &Prospect::about);
    return found;
}

LayUnit unit_over(LayState const& state, CourseRow const& row, int kind, BarePatch const& spot, bool paired) {
    LayUnit unit;
    unit.kind = kind;
    unit.row = row.row;
    unit.pose.middle = state.field().surface().from_chart(spot.deepest);
    unit.pose.turn_rad = state.field().outward_turn(unit.pose.middle);
    unit.paired = paired;
    if (!state.stands_on_axis(unit)) return unit;
    unit.pose.middle.azimuth_rad = spot.deepest.y > 0 ? 0.5 * kPi : -0.5 * kPi;
    unit.pose.turn_rad = 0;
    return unit;
}

// Tries leaves of one kind and row over a bare spot.
void try_additions(LayState const& state, CourseRow const& row, int kind, BarePatch const& spot, bool near_feature,
                   AdditionWays const& ways, bool paired, Addition& best) {
    LayUnit const unit = unit_over(state, row, kind, spot, paired);
    LayKind const& used = state.kind(unit);
    Tries const tries = tries_of(state, row, unit, near_feature, ways.scales[0] < 0.6);
    if (std::abs(tries.to_row_mm) > 0.7 * used.length_mm) return;
    TrialDrawer drawer(state, unit, kMapReach * used.reach_mm);
    drawer.list_bare(std::abs(tries.to_row_mm) + tries.out_step_mm * tries.most_in + 2 * tries.side_step_mm +
                         ways.scales[0] * used.reach_mm,
                     kSpot_mm);
    for (Prospect const& prospect : prospects(drawer, tries, ways, state.stands_on_axis(unit))) {
        if (prospect.about + drawer.doubt() <= best.score) return;
        if (near_feature && drawer.meets_feature(prospect.trial, ways.forbidden_share)) continue;
        Tally const tally = drawer.tally(prospect.trial);
        if (tally.forbidden > std::max(kFewCells, ways.forbidden_share * tally.cells) || tally.bare == 0) continue;
        double const score = tally.bare - prospect.cost - kThickCost * tally.thick;
        if (score > best.score) best = {score, unit, prospect.trial};
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
    TrialDrawer const drawer(state, best.unit, kMapReach * state.kind(best.unit).reach_mm);
    LayUnit unit = drawer.moved(best.trial);
    unit.home = unit.pose;
    if (state.grid().tally(unit.spans).bare == 0) return false;
    state.add(std::move(unit));
    return true;
}

} // namespace leafwright
