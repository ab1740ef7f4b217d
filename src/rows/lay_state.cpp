#include "rows/lay_state.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>
#include <glm/geometric.hpp>

namespace leafwright {

namespace {

void mirror_ring(Ring& ring) {
    for (Vec2& p : ring) p.x = -p.x;
}

// The outline, then the thin ends.
Ring laid_ring(LayScene const& scene, LayKind const& kind, Ring const& outline, Pose const& pose) {
    std::vector<Vec2> local(outline);
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

void LayState::draw(LayUnit& unit, Fineness fineness) const {
    Ring const& outline = kind(unit).outline(fineness);
    Ring ring = laid_ring(*scene_, kind(unit), outline, unit.pose);
    scan_with_ends(grid_, ring, outline.size(), unit.spans);
    unit.own_spans = unit.spans.size();
    if (!unit.paired) return;
    if (field().symmetric())
        mirror_ring(ring);
    else
        ring = laid_ring(*scene_, kind(unit), outline, mirrored(unit.pose));
    Spans twin;
    scan_with_ends(grid_, ring, outline.size(), twin);
    unit.spans.insert(unit.spans.end(), twin.begin(), twin.end());
}

void LayState::draw_exactly(std::size_t first) {
    for (std::size_t k = first; k < units_.size(); ++k) {
        lift(k);
        draw(units_[k], Fineness::exact);
        lower(k);
    }
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

TrialDrawer::TrialDrawer(LayState const& state, LayUnit const& unit, double reach_mm, Fineness fineness)
    : state_(&state), unit_(&unit), fineness_(fineness), map_(state.field().surface(), unit.pose.middle, reach_mm) {}

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

bool TrialDrawer::meets_feature(Trial const& trial, double share) const {
    Placing const place = placing(trial);
    LayKind const& kind = state_->kind(*unit_);
    for (double const at : {-0.25, 0.0, 0.25})
        if (state_->grid().is_forbidden(map_(place({0, at * kind.length_mm})))) return true;
    // A narrow patch of that share may hold one or two of them, hardly more.
    double const most = 2.5 + 1.5 * share * static_cast<double>(kind.samples.size());
    int hits = 0;
    for (Vec2 const& sample : kind.samples)
        if (state_->grid().is_forbidden(map_(place(sample))) && ++hits >= most) return true;
    return false;
}

Spans const& TrialDrawer::draw(Trial const& trial) {
    Placing const place = placing(trial);
    LayKind const& kind = state_->kind(*unit_);
    ring_.clear();
    Ring const& outline = kind.outline(fineness_);
    for (Vec2 const& p : outline) ring_.push_back(map_(place(p)));
    for (Vec2 const& p : kind.ends) ring_.push_back(map_(place(p)));
    scan_with_ends(state_->grid(), ring_, outline.size(), spans_);
    if (unit_->paired &&
        !state_->symmetric()) { // near enough also where left and right differ: the exact laying follows
        mirror_ring(ring_);
        scan_with_ends(state_->grid(), ring_, outline.size(), twin_);
        spans_.insert(spans_.end(), twin_.begin(), twin_.end());
    }
    return spans_;
}

void TrialDrawer::list_bare(double reach_mm, double near_mm) {
    constexpr std::size_t kMostFar = 600;
    Vec2 const middle = state_->field().surface().to_chart(unit_->pose.middle);
    Vec2 const reach{1.2 * reach_mm, 1.2 * reach_mm}; // the chart stretches a little
    std::vector<Vec2> cells;
    state_->grid().bare_cells({middle - reach, middle + reach}, cells);
    // Of a pair that is drawn as two, the other leaf's cells count as well.
    if (unit_->paired && !state_->symmetric()) {
        std::size_t const own = cells.size();
        Vec2 const image{-middle.x, middle.y};
        state_->grid().bare_cells({image - reach, image + reach}, cells);
        for (std::size_t k = own; k < cells.size(); ++k) cells[k].x = -cells[k].x;
    }
    auto const far = std::partition(cells.begin(), cells.end(),
                                    [&](Vec2 const& cell) { return glm::length(cell - middle) <= near_mm; });
    auto const far_count = static_cast<std::size_t>(cells.end() - far);
    far_weight_ = static_cast<int>(far_count / kMostFar) + 1;
    near_.clear();
    far_.clear();
    for (auto cell = cells.begin(); cell != far; ++cell) near_.emplace_back(map_.inverse(*cell));
    for (std::size_t k = 0; k < far_count; k += static_cast<std::size_t>(far_weight_))
        far_.emplace_back(map_.inverse(far[static_cast<std::ptrdiff_t>(k)]));
}

int TrialDrawer::about_bare(Trial const& trial) const {
    Placing const place = placing(trial);
    LeafMask const& mask = state_->kind(*unit_).mask;
    double const per_cell = LeafMask::kPerMm / glm::dot(place.x, place.x);
    glm::vec2 const x = per_cell * place.x;
    glm::vec2 const y = per_cell * place.y;
    glm::vec2 const from = place.by;
    glm::vec2 const low = LeafMask::kPerMm * mask.low;
    auto const count = [&](std::vector<glm::vec2> const& cells) {
        int sum = 0;
        for (glm::vec2 const& cell : cells) {
            float const u = glm::dot(cell - from, x) - low.x;
            float const v = glm::dot(cell - from, y) - low.y;
            if (u < 0 || v < 0) continue;
            auto const column = static_cast<int>(u);
            auto const row = static_cast<int>(v);
            if (column < mask.columns && row < mask.rows)
                sum += mask.cells[static_cast<std::size_t>(row * mask.columns + column)];
        }
        return sum;
    };
    // The thin ends count in holes alone, where nothing is bare.
    return count(near_) + far_weight_ * count(far_);
}

LayUnit TrialDrawer::moved(Trial const& trial) const {
    LayUnit unit = *unit_;
    unit.pose = state_->field().moved(unit.pose, trial.by_mm, trial.turn_rad);
    unit.pose.scale *= trial.scale;
    state_->draw(unit, fineness_);
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
