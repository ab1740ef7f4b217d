#include "leaf/svg_leaves.h"

#include "leaf/outline_ends.h"
#include "leaf/ring_thinning.h"
#include "leaf/ring_union.h"
#include "leaf/svg_stroke.h"
#include "leaf/svg_veins.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr double kLeafShare = 0.15; // of the largest
constexpr std::size_t kMostLeavesRead = 40;
constexpr double kBackground = 0.9;
constexpr double kSpeck = 0.0004; // of the leaf's area: smaller holes are gaps between strokes
constexpr double kStrokeTolerance_mm = 0.002;
constexpr double kStrokeShare = 0.0006; // of its width: the same for thin ones
constexpr double kVeinTolerance_mm = 0.03;

Ring flipped(std::vector<Vec2> const& points) {
    Ring ring;
    for (Vec2 const& p : points) ring.emplace_back(p.x, -p.y);
    return ring;
}

void add_regions(std::vector<Ring> const& rings, FillRule rule, std::vector<Ring>& all) {
    for (Polygon& region : filled_regions(rings, rule)) {
        all.push_back(std::move(region.outer));
        for (Ring& hole : region.holes) all.push_back(std::move(hole));
    }
}

bool comes_back(FlatPath const& path, double stroke_mm) {
    if (path.closed) return true;
    return path.points.size() > 3 && glm::length(path.points.front() - path.points.back()) <= 0.5 * stroke_mm;
}

void add_shape(SvgShape const& shape, bool as_drawn, std::vector<Ring>& all) {
    std::vector<Ring> fills;
    std::vector<Ring> areas;
    std::vector<Ring> strokes;
    for (FlatPath const& path : shape.paths) {
        if (shape.fills() && path.points.size() > 2) fills.push_back(flipped(path.points));
        bool const has_area = shape.fills() && path.points.size() > 2;
        if (!shape.strokes() || (has_area && !as_drawn)) continue;
        if (!as_drawn && comes_back(path, shape.stroke_mm)) {
            areas.push_back(flipped(path.points));
            continue;
        }
        FlatPath up = path;
        up.points = flipped(path.points);
        for (Ring& ring : stroke_rings(up, shape.stroke_mm, shape.style,
                                       std::min(kStrokeTolerance_mm, kStrokeShare * shape.stroke_mm)))
            strokes.push_back(std::move(ring));
    }
    add_regions(fills, shape.style.rule, all);
    add_regions(areas, FillRule::nonzero, all);
    add_regions(strokes, FillRule::nonzero, all);
}

// An upright rectangle as large as the whole drawing.
bool is_background(SvgShape const& shape, Box2 const& everything) {
    if (shape.paths.size() != 1 || !shape.fills()) return false;
    std::vector<Vec2> const& points = shape.paths[0].points;
    Box2 const box = bounds(points);
    double const share = box.size().x * box.size().y / (everything.size().x * everything.size().y);
    double const filled = std::abs(signed_area(points)) / (box.size().x * box.size().y);
    return points.size() <= 6 && share > kBackground && filled > 0.999;
}

Box2 box_of(SvgShape const& shape) {
    Box2 box;
    for (FlatPath const& path : shape.paths)
        for (Vec2 const& p : path.points) box.add(p);
    return box;
}

bool leave_background_out(SvgDrawing& drawing) {
    Box2 everything;
    for (SvgShape const& shape : drawing.shapes) {
        Box2 const box = box_of(shape);
        everything.add(box.low);
        everything.add(box.high);
    }
    std::size_t const before = drawing.shapes.size();
    if (before < 2) return false;
    std::vector<SvgShape> kept;
    for (SvgShape& shape : drawing.shapes)
        if (!is_background(shape, everything)) kept.push_back(std::move(shape));
    drawing.shapes = std::move(kept);
    return drawing.shapes.size() < before;
}

// Holes that touch the outer edge, or each other, at a point are drawn in a little.
void part_holes(Polygon& polygon, double by) {
    std::erase_if(polygon.holes, [](Ring const& hole) { return hole.size() < 3; });
    for (std::size_t i = 0; i < polygon.holes.size(); ++i) {
        Ring& hole = polygon.holes[i];
        bool meets = rings_cross(polygon.outer, hole);
        for (std::size_t k = 0; k < i; ++k) meets = meets || rings_cross(polygon.holes[k], hole);
        if (!meets) continue;
        Vec2 const middle = centroid(hole);
        for (Vec2& p : hole) p += std::min(0.2, by / std::max(by, glm::length(middle - p))) * (middle - p);
    }
}

Polygon scaled_up(Polygon polygon, double factor) {
    for (Vec2& p : polygon.outer) p *= factor;
    for (Ring& hole : polygon.holes)
        for (Vec2& p : hole) p *= factor;
    return polygon;
}

struct LeafWork {
    Polygon region; // mm, at the leaf's size, y up
    OutlineEnds ends;
    std::vector<std::vector<Vec2>> veins;
};

LeafWork work_of(Polygon const& region, std::vector<std::vector<Vec2>> const& lines, double factor) {
    LeafWork work{scaled_up(region, factor), ends_of(region.outer), lines_within(region, lines, 1e-9)};
    work.ends = ends_by_veins(work.ends, work.veins);
    for (std::vector<Vec2>& line : work.veins)
        for (Vec2& p : line) p *= factor;
    work.veins = lines_within(work.region, work.veins, kVeinTolerance_mm);
    work.ends = {work.ends.base * factor, work.ends.tip * factor, work.ends.stalk * factor};
    return work;
}

Outcome<OwnLeaf> leaf_of(LeafWork const& work, double tolerance_mm) {
    OwnLeaf leaf;
    leaf.source = LeafSource::svg;
    Polygon const& region = work.region;
    for (double tolerance : {tolerance_mm, 0.3 * tolerance_mm}) {
        Polygon outline;
        outline.outer = thinned_ring(region.outer, tolerance);
        double const least = kSpeck * area(region);
        for (Ring const& hole : region.holes)
            if (std::abs(signed_area(hole)) >= least && outline.holes.size() < kMostOwnHoles)
                outline.holes.push_back(thinned_ring(hole, tolerance));
        part_holes(outline, tolerance_mm);
        leaf.outline_mm = thinned_polygon(outline, kMostOwnPoints, kMostOwnPoints);
        take_drawn_veins(leaf, work.ends, work.veins);
        leaf.stalk_mm = work.ends.stalk;
        leaf = upright(std::move(leaf));
        if (leaf.outline_mm.outer.size() > kMostOwnPoints) continue;
        if (!check_own_leaf(leaf)) return leaf;
    }
    if (MaybeProblem problem = check_own_leaf(leaf)) return *problem;
    return Problem{"leaf.outline", "outline_mm", fmt::format("needs more than {} points", kMostOwnPoints),
                   "Save a simpler drawing of the leaf"};
}

Vec2 on_page(Vec2 const& p, double factor) { return Vec2{p.x, -p.y} / factor; }

void set_by_hand(OutlineEnds& ends, SvgLeafOptions const& options, double factor) {
    if (options.base_mm || options.tip_mm) ends.stalk = 0;
    if (options.base_mm) ends.base = Vec2{options.base_mm->x, -options.base_mm->y} * factor;
    if (options.tip_mm) ends.tip = Vec2{options.tip_mm->x, -options.tip_mm->y} * factor;
}

} // namespace

std::vector<Polygon> drawn_regions(SvgDrawing const& drawing, bool as_drawn) {
    std::vector<Ring> all;
    for (SvgShape const& shape : drawing.shapes) add_shape(shape, as_drawn, all);
    return filled_regions(all, FillRule::nonzero);
}

Outcome<SvgLeaves> leaves_of_svg(std::string_view text, SvgLeafOptions const& options) {
    SvgOptions reading;
    reading.dpi = options.dpi;
    Outcome<SvgDrawing> read = read_svg(text, reading);
    if (!read) return read.problem();
    SvgLeaves found;
    found.size = read->size;
    found.dpi = read->dpi;
    found.remarks = read->remarks;
    if (leave_background_out(*read)) found.remarks.emplace_back("a rectangle behind the leaf is left out");
    std::vector<Polygon> regions = drawn_regions(*read);
    if (regions.empty())
        return Problem{"svg.empty", "", "no closed shape is drawn", "Draw the leaf as a filled shape or a closed line"};
    if (!options.length_mm && found.size == SvgSize::unknown)
        return Problem{"svg.no-size", "", "the drawing tells no size", "Give the leaf's length in mm (--length-mm)"};
    std::vector<std::vector<Vec2>> const lines = open_lines(*read);
    double factor = 1;
    if (options.length_mm) {
        OutlineEnds ends = work_of(regions[0], lines, 1).ends;
        set_by_hand(ends, options, 1);
        Vec2 const up = glm::normalize(ends.tip - ends.base);
        double top = 0;
        for (Vec2 const& p : regions[0].outer) top = std::max(top, glm::dot(p - ends.base, up));
        factor = *options.length_mm / top;
    } else if (found.size == SvgSize::pixels) {
        found.remarks.push_back(fmt::format("the size is told in pixels, taken at {:.0f} to the inch{}", found.dpi,
                                            read->old_dpi && options.dpi == 0 ? " as the old program wrote them" : ""));
    }
    double const largest = area(regions[0]);
    MaybeProblem refused;
    for (Polygon const& region : regions) {
        if (area(region) < kLeafShare * largest || found.leaves.size() >= kMostLeavesRead) break;
        LeafWork work = work_of(region, lines, factor);
        if (&region == &regions.front()) set_by_hand(work.ends, options, factor);
        Outcome<OwnLeaf> leaf = leaf_of(work, options.tolerance_mm);
        if (leaf) {
            found.leaves.push_back(std::move(*leaf));
            found.ends_mm.push_back({on_page(work.ends.base, factor), on_page(work.ends.tip, factor)});
        } else if (!refused) {
            refused = leaf.problem();
        }
    }
    if (found.leaves.empty()) return *refused;
    if (refused) found.remarks.push_back("one shape is no leaf: " + refused->what);
    found.remarks.push_back(veins_told(found.leaves.front()));
    return found;
}

} // namespace leafwright
