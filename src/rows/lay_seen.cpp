#include "rows/lay_seen.h"

#include "base/units.h"
#include "rows/lay_add.h"
#include "rows/lay_mend.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kRimPoints = 720;
constexpr int kMostTries = 60; // of leaves, one after another
constexpr std::size_t kMostWays = 16;
constexpr double kLapTolerance = 0.005;
constexpr double kGain = 0.004;     // less is not worth a change
constexpr int kFewBare = 60;        // cells that neighbours may close by moving
constexpr double kPairCells = 30.0; // overlap that counts as covering, mm2

double limit_of(LayScene const& scene, int row) { return scene.rule(row).least_exposed; }

// A little more than the rule is striven for, so that what just fails it is worth a change.
double aim_of(LayScene const& scene, int row) {
    double const limit = limit_of(scene, row);
    return limit > 0 ? limit + 0.01 : 0.0;
}

} // namespace

int SeenLaps::hidden() const {
    int sum = 0;
    for (Row const& row : rows) sum += row.hidden;
    return sum;
}

double SeenLaps::lap_deficit() const {
    double sum = 0;
    for (Row const& row : rows) sum += row.deficit;
    return sum;
}

LapMeter::LapMeter(LayScene const& scene, LayRequest const& request) : scene_(&scene) {
    ClaySurface const& surface = scene.field.surface();
    zone_.rim = std::make_shared<Ring>(surface.rim_chart(kRimPoints));
    for (Feature const& feature : request.features)
        zone_.keep_clear.push_back(std::make_shared<Ring>(lay_feature(surface, feature).chart));
}

LapMeter::Known const& LapMeter::laid(LayUnit const& unit, bool image, int copy) {
    Pose const pose = image ? mirrored(unit.pose) : unit.pose;
    Key const key{
        static_cast<double>(unit.kind), pose.middle.azimuth_rad,  pose.middle.from_crown_mm, pose.turn_rad, pose.scale,
        pose.flipped ? 1.0 : 0.0,       static_cast<double>(copy)};
    auto const found = known_.find(key);
    if (found != known_.end()) return found->second;
    LeafPattern const& pattern = *scene_->kinds[static_cast<std::size_t>(unit.kind)].pattern;
    LeafPlacement const placement = placement_of(*scene_, unit, image);
    Known made{std::make_shared<Polygon>(lay_leaf(scene_->field.surface(), pattern, placement).chart),
               static_cast<int>(known_.size()) + 1};
    return known_.emplace(key, std::move(made)).first->second;
}

namespace {

void sum_up_row(LayScene const& scene, SeenLaps::Row& row, double area, double exposed, bool innermost) {
    RowRule const& rule = scene.rule(row.row);
    row.lap = area > 0 ? 1.0 - exposed / area : 0.0;
    row.deficit = std::max(0.0, row.lap - rule.most_lap);
    if (!innermost) row.deficit = std::max(row.deficit, rule.least_lap - row.lap);
}

} // namespace

SeenLaps LapMeter::measure(LayState const& state) {
    std::vector<OrderedLeaf> const order = leaves_in_order(state);
    std::vector<OverlapLeaf> leaves;
    std::map<int, int> copies;
    std::map<int, std::size_t> place_of;
    for (OrderedLeaf const& leaf : order) {
        LayUnit const& unit = state.unit(leaf.unit);
        // The image comes second: both have the same key in the order.
        bool const image = unit.paired && leaf.placement.flipped != unit.pose.flipped;
        int copy = 0;
        while (place_of.contains(laid(unit, image, copy).id)) ++copy;
        Known const& known = laid(unit, image, copy);
        place_of[known.id] = leaves.size();
        leaves.push_back({known.id, known.chart});
    }
    OverlapFigures const& figures = engine_.update(zone_, leaves);

    SeenLaps laps;
    laps.bare_mm2 = figures.bare_mm2;
    laps.seen.assign(state.units().size(), 1.0);
    laps.covering.assign(state.units().size(), 0.0);
    laps.coverers.resize(state.units().size());
    std::map<int, std::pair<double, double>> sums; // area and exposed area by row
    std::map<int, SeenLaps::Row> rows;
    for (std::size_t k = 0; k < order.size(); ++k) {
        OverlapOfLeaf const& leaf = figures.leaves[k];
        LayUnit const& unit = state.unit(order[k].unit);
        double const seen = leaf.area_mm2 > 0 ? leaf.exposed_mm2 / leaf.area_mm2 : 1.0;
        laps.seen[order[k].unit] = std::min(laps.seen[order[k].unit], seen);
        SeenLaps::Row& row = rows[unit.row];
        row.row = unit.row;
        ++row.leaves;
        sums[unit.row].first += leaf.area_mm2;
        sums[unit.row].second += leaf.exposed_mm2;
        if (unit.pinned) continue;
        row.least_seen = std::min(row.least_seen, seen);
        laps.hidden_share += std::max(0.0, aim_of(*scene_, unit.row) - seen);
        if (seen < limit_of(*scene_, unit.row) - 1e-9) ++row.hidden;
    }
    for (OverlapPair const& pair : figures.pairs) {
        if (pair.area_mm2 < kPairCells) continue;
        std::size_t const lower = order[place_of[pair.lower]].unit;
        laps.coverers[lower].emplace_back(pair.area_mm2, order[place_of[pair.upper]].unit);
        double& covering = laps.covering[lower];
        covering = std::max(covering, static_cast<double>(state.unit(order[place_of[pair.upper]].unit).row));
    }
    for (auto& [number, row] : rows) {
        sum_up_row(*scene_, row, sums[number].first, sums[number].second, number == rows.rbegin()->first);
        laps.rows.push_back(row);
    }
    return laps;
}

namespace {

class Lighter {
public:
    Lighter(LayState& state, std::span<CourseRow const> rows, LapMeter& meter, Task& task)
        : state_(&state),
          rows_(rows),
          meter_(&meter),
          task_(&task),
          now_(meter.measure(state)),
          target_(state.grid().bare()) {}

    void run() {
        std::vector<Pose> hopeless;
        bool helped = false;
        for (int tries = 0; tries < kMostTries && !task_->cancelled(); ++tries) {
            std::size_t const k = worst(hopeless);
            if (k == state_->units().size()) {
                // What did not help before may help now.
                if (!helped || hopeless.empty()) return;
                hopeless.clear();
                helped = false;
                continue;
            }
            Pose const pose = state_->unit(k).pose;
            if (lay_later(k) || take_out(k) || join_pair(k) || resettle(k, false) || resettle(k, true) ||
                replace({k}, true) || uncover(k) || replace({k}, false) || replace_with_coverer(k))
                helped = true;
            else
                hopeless.push_back(pose);
        }
    }

private:
    std::size_t worst(std::vector<Pose> const& hopeless) const {
        std::size_t found = state_->units().size();
        double most = 1e-9;
        for (std::size_t k = 0; k < state_->units().size(); ++k) {
            LayUnit const& unit = state_->unit(k);
            double const wanting = aim_of(state_->scene(), unit.row) - now_.seen[k];
            if (unit.pinned || wanting <= most) continue;
            if (std::ranges::any_of(hopeless, [&](Pose const& p) {
                    return p.middle == unit.pose.middle && p.turn_rad == unit.pose.turn_rad;
                }))
                continue;
            most = wanting;
            found = k;
        }
        return found;
    }

    bool accept(LayState&& trial, double price) {
        SeenLaps laps = meter_->measure(trial);
        if (laps.bare_mm2 > now_.bare_mm2 + 0.01 && laps.bare_mm2 > 0.5) return false;
        if (laps.hidden_share + 0.5 * laps.lap_deficit() + price > now_.hidden_share + 0.5 * now_.lap_deficit() - kGain)
            return false;
        *state_ = std::move(trial);
        now_ = std::move(laps);
        return true;
    }

    bool take_out(std::size_t k) {
        LayState trial = *state_;
        trial.erase(k);
        if (trial.grid().bare() > target_) nudge_until_still(trial, *task_);
        return trial.grid().bare() <= target_ && accept(std::move(trial), -kGain);
    }

    // What lies on it goes, or goes aside.
    bool uncover(std::size_t k) {
        auto coverers = now_.coverers[k];
        std::ranges::sort(coverers, std::greater<>());
        for (std::size_t i = 0; i < std::min<std::size_t>(coverers.size(), 3); ++i) {
            std::size_t const other = coverers[i].second;
            if (other == k || state_->unit(other).pinned) continue;
            if (take_out(other) || resettle(other, false)) return true;
        }
        return false;
    }

    // Instead of a pair that lies on itself one leaf, upright between them.
    bool join_pair(std::size_t k) {
        LayUnit unit = state_->unit(k);
        if (!unit.paired || !state_->scene().mirror) return false;
        double const sine = std::sin(unit.pose.middle.azimuth_rad);
        if (std::abs(sine) < 0.5 ||
            std::ranges::none_of(now_.coverers[k], [&](auto const& c) { return c.second == k; }))
            return false;
        unit.paired = false;
        unit.pose.flipped = false;
        unit.pose.middle.azimuth_rad = sine > 0 ? 0.5 * kPi : -0.5 * kPi;
        unit.pose.turn_rad = std::cos(unit.pose.turn_rad) > 0 ? 0.0 : kPi;
        LayState trial = *state_;
        trial.lift(k);
        TrialDrawer const drawer(trial, unit, 1.5 * trial.kind(unit).reach_mm * unit.pose.scale + 20);
        for (double const scale : {1.0, 1.15, 1.35, 0.85}) {
            for (double const out : {0.0, 4.0, -4.0, 8.0, -8.0, 14.0, -14.0}) {
                LayUnit single = drawer.moved({{0, out}, 0, scale});
                single.home = single.pose;
                if (Tally const tally = trial.tally(single); tally.forbidden > 0.01 * tally.cells) continue;
                LayState with = trial;
                with.replace_lifted(k, std::move(single));
                if (with.grid().bare() > target_ + kFewBare) continue;
                if (with.grid().bare() > target_) nudge_until_still(with, *task_);
                if (with.grid().bare() <= target_ && accept(std::move(with), 0)) return true;
            }
        }
        return false;
    }

    // Other leaves instead, over all that lies there or in their rows.
    bool replace(std::vector<std::size_t> units, bool on_top) {
        LayState trial = *state_;
        std::ranges::sort(units, std::greater<>());
        for (std::size_t const k : units) trial.erase(k);
        nudge_until_still(trial, *task_);
        for (std::size_t added = 0; added <= units.size() && trial.grid().bare() > target_; ++added) {
            std::vector<BarePatch> const spots = trial.grid().bare_spots();
            if (spots.empty() || !add_leaf(trial, rows_, spots.front())) return false;
            if (on_top) lay_last(trial);
        }
        return trial.grid().bare() <= target_ && accept(std::move(trial), 0);
    }

    void lay_last(LayState& trial) const {
        std::size_t const last = trial.units().size() - 1;
        trial.lift(last);
        LayUnit unit = trial.unit(last);
        unit.late = 1;
        unit.row = std::min(unit.row + 1, rows_.back().row);
        trial.replace_lifted(last, std::move(unit));
    }

    // It and the leaf that lies most on it, both anew.
    bool replace_with_coverer(std::size_t k) {
        auto const& coverers = now_.coverers[k];
        auto const most = std::ranges::max_element(coverers);
        if (most == coverers.end() || most->second == k || state_->unit(most->second).pinned) return false;
        return replace({k, most->second}, false) || replace({k, most->second}, true);
    }

    LayUnit raised(std::size_t k) const {
        LayUnit unit = state_->unit(k);
        unit.row = std::max(unit.row, static_cast<int>(now_.covering[k]));
        unit.late = 1;
        for (auto const& [area, other] : now_.coverers[k])
            if (LayUnit const& over = state_->unit(other); over.row == unit.row)
                unit.late = std::max(unit.late, over.late + 1);
        return unit;
    }

    bool lay_later(std::size_t k) {
        LayState trial = *state_;
        trial.lift(k);
        trial.replace_lifted(k, raised(k));
        return accept(std::move(trial), 0);
    }

    // A leaf does not come to light by being pushed off the rim.
    bool lies_on_slab(LayUnit const& now, LayUnit const& before) const {
        RowField const& field = state_->field();
        double const enough = 0.3 * state_->kind(now).length_mm * now.pose.scale;
        return field.depth_mm(now.pose.middle) >= std::min(field.depth_mm(before.pose.middle), enough) - 0.5;
    }

    // Moved a little, or smaller, covering all that it alone has to cover: as it lies, or on top.
    bool resettle(std::size_t k, bool on_top) {
        LayState trial = *state_;
        trial.lift(k);
        LayUnit const unit = on_top ? raised(k) : state_->unit(k);
        int const own = trial.tally(unit).bare;
        TrialDrawer drawer(trial, unit, 1.5 * trial.kind(unit).reach_mm * unit.pose.scale + 20);
        bool const upright = trial.scene().mirror && !unit.paired;
        std::vector<std::pair<double, Trial>> ways; // by how much they change
        for (double const scale : {1.0, 0.85, 0.7, 0.55}) {
            if (scale * unit.pose.scale < 0.35) continue;
            for (int out = -3; out <= 3; ++out)
                for (int side = -2; side <= 2; ++side)
                    for (int turn = -1; turn <= 1; ++turn) {
                        if (upright && (side != 0 || turn != 0)) continue;
                        ways.emplace_back(std::abs(side) + std::abs(out) + 0.8 * std::abs(turn) + 6 * (1 - scale),
                                          Trial{{4.0 * side, 5.0 * out}, radians(12.0 * turn), scale});
                    }
        }
        std::ranges::stable_sort(ways, {}, [](auto const& way) { return way.first; });
        std::size_t fitting = 0;
        for (auto const& [change, way] : ways) {
            if (fitting == 3 * kMostWays) break;
            Tally const tally = drawer.tally(way);
            if (tally.bare < own || tally.forbidden > 0.01 * tally.cells) continue;
            // Every third: neighbours among them do much the same.
            if (fitting++ % 3 != 1) continue;
            LayState with = trial;
            LayUnit settled = drawer.moved(way);
            settled.home = settled.pose;
            if (!lies_on_slab(settled, unit)) continue;
            with.replace_lifted(k, std::move(settled));
            if (with.grid().bare() <= target_ && accept(std::move(with), 0)) return true;
        }
        return false;
    }

    LayState* state_;
    std::span<CourseRow const> rows_;
    LapMeter* meter_;
    Task* task_;
    SeenLaps now_;
    int target_;
};

std::string percent(double share) {
    std::string text = std::to_string(std::lround(100 * share));
    text += " %";
    return text;
}

std::string words(std::initializer_list<std::string> parts) {
    std::string text;
    for (std::string const& part : parts) text += part;
    return text;
}

Problem lap_remark(char const* code, SeenLaps::Row const& row, std::string what, char const* hint) {
    return {code, words({"Row ", std::to_string(row.row)}), std::move(what), hint, ProblemKind::refusal};
}

} // namespace

void append_lap_remarks(LayScene const& scene, SeenLaps const& laps, std::vector<Problem>& remarks) {
    for (SeenLaps::Row const& row : laps.rows) {
        RowRule const& rule = scene.rule(row.row);
        std::string const lap = percent(row.lap);
        if (row.deficit > kLapTolerance && row.lap > rule.most_lap)
            remarks.push_back(lap_remark("rows.most-lap", row,
                                         words({"laps ", lap, " of its leaves, more than the ", percent(rule.most_lap),
                                                " that its rule allows"}),
                                         "Choose a broader leaf, or lower the side and head lap"));
        else if (row.deficit > kLapTolerance)
            remarks.push_back(
                lap_remark("rows.least-lap", row,
                           words({"laps only ", lap, " of its leaves; its rule asks for ", percent(rule.least_lap)}),
                           "Raise the side or head lap"));
        if (row.hidden > 0)
            remarks.push_back(
                lap_remark("rows.exposed", row,
                           words({std::to_string(row.hidden), row.hidden == 1 ? " leaf" : " leaves",
                                  row.hidden == 1 ? " shows" : " show", " less than the ", percent(rule.least_exposed),
                                  " that its rule asks for; the least visible one ", percent(row.least_seen)}),
                           "Lower the laps, or take it off where nothing is bare beneath"));
    }
}

void bring_to_light(LayState& state, std::span<CourseRow const> rows, LapMeter& meter, Task& task) {
    Lighter(state, rows, meter, task).run();
}

} // namespace leafwright
