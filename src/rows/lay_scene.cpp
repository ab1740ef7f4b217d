#include "rows/lay_scene.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>
#include <glm/common.hpp>

namespace leafwright {

namespace {

constexpr double kCell_mm = 1.0;
constexpr double kZoneMargin_mm = 0.6; // the zone on the grid is that much larger than the clay
constexpr double kTuckUnderMound_mm = 6.0;
constexpr double kTuckAtOpening_mm = 1.0;
constexpr double kClearOfHole_mm = 1.0;
constexpr double kTuckUnderLip_mm = 8.0;
constexpr int kRimPoints = 720;
constexpr int kHolePoints = 96;
constexpr double kHoleGrown_mm = 0.7; // the grid draws leaves about that much smaller

int find_kind(std::span<LeafPattern const> patterns, std::string const& id) {
    for (std::size_t k = 0; k < patterns.size(); ++k)
        if (patterns[k].spec.id == id) return static_cast<int>(k);
    return -1;
}

Problem unknown_kind(std::string where, std::string const& id) {
    return {"leaf.unknown", std::move(where), "names the leaf kind \"" + id + "\", which the piece does not have",
            "Add that kind to the piece or name another"};
}

Ring grown(Ring ring, double by) {
    for (Vec2& p : ring) p *= 1.0 + by / glm::length(p);
    return ring;
}

Ring hole_ring(ClaySurface const& surface, Feature const& opening) {
    Ring local;
    for (int k = 0; k < kHolePoints; ++k) {
        double const t = kTwoPi * k / kHolePoints;
        local.push_back({(0.5 * opening.width_mm + kHoleGrown_mm) * std::cos(t),
                         (0.5 * opening.height_mm + kHoleGrown_mm) * std::sin(t)});
    }
    Ring chart;
    for (LaidPoint const& point : lay_feature_points(surface, opening, local)) chart.push_back(point.chart);
    return chart;
}

CoverGrid make_grid(LayRequest const& request) {
    Ring const rim = request.surface->rim_chart(kRimPoints);
    Vec2 half{0, 0};
    for (Vec2 const& p : rim) half = glm::max(half, glm::ceil(glm::abs(p)) + Vec2{4, 4});
    Box2 const box{-half, half};
    CoverGrid grid(box, kCell_mm);
    Spans spans;
    grid.scan(grown(rim, kZoneMargin_mm), spans);
    grid.add_zone(spans);
    for (Feature const& feature : request.features) {
        Ring const footprint = lay_feature(*request.surface, feature).chart;
        grid.scan(inset(footprint, kZoneMargin_mm), spans);
        grid.cut_zone(spans);
        grid.scan(inset(footprint, tuck_mm(feature)), spans);
        grid.forbid(spans);
        if (feature.kind != FeatureKind::opening) continue;
        grid.scan(hole_ring(*request.surface, feature), spans);
        grid.forbid_wholly(spans);
    }
    return grid;
}

std::vector<RowRule> sorted_rules(RowRules const& rules) {
    std::vector<RowRule> sorted = rules.rules;
    std::stable_sort(sorted.begin(), sorted.end(), [](auto const& a, auto const& b) { return a.row < b.row; });
    return sorted;
}

} // namespace

double tuck_mm(Feature const& feature) {
    if (feature.kind != FeatureKind::opening) return kTuckUnderMound_mm;
    // Under the raised lip, but not into the hole.
    Box2 const box = bounds(feature_footprint(feature));
    double const lip = 0.5 * std::min(box.size().x - feature.width_mm, box.size().y - feature.height_mm);
    return std::clamp(lip - kClearOfHole_mm, kTuckAtOpening_mm, kTuckUnderLip_mm);
}

MaybeProblem check_request(LayRequest const& request) {
    if (request.rules.rules.empty())
        return Problem{"rows.no-rules", "rows.rules", "holds no rule", "Give at least one rule with a leaf kind"};
    for (std::size_t k = 0; k < request.rules.rules.size(); ++k) {
        RowRule const& rule = request.rules.rules[k];
        std::string const where = "rows.rules[" + std::to_string(k) + "].kinds";
        if (rule.kinds.empty()) return Problem{"rows.no-rules", where, "names no leaf kind", "Name at least one"};
        for (std::string const& id : rule.kinds)
            if (find_kind(request.patterns, id) < 0) return unknown_kind(where, id);
    }
    for (LeafPlacement const& leaf : request.pinned)
        if (find_kind(request.patterns, leaf.kind) < 0)
            return unknown_kind("leaf " + std::to_string(leaf.id), leaf.kind);
    return {};
}

LayScene make_scene(LayRequest const& request, double inset_mm) {
    LayScene scene{RowField(*request.surface), {}, {}, {}, request.rules.mirror, request.seed, make_grid(request)};
    for (LeafPattern const& pattern : request.patterns) scene.kinds.push_back(prepare_kind(pattern, inset_mm));
    scene.rules.rules = sorted_rules(request.rules);
    scene.rules.mirror = request.rules.mirror;
    scene.rules.liveliness = request.rules.liveliness;
    for (RowRule const& rule : scene.rules.rules) {
        std::vector<int> kinds;
        for (std::string const& id : rule.kinds) kinds.push_back(find_kind(request.patterns, id));
        scene.rule_kinds.push_back(std::move(kinds));
    }
    return scene;
}

LayState pinned_state(LayScene const& scene, LayRequest const& request) {
    LayState state(scene);
    for (LeafPlacement const& leaf : request.pinned) {
        LayUnit unit;
        unit.kind = find_kind(request.patterns, leaf.kind);
        unit.row = leaf.row;
        unit.pose = {{radians(leaf.azimuth_deg), leaf.from_crown_mm}, radians(leaf.turn_deg), leaf.scale, leaf.flipped};
        unit.home = unit.pose;
        unit.pinned = true;
        unit.id = leaf.id;
        state.draw(unit);
        state.add(std::move(unit));
    }
    state.settle_symmetry();
    return state;
}

} // namespace leafwright
