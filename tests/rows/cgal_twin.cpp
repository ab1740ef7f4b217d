#include "cgal_twin.h"

#include <CGAL/Exact_predicates_exact_constructions_kernel.h>
#include <CGAL/Polygon_set_2.h>

namespace leafwright::cgal {

namespace {

using Kernel = CGAL::Exact_predicates_exact_constructions_kernel;
using Simple = CGAL::Polygon_2<Kernel>;
using Holed = CGAL::Polygon_with_holes_2<Kernel>;
using Set = CGAL::Polygon_set_2<Kernel>;

Simple simple_of(Ring const& ring, CGAL::Orientation way) {
    Simple made;
    for (Vec2 const& p : ring) made.push_back({p.x, p.y});
    if (made.orientation() != way) made.reverse_orientation();
    return made;
}

Holed holed_of(Polygon const& polygon) {
    Holed made(simple_of(polygon.outer, CGAL::COUNTERCLOCKWISE));
    for (Ring const& hole : polygon.holes) made.add_hole(simple_of(hole, CGAL::CLOCKWISE));
    return made;
}

Kernel::FT exact_area(Holed const& polygon) {
    Kernel::FT sum = polygon.outer_boundary().area();
    for (auto hole = polygon.holes_begin(); hole != polygon.holes_end(); ++hole) sum += hole->area();
    return sum;
}

double area_of(std::vector<Holed> const& polygons) {
    Kernel::FT sum = 0;
    for (Holed const& polygon : polygons) sum += exact_area(polygon);
    return CGAL::to_double(sum);
}

double area_of(Set const& set) {
    std::vector<Holed> polygons;
    set.polygons_with_holes(std::back_inserter(polygons));
    return area_of(polygons);
}

std::vector<Holed> both(Holed const& a, Holed const& b) {
    Set set(a); // the same kind of arrangement as below: another would be as long to compile again
    set.intersection(b);
    std::vector<Holed> parts;
    set.polygons_with_holes(std::back_inserter(parts));
    return parts;
}

Set united(std::vector<Holed> const& polygons) {
    Set set;
    set.join(polygons.begin(), polygons.end());
    return set;
}

double area_without(Holed const& polygon, Set const& other) {
    Set rest(polygon);
    rest.difference(other);
    return area_of(rest);
}

struct Shapes {
    explicit Shapes(std::span<OverlapLeaf const> leaves) {
        for (OverlapLeaf const& leaf : leaves) {
            polygons.push_back(holed_of(*leaf.chart));
            boxes.push_back(bounds(leaf.chart->outer));
        }
    }
    std::vector<Holed> polygons;
    std::vector<Box2> boxes;
};

void find_each(Shapes const& shapes, std::span<OverlapLeaf const> leaves, Set const& rim, OverlapFigures& out) {
    for (std::size_t i = 0; i < shapes.polygons.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            if (!shapes.boxes[i].overlaps(shapes.boxes[j])) continue;
            double const area = area_of(both(shapes.polygons[i], shapes.polygons[j]));
            if (area > 1e-9) out.pairs.push_back({leaves[i].id, leaves[j].id, area});
        }
        std::vector<Holed> later;
        for (std::size_t j = i + 1; j < shapes.polygons.size(); ++j)
            if (shapes.boxes[i].overlaps(shapes.boxes[j])) later.push_back(shapes.polygons[j]);
        double const area = CGAL::to_double(exact_area(shapes.polygons[i]));
        double const exposed = area_without(shapes.polygons[i], united(later));
        out.leaves.push_back({leaves[i].id, area, exposed, 1 - exposed / area, area_without(shapes.polygons[i], rim)});
        out.area_mm2 += area;
    }
}

} // namespace

OverlapFigures twin_figures(CladZone const& zone, std::span<OverlapLeaf const> leaves) {
    Shapes const shapes(leaves);
    OverlapFigures out;
    Set const rim(holed_of({*zone.rim, {}}));
    find_each(shapes, leaves, rim, out);
    Set const cover = united(shapes.polygons);
    out.union_mm2 = area_of(cover);
    Set clad = rim;
    for (auto const& ring : zone.keep_clear) clad.difference(holed_of({*ring, {}}));
    out.zone_mm2 = area_of(clad);
    clad.difference(cover);
    out.bare_mm2 = area_of(clad);
    Set beyond = cover;
    beyond.difference(rim);
    out.overhang_mm2 = area_of(beyond);
    return out;
}

struct Bench::State : Shapes {
    using Shapes::Shapes;
};

Bench::Bench(std::span<OverlapLeaf const> leaves) : state_(std::make_unique<State>(leaves)) {}
Bench::~Bench() = default;

double Bench::move(std::size_t which, OverlapLeaf const& leaf) {
    State& state = *state_;
    state.polygons[which] = holed_of(*leaf.chart);
    state.boxes[which] = bounds(leaf.chart->outer);
    std::vector<Holed> parts;
    for (std::size_t j = 0; j < state.polygons.size(); ++j) {
        if (j == which || !state.boxes[j].overlaps(state.boxes[which])) continue;
        for (Holed& part : both(state.polygons[which], state.polygons[j])) parts.push_back(std::move(part));
    }
    return area_of(parts) + area_of(united(parts));
}

} // namespace leafwright::cgal
