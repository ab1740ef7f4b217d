#include "rows/placement.h"

#include "base/units.h"

namespace leafwright {

namespace {

// The leaf's own drawing has its stalk end at the origin; on the surface its middle is the origin.
void to_middle(LeafPattern const& pattern, LeafPlacement const& placement, std::span<Vec2 const> leaf_mm,
               std::vector<Vec2>& local_mm) {
    Vec2 const middle{0, 0.5 * pattern.shape.length_mm};
    Vec2 const factor{placement.flipped ? -placement.scale : placement.scale, placement.scale};
    for (Vec2 const& p : leaf_mm) local_mm.push_back((p - middle) * factor);
}

Spot spot_of(LeafPlacement const& placement) { return {radians(placement.azimuth_deg), placement.from_crown_mm}; }

std::vector<LaidPoint> lay_local(ClaySurface const& surface, LeafPlacement const& placement,
                                 std::span<Vec2 const> local_mm) {
    std::vector<LaidPoint> laid(local_mm.size());
    surface.lay(spot_of(placement), radians(placement.turn_deg), local_mm, laid);
    return laid;
}

// Takes the next `count` points; a mirrored ring is read backwards so that it keeps its sense.
Ring take_ring(std::span<LaidPoint const>& laid, std::size_t count, bool backwards) {
    Ring ring(count);
    for (std::size_t i = 0; i < count; ++i) ring[i] = laid[backwards ? count - 1 - i : i].chart;
    laid = laid.subspan(count);
    return ring;
}

} // namespace

LaidLeaf lay_leaf(ClaySurface const& surface, LeafPattern const& pattern, LeafPlacement const& placement) {
    Polygon const& outline = pattern.shape.outline_mm;
    std::vector<Vec2> local_mm;
    local_mm.reserve(outline.outer.size());
    to_middle(pattern, placement, outline.outer, local_mm);
    for (Ring const& hole : outline.holes) to_middle(pattern, placement, hole, local_mm);
    std::vector<LaidPoint> const laid = lay_local(surface, placement, local_mm);

    LaidLeaf leaf{.placement = placement, .chart = {}, .flat_mm2 = 0, .thickness_mm = pattern.spec.thickness_mm};
    std::span<LaidPoint const> rest = laid;
    leaf.chart.outer = take_ring(rest, outline.outer.size(), placement.flipped);
    for (Ring const& hole : outline.holes) leaf.chart.holes.push_back(take_ring(rest, hole.size(), placement.flipped));
    leaf.flat_mm2 = area(outline) * placement.scale * placement.scale;
    return leaf;
}

std::vector<LaidPoint> lay_points(ClaySurface const& surface, LeafPattern const& pattern,
                                  LeafPlacement const& placement, std::span<Vec2 const> leaf_mm) {
    std::vector<Vec2> local_mm;
    local_mm.reserve(leaf_mm.size());
    to_middle(pattern, placement, leaf_mm, local_mm);
    return lay_local(surface, placement, local_mm);
}

} // namespace leafwright
