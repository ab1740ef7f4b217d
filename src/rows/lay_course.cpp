#include "rows/lay_course.h"

#include "base/random.h"
#include "base/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kStalkGap_mm = 6.0; // the last row's stalk ends stop this far short of the crown

// Depth at which a meridian first meets a feature's inner part; the crown's depth where none is met.
double clear_depth(LayScene const& scene, double azimuth) {
    double const crown = scene.field.crown_depth_mm();
    for (double depth = 0; depth < crown; depth += 2.0) {
        Spot const spot{azimuth, scene.field.from_crown_mm(azimuth, depth)};
        if (scene.empty.is_forbidden(scene.field.surface().to_chart(spot))) return depth;
    }
    return crown - kStalkGap_mm;
}

// What most of the rim has before it.
double usual_clear_depth(LayScene const& scene) {
    std::array<double, 72> depths;
    for (std::size_t k = 0; k < depths.size(); ++k)
        depths[k] = clear_depth(scene, kTwoPi * (static_cast<double>(k) + 0.5) / 72.0);
    std::sort(depths.begin(), depths.end());
    return depths[depths.size() / 2];
}

// Sizes and turns, drawn by place in the row so that every proposal gets the same ones.
struct Draw {
    double scale;
    double turn_rad;
    bool mixed;
    bool flipped;
    std::uint64_t kind;
};

Draw draw_leaf_chance(LayScene const& scene, RowRule const& rule, int row, int place) {
    Random random = Random(scene.seed).split(static_cast<std::uint64_t>(row)).split(static_cast<std::uint64_t>(place));
    double const lively = 2.0 * scene.rules.liveliness;
    Draw draw{};
    draw.scale = 1.0 + std::min(0.5, lively * rule.size_spread) * random.between(-1, 1);
    draw.turn_rad = std::min(radians(45.0), lively * radians(rule.turn_spread_deg)) * random.between(-1, 1);
    // Above the middle of the scale kinds are mixed and leaves flipped by chance, the more the livelier.
    draw.mixed = random.between(0, 1) < lively - 1.0;
    draw.kind = random.next();
    draw.flipped = random.between(0, 1) < 0.5 * (lively - 1.0);
    return draw;
}

// One leaf's place along the row's line.
struct Place {
    double along = 0;
    int kind = 0;
    Draw draw{};
    bool paired = false;
    bool on_axis = false;
};

class RowMaker {
public:
    RowMaker(LayState const& state, CourseRow const& row, double factor)
        : state_(&state),
          scene_(&state.scene()),
          row_(&row),
          rule_(&state.scene().rule(row.row)),
          line_(state.field().line(row.lap_depth_mm)) {
        pitch_ = 0;
        for (int const kind : scene_->kinds_of(row.row))
            pitch_ += lap_width(kind) / static_cast<double>(scene_->kinds_of(row.row).size());
        pitch_ *= (1.0 - rule_->side_lap) * factor;
        count_ = std::max(2, static_cast<int>(std::ceil(line_.run_mm() / pitch_ - 1e-9)));
    }

    int count() const { return count_; }
    double run_mm() const { return line_.run_mm(); }

    // start: share of a pitch by which the first leaf stands off straight down. Mirrored rows: 0 or 0.5.
    std::vector<LayUnit> make(double start) const {
        std::vector<LayUnit> units;
        for (Place const& place : scene_->mirror ? mirrored_places(start) : round_places(start))
            units.push_back(unit_at(place));
        return units;
    }

private:
    double lap_width(int kind) const { return scene_->kinds[static_cast<std::size_t>(kind)].width_mm; }

    Place place(int index) const {
        auto const& kinds = scene_->kinds_of(row_->row);
        Place place;
        place.draw = draw_leaf_chance(*scene_, *rule_, row_->row, index);
        std::size_t const pick = place.draw.mixed ? place.draw.kind : static_cast<std::size_t>(index);
        place.kind = kinds[pick % kinds.size()];
        return place;
    }
    double width(Place const& place) const { return place.draw.scale * lap_width(place.kind); }

    std::vector<Place> round_places(double start) const {
        std::vector<Place> places;
        places.reserve(static_cast<std::size_t>(count_));
        for (int k = 0; k < count_; ++k) places.push_back(place(k));
        double sum = 0;
        for (Place const& p : places) sum += width(p);
        double along = start * line_.run_mm() / count_;
        for (std::size_t k = 0; k < places.size(); ++k) {
            places[k].along = along;
            double const next = width(places[(k + 1) % places.size()]);
            along += 0.5 * (width(places[k]) + next) * line_.run_mm() / sum;
        }
        return places;
    }

    // The right half from straight down to straight up; leaves on the axis stand alone, the others get mirror images.
    std::vector<Place> mirrored_places(double start) const {
        bool const at_foot = start < 0.25;
        bool const at_head = at_foot == (count_ % 2 == 0);
        int const own = (count_ + (at_foot ? 1 : 0) + (at_head ? 1 : 0)) / 2;
        std::vector<Place> places;
        for (int k = 0; k < own; ++k) {
            Place p = place(k);
            p.on_axis = (k == 0 && at_foot) || (k == own - 1 && at_head);
            p.paired = !p.on_axis;
            if (p.on_axis) p.draw.turn_rad = 0;
            places.push_back(p);
        }
        double sum = 0;
        for (Place const& p : places) sum += p.on_axis ? 0.5 * width(p) : width(p);
        double const stretch = 0.5 * line_.run_mm() / sum;
        double edge = 0;
        for (std::size_t k = 0; k < places.size(); ++k) {
            Place& p = places[k];
            double const w = stretch * width(p);
            p.along = !p.on_axis ? edge + 0.5 * w : (k == 0 && at_foot ? 0.0 : 0.5 * line_.run_mm());
            edge += p.on_axis ? 0.5 * w : w;
        }
        return places;
    }

    LayUnit unit_at(Place const& place) const {
        LayKind const& kind = scene_->kinds[static_cast<std::size_t>(place.kind)];
        LayUnit unit;
        unit.kind = place.kind;
        unit.row = row_->row;
        unit.paired = place.paired;
        double azimuth = line_.azimuth_at(place.along);
        if (place.on_axis) azimuth = place.along < 0.25 * line_.run_mm() ? -0.5 * kPi : 0.5 * kPi;
        Spot const lap{azimuth, state_->field().from_crown_mm(azimuth, row_->lap_depth_mm)};
        double const turn = place.on_axis ? 0.0 : state_->field().outward_turn(lap);
        // From the lap line to the middle, so that the tip comes out at the row's depth whatever the leaf's size.
        double const half = 0.5 * kind.length_mm * place.draw.scale;
        double const middle = row_->by_stalk ? row_->stalk_depth_mm - half : row_->tip_depth_mm + half;
        Pose const on_line{lap, turn, place.draw.scale, place.draw.flipped};
        unit.pose = state_->field().moved(on_line, {0, row_->lap_depth_mm - middle}, place.draw.turn_rad);
        if (place.on_axis) unit.pose.middle.azimuth_rad = azimuth;
        if (place.on_axis) unit.pose.turn_rad = 0;
        unit.home = unit.pose;
        unit.regular = true;
        state_->draw(unit, Fineness::rough);
        return unit;
    }

    LayState const* state_;
    LayScene const* scene_;
    CourseRow const* row_;
    RowRule const* rule_;
    RowLine line_;
    double pitch_;
    int count_;
};

constexpr double kForbiddenShare = 0.01; // of a leaf's area, in a feature
constexpr double kLeastNewShare = 0.12;  // of a leaf's area that must be new for a leaf beside a feature

bool keeps_off(Tally const& tally) { return tally.forbidden <= kForbiddenShare * tally.cells; }

struct FitChoice {
    Trial trial;
    double score = -1e300;
};

// Gives way to a feature: outward, turned along its edge, or a little smaller, as little as possible.
bool give_way(LayState const& state, LayUnit& unit) {
    double const length = state.kind(unit).length_mm * unit.pose.scale;
    TrialDrawer drawer(state, unit, 1.25 * state.kind(unit).reach_mm + 0.35 * length, Fineness::rough);
    FitChoice best;
    bool const on_axis = state.stands_on_axis(unit);
    for (double const scale : {1.0, 0.8}) {
        for (double out = 0; out <= 0.6; out += 0.08) {
            for (int turn = -80; turn <= 80; turn += 16) {
                if (on_axis && turn != 0) continue;
                Trial const trial{{0, out * length}, radians(turn), scale};
                if (drawer.meets_feature(trial, kForbiddenShare)) continue;
                Tally const tally = drawer.tally(trial);
                if (!keeps_off(tally) || tally.bare < kLeastNewShare * tally.cells) continue;
                double const score =
                    tally.bare - 0.1 * turn * turn - 900.0 * out * out - 900.0 * (1.0 - scale) - 0.4 * tally.thick;
                if (score > best.score) best = {trial, score};
            }
        }
    }
    if (best.score < -1e299) return false;
    unit = drawer.moved(best.trial);
    unit.home = unit.pose;
    unit.regular = false;
    return true;
}

int lay_units(LayState& state, std::vector<LayUnit> units) {
    int laid = 0;
    for (LayUnit& unit : units) {
        Tally const tally = state.tally(unit);
        if (tally.cells == 0 || tally.bare < 0.02 * tally.cells) continue;
        if (!keeps_off(tally) && !give_way(state, unit)) continue;
        laid += unit.paired ? 2 : 1;
        state.add(std::move(unit));
    }
    return laid;
}

constexpr std::size_t kMostRows = 60;

CourseRow course_row(LayScene const& scene, int row, double tip_depth_mm) {
    CourseRow course;
    course.row = row;
    course.tip_depth_mm = tip_depth_mm;
    course.middle_depth_mm = tip_depth_mm + 0.5 * scene.mean_length_mm(row);
    double lap = 0;
    std::vector<int> const& used = scene.kinds_of(row);
    for (int const kind : used) {
        LayKind const& of = scene.kinds[static_cast<std::size_t>(kind)];
        lap += (of.length_mm - of.lap_line_mm) / static_cast<double>(used.size());
    }
    course.lap_depth_mm = std::max(0.0, tip_depth_mm + lap);
    return course;
}

} // namespace

std::vector<CourseRow> plan_courses(LayScene const& scene, CoursePlan const& plan) {
    double const end = usual_clear_depth(scene);
    double const first = -scene.rule(1).overhang_mm - plan.reach_out_mm;
    std::vector<double> steps;
    auto step = [&](int row) {
        return std::max(4.0, scene.mean_length_mm(row) * (1.0 - scene.rule(row + 1).head_lap));
    };
    double tip = first;
    while (tip + scene.mean_length_mm(static_cast<int>(steps.size()) + 1) < end - 1e-6 && steps.size() < kMostRows) {
        steps.push_back(step(static_cast<int>(steps.size()) + 1));
        tip += steps.back();
    }
    for (int k = 0; k < plan.extra_rows; ++k) {
        steps.push_back(step(static_cast<int>(steps.size()) + 1));
        tip += steps.back();
    }
    int const count = static_cast<int>(steps.size()) + 1;
    double const factor =
        steps.empty() ? 1.0 : std::max(0.2, (end - scene.mean_length_mm(count) - first) / (tip - first));
    std::vector<CourseRow> rows;
    tip = first;
    for (int row = 1; row <= count; ++row) {
        rows.push_back(course_row(scene, row, tip));
        if (row == count && count > 1) {
            rows.back().by_stalk = true;
            rows.back().stalk_depth_mm = tip + scene.mean_length_mm(row);
        }
        if (row < count) tip += factor * steps[static_cast<std::size_t>(row - 1)];
    }
    return rows;
}

double mending_leaves(std::span<BarePatch const> spots) {
    double leaves = 0;
    for (BarePatch const& spot : spots) leaves += std::min(spot.cells / 25.0, 1.0 + spot.cells / 250.0);
    return leaves;
}

namespace {

void lay_course(LayState& state, CourseRow& row, double closed_depth_mm, std::span<double const> factors, Task& task) {
    std::vector<double> starts{0.0, 0.5};
    if (!state.scene().mirror) starts = {0.0, 0.25, 0.5, 0.75};
    if (row.row == 1) starts = {0.0};
    std::size_t const before = state.units().size();
    LayState best = state;
    double least = 1e300;
    int count = -1;
    for (double const factor : factors) {
        RowMaker const maker(state, row, factor);
        if (task.cancelled()) return;
        if (maker.count() == count) continue;
        count = maker.count();
        if (count > least) break;
        for (double const start : starts) {
            LayState trial = state;
            int const laid = lay_units(trial, maker.make(start));
            double const cost = laid + mending_leaves(state.scene().spots_above(trial.grid(), closed_depth_mm));
            if (cost >= least - 1e-9) continue;
            least = cost;
            row.leaves = laid;
            row.run_mm = maker.run_mm();
            best = std::move(trial);
        }
    }
    state = std::move(best);
    state.draw_exactly(before);
}

// What this row has to close: everything further out than the next row's tips.
double closed_depth(std::vector<CourseRow> const& rows, std::size_t k) {
    return k + 1 < rows.size() ? rows[k + 1].tip_depth_mm : 1e9;
}

constexpr std::array kFirstFactors{1.0, 0.93, 0.86, 0.8, 0.74, 0.68, 0.62, 0.57, 0.52, 0.47, 0.42};
constexpr std::array kFurtherFactors{1.0, 0.92, 0.84, 0.77, 0.7, 0.62, 0.55};

} // namespace

void lay_first_course(LayState& state, std::vector<CourseRow>& rows, Task& task) {
    lay_course(state, rows[0], closed_depth(rows, 0), kFirstFactors, task);
}

void lay_further_courses(LayState& state, std::vector<CourseRow>& rows, Task& task) {
    for (std::size_t k = 1; k < rows.size(); ++k)
        lay_course(state, rows[k], closed_depth(rows, k), kFurtherFactors, task);
}

} // namespace leafwright
