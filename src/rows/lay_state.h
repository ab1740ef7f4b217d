// The arrangement while it is being laid: leaves (with their mirror images) on the covering grid.
#pragma once

#include "rows/lay_field.h"
#include "rows/lay_grid.h"
#include "rows/lay_kind.h"
#include "rows/lay_rows.h"

#include <glm/vec2.hpp>

namespace leafwright {

// One leaf, or a leaf and its mirror image that move together.
struct LayUnit {
    int kind = 0;
    int row = 1;
    Pose pose;
    Pose home;            // where the row put it; mending does not take it far from there
    bool paired = false;  // with its mirror image
    bool regular = false; // lies where its row put it; only mended ones are taken out again
    bool pinned = false;
    int late = 0;                  // laid after those of its row that are less late
    int id = 0;                    // of a pinned leaf
    Spans spans;                   // on the grid, the mirror image's after its own
    std::uint64_t still_print = 0; // surroundings in which moving it did not help
    std::size_t own_spans = 0;     // how many of them are its own
};

// A small move to try: in the leaf's own frame (right, towards the tip).
struct Trial {
    Vec2 by_mm{0, 0};
    double turn_rad = 0;
    double scale = 1;
};

// What everything that lays and mends works with; constant while it does.
struct LayScene {
    RowField field;
    std::vector<LayKind> kinds;
    RowRules rules;                           // sorted by row
    std::vector<std::vector<int>> rule_kinds; // indices into kinds, for each rule
    bool mirror = false;
    std::uint64_t seed = 1;
    CoverGrid empty; // zone and features, no leaf

    RowRule const& rule(int row) const { return rules.rules[rule_index(row)]; }
    std::vector<int> const& kinds_of(int row) const { return rule_kinds[rule_index(row)]; }
    std::size_t rule_index(int row) const;
    double mean_length_mm(int row) const;
    // Bare spots with a depth of at most `depth_mm`.
    std::vector<BarePatch> spots_above(CoverGrid const& grid, double depth_mm) const;
};

class LayState {
public:
    explicit LayState(LayScene const& scene) : scene_(&scene), grid_(scene.empty) {}

    LayScene const& scene() const { return *scene_; }
    RowField const& field() const { return scene_->field; }
    CoverGrid const& grid() const { return grid_; }
    std::vector<LayUnit> const& units() const { return units_; }
    LayUnit const& unit(std::size_t k) const { return units_[k]; }
    LayKind const& kind(LayUnit const& unit) const { return scene_->kinds[static_cast<std::size_t>(unit.kind)]; }
    int leaf_count() const;
    bool stands_on_axis(LayUnit const& unit) const { return scene_->mirror && !unit.paired; }
    // Both halves are alike, so that a trial of one leaf of a pair tells all. Asked once, before leaves are laid.
    bool symmetric() const { return symmetric_; }
    void keep_symmetric() { symmetric_ = true; }
    void settle_symmetry() { symmetric_ = field().symmetric() && grid_.symmetric(); }

    // Exactly laid, drawn on the grid.
    void draw(LayUnit& unit, Fineness fineness = Fineness::exact) const;
    // From that unit on, those that were drawn roughly.
    void draw_exactly(std::size_t first);
    void add(LayUnit unit);
    void erase(std::size_t k);
    // Off the grid and on again, to look at what the others leave bare.
    void lift(std::size_t k) { grid_.remove(units_[k].spans); }
    void lower(std::size_t k) { grid_.add(units_[k].spans); }
    void replace_lifted(std::size_t k, LayUnit unit);
    // What the unit would do where it lies; of a pair in a symmetric scene the one leaf's share, as trials tell it.
    Tally tally(LayUnit const& unit) const {
        std::span<Span const> const spans = unit.spans;
        return grid_.tally(symmetric_ ? spans.first(unit.own_spans) : spans);
    }
    // A fingerprint of what is bare near the unit, 0 for nothing.
    std::uint64_t bare_print(LayUnit const& unit, double reach_mm) const;
    void mark_still(std::size_t k, std::uint64_t print) { units_[k].still_print = print; }

private:
    LayScene const* scene_;
    CoverGrid grid_;
    std::vector<LayUnit> units_;
    bool symmetric_ = false;
};

// Draws trial moves of one leaf quickly, by way of a map of the chart near it.
class TrialDrawer {
public:
    TrialDrawer(LayState const& state, LayUnit const& unit, double reach_mm, Fineness fineness = Fineness::exact);
    Spans const& draw(Trial const& trial);
    // The leaf's body would lie in a feature, or clearly more than that share of it: quicker than a tally.
    bool meets_feature(Trial const& trial, double share) const;
    Tally tally(Trial const& trial) { return state_->grid().tally(draw(trial)); }
    // Lists what is bare within that reach of the leaf's middle, for about_bare(); it must not change meanwhile. Where
    // that is very much, all within `near_mm` and some of the rest.
    void list_bare(double reach_mm, double near_mm);
    // What tally() would count as bare, to about doubt() cells. Several times quicker.
    int about_bare(Trial const& trial) const;
    double doubt() const { return 8.0 + 3.0 * far_weight_; }
    // Hardly less than tally() would count (1 in 100), or very much when that cannot be told quickly.
    int most_bare(Trial const& trial) const { return far_weight_ == 1 ? about_bare(trial) + 8 : 1 << 30; }
    // The leaf so moved, exactly laid and drawn.
    LayUnit moved(Trial const& trial) const;

private:
    struct Placing { // from the leaf's own drawing to the tangent plane
        Vec2 x;
        Vec2 y;
        Vec2 by;
        Vec2 operator()(Vec2 const& p) const { return by + p.x * x + p.y * y; }
    };
    Placing placing(Trial const& trial) const;

    LayState const* state_;
    LayUnit const* unit_;
    Fineness fineness_;
    NearMap map_;
    Ring ring_;
    Spans spans_;
    Spans twin_;
    std::vector<glm::vec2> near_; // bare cells in the tangent plane
    std::vector<glm::vec2> far_;  // each for so many
    int far_weight_ = 1;
};

LeafPlacement placement_of(LayScene const& scene, LayUnit const& unit, bool image);

} // namespace leafwright
