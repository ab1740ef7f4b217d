#include "rows/lay_state.h"

#include "base/units.h"

#include <cmath>

namespace leafwright {

namespace {

void mirror_ring(Ring& ring) {
    for (Vec2& p : ring) p.x = -p.x;
}

// The solid outline, then the thin ends.
Ring laid_ring(LayScene const& scene, LayKind const& kind, Pose const& pose) {
    std::vector<Vec2> local(kind.solid);
    local.insert(local.end(), kind.ends.begin(), kind.ends.end());
    Vec2 const factor{pose.flipped ? -pose.scale : pose.scale, pose.scale};
    for (Vec2& p : local) p *= factor;
    std::vector<LaidPoint> laid(local.size());
    scene.field.surface().lay(pose.middle, pose.turn_rad, local, laid);
    for (std::size_t k = 0; k < local.size(); ++k) local[k] = laid[k].chart;
    return local;
}

void scan_with_ends(CoverGrid const& grid, std::span<Vec2 const> ring, std::size_t outline, Spans& spans) {
    grid.scan(ring.first(outline), spans);
    for (Vec2 const& end : ring.subspan(outline)) grid.add_if_in_hole(end, spans);
}

} // namespace

std::size_t LayScene::rule_index(int row) const {
    std::size_t found = 0;
    for (std::size_t k = 0; k < rules.rules.size(); ++k)
        if (rules.rules[k].row <= row) found = k;
    return found;
}

double LayScene::mean_length_mm(int row) const {
    std::vector<int> const& used = kinds_of(row);
    double sum = 0;
    for (int const kind : used) sum += kinds[static_cast<std::size_t>(kind)].length_mm;
    return sum / static_cast<double>(used.size());
}

std::vector<BarePatch> LayScene::spots_above(CoverGrid const& grid, double depth_mm) const {
    std::vector<BarePatch> spots = grid.bare_spots();
    std::erase_if(spots, [&](BarePatch const& spot) {
        return field.depth_mm(field.surface().from_chart(spot.deepest)) > depth_mm;
    });
    return spots;
}

std::uint64_t LayState::bare_print(LayUnit const& unit, double reach_mm) const {
    std::span<Span const> const spans = unit.spans;
    std::uint64_t const own = grid_.bare_print(spans.first(unit.own_spans), reach_mm);
    if (!unit.paired || symmetric_) return own;
    return own * 31 + grid_.bare_print(spans.subspan(unit.own_spans), reach_mm);
}

int LayState::leaf_count() const {
    int count = 0;
    for (LayUnit const& unit : units_) count += unit.paired ? 2 : 1;
    return count;
}

void LayState::draw(LayUnit& unit) const {
    Ring ring = laid_ring(*scene_, kind(unit), unit.pose);
    std::size_t const outline = kind(unit).solid.size();
    scan_with_ends(grid_, ring, outline, unit.spans);
    unit.own_spans = unit.spans.size();
    if (!unit.paired) return;
    if (field().symmetric())
        mirror_ring(ring);
    else
        ring = laid_ring(*scene_, kind(unit), mirrored(unit.pose));
    Spans twin;
    scan_with_ends(grid_, ring, outline, twin);
    unit.spans.insert(unit.spans.end(), twin.begin(), twin.end());
}

void LayState::add(LayUnit unit) {
    grid_.add(unit.spans);
    units_.push_back(std::move(unit));
}

void LayState::erase(std::size_t k) {
    grid_.remove(units_[k].spans);
    units_.erase(units_.begin() + static_cast<std::ptrdiff_t>(k));
}

void LayState::replace_lifted(std::size_t k, LayUnit unit) {
    units_[k] = std::move(unit);
    lower(k);
}

TrialDrawer::TrialDrawer(LayState const& state, LayUnit const& unit, double reach_mm)
    : state_(&state), unit_(&unit), map_(state.field().surface(), unit.pose.middle, reach_mm) {}

TrialDrawer::Placing TrialDrawer::placing(Trial const& trial) const {
    Pose const& pose = unit_->pose;
    double const scale = pose.scale * trial.scale;
    double const c0 = std::cos(pose.turn_rad);
    double const s0 = std::sin(pose.turn_rad);
    double const c = std::cos(pose.turn_rad + trial.turn_rad);
    double const s = std::sin(pose.turn_rad + trial.turn_rad);
    Vec2 const by{c0 * trial.by_mm.x - s0 * trial.by_mm.y, s0 * trial.by_mm.x + c0 * trial.by_mm.y};
    return {(pose.flipped ? -scale : scale) * Vec2{c, s}, scale * Vec2{-s, c}, by};
}

bool TrialDrawer::meets_feature(Trial const& trial) const {
    Placing const place = placing(trial);
    double const length = state_->kind(*unit_).length_mm;
    for (double const share : {-0.25, 0.0, 0.25})
        if (state_->grid().is_forbidden(map_(place({0, share * length})))) return true;
    return false;
}

Spans const& TrialDrawer::draw(Trial const& trial) {
    Placing const place = placing(trial);
    LayKind const& kind = state_->kind(*unit_);
    ring_.clear();
    for (Vec2 const& p : kind.solid) ring_.push_back(map_(place(p)));
    for (Vec2 const& p : kind.ends) ring_.push_back(map_(place(p)));
    scan_with_ends(state_->grid(), ring_, kind.solid.size(), spans_);
    if (unit_->paired &&
        !state_->symmetric()) { // near enough also where left and right differ: the exact laying follows
        mirror_ring(ring_);
        scan_with_ends(state_->grid(), ring_, kind.solid.size(), twin_);
        spans_.insert(spans_.end(), twin_.begin(), twin_.end());
    }
    return spans_;
}

LayUnit TrialDrawer::moved(Trial const& trial) const {
    LayUnit unit = *unit_;
    unit.pose = state_->field().moved(unit.pose, trial.by_mm, trial.turn_rad);
    unit.pose.scale *= trial.scale;
    state_->draw(unit);
    return unit;
}

LeafPlacement placement_of(LayScene const& scene, LayUnit const& unit, bool image) {
    LeafPlacement placement;
    LayKind const& kind = scene.kinds[static_cast<std::size_t>(unit.kind)];
    placement.id = unit.id;
    placement.kind = kind.pattern->spec.id;
    placement.row = unit.row;
    double azimuth = std::remainder(degrees(unit.pose.middle.azimuth_rad), 360.0);
    double const sign = image ? -1.0 : 1.0;
    if (image) azimuth = std::remainder(180.0 - azimuth, 360.0);
    placement.azimuth_deg = azimuth < 0 ? azimuth + 360.0 : azimuth;
    placement.from_crown_mm = unit.pose.middle.from_crown_mm;
    placement.turn_deg = sign * degrees(unit.pose.turn_rad);
    placement.scale = unit.pose.scale;
    placement.flipped = unit.pose.flipped != image;
    placement.pinned = unit.pinned;
    return placement;
}

} // namespace leafwright
