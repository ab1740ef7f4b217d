#include "rows/overlap.h"

#include "base/units.h"
#include "cgal_twin.h"
#include "geos_twin.h"
#include "near.h"
#include "overlap_layouts.h"

#include <algorithm>
#include <cstdlib>
#include <map>

using namespace leafwright;
using namespace leafwright::layouts;

namespace {

OverlapFigures figures_of(Layout const& layout) { return OverlapEngine().update(layout.zone, layout.leaves); }

std::map<std::pair<int, int>, double> by_ids(std::vector<OverlapPair> const& pairs) {
    std::map<std::pair<int, int>, double> map;
    for (OverlapPair const& pair : pairs) map[{pair.upper, pair.lower}] = pair.area_mm2;
    return map;
}

// Every pair above 10 mm2 to 1e-6; smaller ones to 1e-5 mm2.
void check_pairs(std::vector<OverlapPair> const& ours, std::vector<OverlapPair> const& theirs) {
    auto const mine = by_ids(ours);
    auto const twin = by_ids(theirs);
    double worst = 0;
    auto const compare = [&](auto const& these, auto const& others) {
        for (auto const& [ids, area] : these) {
            auto const found = others.find(ids);
            double const other = found == others.end() ? 0.0 : found->second;
            worst = std::max(worst, std::abs(area - other) / std::max(10.0, area));
        }
    };
    compare(mine, twin);
    compare(twin, mine);
    CHECK_NEAR(worst, 0, 1e-6);
}

void check_against_geos(Layout const& layout, geos::TwinOptions const& options) {
    OverlapFigures const mine = figures_of(layout);
    OverlapFigures const twin = geos::twin_figures(layout.zone, layout.leaves, options);
    CHECK_REL(mine.area_mm2, twin.area_mm2, 1e-9);
    CHECK_REL(mine.union_mm2, twin.union_mm2, 1e-6);
    CHECK_REL(mine.zone_mm2, twin.zone_mm2, 1e-6);
    CHECK_NEAR(mine.bare_mm2, twin.bare_mm2, 1e-6 * twin.zone_mm2);
    CHECK_NEAR(mine.overhang_mm2, twin.overhang_mm2, 1e-6 * twin.union_mm2);
    check_pairs(mine.pairs, twin.pairs);
    for (std::size_t k = 0; k < twin.layers_mm2.size(); ++k) {
        double const found = k < mine.layers_mm2.size() ? mine.layers_mm2[k] : 0.0;
        CHECK_NEAR(found, twin.layers_mm2[k], 1e-6 * std::max(10.0, twin.layers_mm2[k]));
    }
    for (std::size_t i = 0; i < twin.leaves.size(); ++i) {
        CHECK(mine.leaves[i].id == twin.leaves[i].id);
        CHECK_NEAR(mine.leaves[i].exposed_mm2, twin.leaves[i].exposed_mm2, 1e-6 * twin.leaves[i].area_mm2);
        CHECK_NEAR(mine.leaves[i].overhang_mm2, twin.leaves[i].overhang_mm2, 1e-6 * twin.leaves[i].area_mm2);
        CHECK_NEAR(mine.leaves[i].lap, twin.leaves[i].lap, 1e-6);
    }
}

void check_against_cgal(Layout const& layout) {
    OverlapFigures const mine = figures_of(layout);
    OverlapFigures const twin = cgal::twin_figures(layout.zone, layout.leaves);
    CHECK_REL(mine.area_mm2, twin.area_mm2, 1e-9);
    CHECK_REL(mine.union_mm2, twin.union_mm2, 1e-9);
    CHECK_REL(mine.zone_mm2, twin.zone_mm2, 1e-9);
    CHECK_NEAR(mine.bare_mm2, twin.bare_mm2, 1e-9 * twin.zone_mm2);
    CHECK_NEAR(mine.overhang_mm2, twin.overhang_mm2, 1e-9 * twin.union_mm2);
    check_pairs(mine.pairs, twin.pairs);
    for (std::size_t i = 0; i < twin.leaves.size(); ++i) {
        CHECK_NEAR(mine.leaves[i].exposed_mm2, twin.leaves[i].exposed_mm2, 1e-9 * twin.leaves[i].area_mm2);
        CHECK_NEAR(mine.leaves[i].overhang_mm2, twin.leaves[i].overhang_mm2, 1e-9 * twin.leaves[i].area_mm2);
    }
}

double bare_by_polygons(Layout const& layout, int& rings) {
    OverlapEngine engine;
    engine.update(layout.zone, layout.leaves);
    double sum = 0;
    rings = 0;
    for (Polygon const& polygon : engine.bare_polygons()) {
        sum += area(polygon);
        ++rings;
    }
    return sum;
}

double sum_of(std::vector<double> const& values) {
    double sum = 0;
    for (double const value : values) sum += value;
    return sum;
}

Polygon circle(Vec2 const& centre, Vec2 const& half_size, int points) {
    return {*ellipse(centre, half_size, points), {}};
}

} // namespace

TEST_CASE("two unit circles at distance 1 share a lens of 2 pi/3 - sqrt(3)/2") {
    // Plane geometry. Circles of 4000 corners with the area of the true ones: what is left is of order 1/n^2.
    double const grown = std::sqrt(kTwoPi / 4000 / std::sin(kTwoPi / 4000));
    std::vector<OverlapLeaf> const leaves{as_leaf(1, circle({0, 0}, {grown, grown}, 4000)),
                                          as_leaf(2, circle({1, 0}, {grown, grown}, 4000))};
    OverlapFigures const figures = figures_of({{}, leaves});
    REQUIRE(figures.pairs.size() == 1);
    CHECK_REL(figures.pairs[0].area_mm2, 2.0 * kPi / 3.0 - std::sqrt(3.0) / 2.0, 1e-6);
    CHECK_REL(figures.union_mm2, 5.054815608571, 1e-6);
    CHECK_REL(figures.leaves[0].exposed_mm2, kPi - 1.228369698609, 1e-6);
    CHECK_REL(figures.leaves[1].exposed_mm2, kPi, 1e-6);
}

TEST_CASE("ellipses 50 by 20 shifted by 50 share the lens stretched by both half axes") {
    double const grown = std::sqrt(kTwoPi / 4000 / std::sin(kTwoPi / 4000));
    std::vector<OverlapLeaf> const leaves{as_leaf(1, circle({0, 0}, {50 * grown, 20 * grown}, 4000)),
                                          as_leaf(2, circle({50, 0}, {50 * grown, 20 * grown}, 4000))};
    OverlapFigures const figures = figures_of({{}, leaves});
    REQUIRE(figures.pairs.size() == 1);
    CHECK_REL(figures.pairs[0].area_mm2, 1228.369698609, 1e-6);
}

TEST_CASE("scattered leaves have the areas that GEOS finds, every layer and pair") {
    check_against_geos(scattered(30, 1), {});
    check_against_geos(scattered(30, 2, 6.0), {});
    check_against_geos(scattered(100, 3), {});
}

TEST_CASE("three hundred leaves have the areas that GEOS finds, every layer and pair") {
    check_against_geos(scattered(300, 4), {});
}

TEST_CASE("squares on a lattice with shared edges and corners have the areas that GEOS finds") {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) check_against_geos(lattice(40, seed), {});
}

TEST_CASE("leaves that are the same, covered, or slid along themselves have the areas that GEOS finds") {
    for (std::uint64_t seed = 1; seed <= 3; ++seed) check_against_geos(repeated(40, seed), {});
}

TEST_CASE("a hundred leaves of every form have the areas that CGAL finds in exact arithmetic") {
    check_against_cgal(scattered(100, 31));
}

TEST_CASE("shared edges and corners, the same leaf again, and leaves wholly covered have CGAL's exact areas") {
    check_against_cgal(lattice(40, 32));
    check_against_cgal(repeated(40, 33));
}

TEST_CASE("large layouts have the areas that CGAL finds in exact arithmetic (asked for by LEAFWRIGHT_LONG_TESTS)") {
    if (std::getenv("LEAFWRIGHT_LONG_TESTS") == nullptr) {
        MESSAGE("skipped: LEAFWRIGHT_LONG_TESTS is not set");
        return;
    }
    check_against_cgal(scattered(300, 34));
    check_against_cgal(scattered(1000, 35));
    check_against_geos(scattered(1000, 36), {});
    check_against_cgal(repeated(300, 37));
    check_against_cgal(lattice(150, 38));
}

TEST_CASE("bare clay as polygons has the engine's bare area, with rings and leaves alone amid it as holes") {
    for (Layout const& layout : {scattered(40, 41, 0.5), scattered(100, 42, 1.5), scattered(60, 43, 0.2)}) {
        int rings = 0;
        double const sum = bare_by_polygons(layout, rings);
        CHECK_REL(sum, figures_of(layout).bare_mm2, 1e-7);
        CHECK(rings > 0);
    }
    // One leaf on a plain round: one polygon with one hole.
    Layout one;
    one.zone.rim = ellipse({0, 0}, {100, 100}, 360);
    one.leaves = {as_leaf(1, leaf_of(LeafForm::plain, {}))};
    OverlapEngine engine;
    double const bare = engine.update(one.zone, one.leaves).bare_mm2;
    REQUIRE(engine.bare_polygons().size() == 1);
    CHECK(engine.bare_polygons()[0].holes.size() == 1);
    CHECK_REL(area(engine.bare_polygons()[0]), bare, 1e-9);
    // A leaf across it from edge to edge: two.
    one.leaves = {as_leaf(1, {{{-200, -10}, {200, -10}, {200, 10}, {-200, 10}}, {}})};
    engine.update(one.zone, one.leaves);
    CHECK(engine.bare_polygons().size() == 2);
    one.leaves = {as_leaf(1, {{{-200, -200}, {200, -200}, {200, 200}, {-200, 200}}, {}})};
    engine.update(one.zone, one.leaves);
    CHECK(engine.bare_polygons().empty());
}

TEST_CASE("areas by layer add up to the leaves' areas, and bare clay and cover to the zone") {
    for (Layout const& layout : {scattered(300, 5), crowded(200, 6), lattice(200, 7), repeated(100, 8)}) {
        OverlapFigures const figures = figures_of(layout);
        double exposed = 0;
        for (OverlapOfLeaf const& leaf : figures.leaves) exposed += leaf.exposed_mm2;
        CHECK_REL(sum_of(figures.layers_mm2), figures.area_mm2, 1e-10);
        CHECK_REL(exposed, figures.union_mm2, 1e-10);
        CHECK(std::ranges::is_sorted(figures.layers_mm2, std::greater<>()));
        // A leaf that covers everything else takes away exactly the zone's bare clay.
        Layout over = layout;
        over.leaves.push_back(as_leaf(100000, {{{-900, -900}, {900, -900}, {900, 900}, {-900, 900}}, {}}));
        OverlapFigures const covered = figures_of(over);
        CHECK(covered.bare_mm2 == 0);
        CHECK_REL(covered.zone_mm2, figures.zone_mm2, 1e-12);
        for (std::size_t i = 0; i + 1 < covered.leaves.size(); ++i) CHECK(covered.leaves[i].exposed_mm2 == 0);
        CHECK_REL(covered.overhang_mm2, 1800.0 * 1800.0 - signed_area(*layout.zone.rim), 1e-10);
    }
}

TEST_CASE("leaves that share nothing may be laid in any order") {
    Layout layout = scattered(200, 9, 1.0);
    OverlapFigures const before = figures_of(layout);
    std::map<int, double> exposed;
    for (OverlapOfLeaf const& leaf : before.leaves) exposed[leaf.id] = leaf.exposed_mm2;
    auto const pairs = by_ids(before.pairs);
    // Trade neighbours in the order that do not overlap, back to front.
    int traded = 0;
    for (std::size_t pass = 0; pass < 60; ++pass)
        for (std::size_t i = 1; i < layout.leaves.size(); ++i) {
            if (pairs.contains({layout.leaves[i].id, layout.leaves[i - 1].id})) continue;
            std::swap(layout.leaves[i], layout.leaves[i - 1]);
            ++traded;
        }
    CHECK(traded > 5000);
    OverlapFigures const after = figures_of(layout);
    for (OverlapOfLeaf const& leaf : after.leaves) CHECK_NEAR(leaf.exposed_mm2, exposed[leaf.id], 1e-7);
    CHECK_REL(after.union_mm2, before.union_mm2, 1e-12);
    CHECK_REL(after.bare_mm2, before.bare_mm2, 1e-9);
    CHECK(after.pairs.size() == before.pairs.size());
}

namespace {

Layout mapped(Layout const& layout, auto const& map) {
    auto const ring_of = [&](Ring ring) {
        for (Vec2& p : ring) p = map(p);
        return ring;
    };
    Layout other;
    other.zone.rim = std::make_shared<Ring const>(ring_of(*layout.zone.rim));
    for (auto const& ring : layout.zone.keep_clear)
        other.zone.keep_clear.push_back(std::make_shared<Ring const>(ring_of(*ring)));
    for (OverlapLeaf const& leaf : layout.leaves) {
        Polygon polygon{ring_of(leaf.chart->outer), {}};
        for (Ring const& hole : leaf.chart->holes) polygon.holes.push_back(ring_of(hole));
        other.leaves.push_back(as_leaf(leaf.id, std::move(polygon)));
    }
    return other;
}

void check_same_areas(OverlapFigures const& before, OverlapFigures const& after) {
    CHECK_REL(after.union_mm2, before.union_mm2, 1e-9);
    CHECK_REL(after.bare_mm2, before.bare_mm2, 1e-9);
    CHECK_REL(after.overhang_mm2, before.overhang_mm2, 1e-9);
    REQUIRE(after.pairs.size() == before.pairs.size());
    for (std::size_t i = 0; i < after.pairs.size(); ++i)
        CHECK_NEAR(after.pairs[i].area_mm2, before.pairs[i].area_mm2, 1e-6);
    for (std::size_t i = 0; i < after.leaves.size(); ++i)
        CHECK_NEAR(after.leaves[i].exposed_mm2, before.leaves[i].exposed_mm2, 1e-6);
}

} // namespace

TEST_CASE("moving, turning or mirroring the whole arrangement changes no area") {
    Layout const layout = scattered(100, 10);
    OverlapFigures const before = figures_of(layout);
    check_same_areas(before, figures_of(mapped(layout, [](Vec2 const& p) { return p + Vec2{813.37, -421.9}; })));
    check_same_areas(before, figures_of(mapped(layout, [](Vec2 const& p) { return Vec2{-p.x, p.y}; })));
    Random random(11);
    for (int k = 0; k < 5; ++k) {
        double const turn = random.between(0, kTwoPi);
        Vec2 const u{std::cos(turn), std::sin(turn)};
        check_same_areas(before, figures_of(mapped(layout, [&](Vec2 const& p) {
                             return Vec2{p.x * u.x - p.y * u.y, p.x * u.y + p.y * u.x};
                         })));
    }
}

TEST_CASE("a leaf that slides by a hair changes no area by more than its rim sweeps") {
    // Corners on edges and edges on edges, just missed or just met: areas must not jump.
    Layout layout = lattice(40, 12);
    OverlapFigures const before = figures_of(layout);
    for (double const hair : {1e-3, 1e-6, 1e-9, 3e-10})
        for (std::size_t i = 0; i < layout.leaves.size(); i += 7) {
            Layout moved = layout;
            Polygon polygon = *layout.leaves[i].chart;
            for (Vec2& p : polygon.outer) p += Vec2{hair, -hair};
            for (Ring& hole : polygon.holes)
                for (Vec2& p : hole) p += Vec2{hair, -hair};
            moved.leaves[i] = as_leaf(layout.leaves[i].id, std::move(polygon));
            OverlapFigures const after = figures_of(moved);
            CHECK_NEAR(after.union_mm2, before.union_mm2, 200 * hair + 1e-7);
            CHECK_NEAR(after.bare_mm2, before.bare_mm2, 200 * hair + 1e-7);
            for (std::size_t k = 0; k < after.leaves.size(); ++k)
                CHECK_NEAR(after.leaves[k].exposed_mm2, before.leaves[k].exposed_mm2, 200 * hair + 1e-7);
        }
}

TEST_CASE("copies turned, shrunk and moved by next to nothing share all but next to nothing") {
    Random random(13);
    for (int k = 0; k < 400; ++k) {
        auto const form = static_cast<LeafForm>(k % 4);
        Pose const pose = random_pose(random, 300);
        double const little = std::pow(10.0, -random.between(4, 13));
        std::vector<OverlapLeaf> leaves;
        for (int copy = 0; copy < 3; ++copy) {
            Pose near = pose;
            near.at += little * Vec2{random.between(-1, 1), random.between(-1, 1)};
            near.turn_rad += little * random.between(-1, 1);
            near.scale *= 1 + little * random.between(-1, 1);
            leaves.push_back(as_leaf(3 - copy, leaf_of(form, near)));
        }
        OverlapFigures const figures = figures_of({{}, leaves});
        // Outlines of at most 500 mm stray by at most 100 times as much; the rounding of 2e-10 mm comes on top.
        double const most = 500 * 100 * little + 2e-7;
        double const whole = figures.area_mm2 / 3;
        REQUIRE(figures.pairs.size() == 3);
        for (OverlapPair const& pair : figures.pairs) CHECK_NEAR(pair.area_mm2, whole, most);
        CHECK_NEAR(figures.union_mm2, whole, most);
        CHECK_NEAR(figures.layers_mm2.back(), whole, most);
        CHECK(figures.layers_mm2.size() == 3);
        CHECK_NEAR(figures.leaves[0].exposed_mm2, 0, most);
        CHECK_NEAR(figures.leaves[1].exposed_mm2, 0, most);
    }
}

TEST_CASE("no leaves, no rim, leaves without area: all figures are there") {
    OverlapEngine engine;
    CHECK(engine.update({}, {}).union_mm2 == 0);
    CladZone const zone{ellipse({0, 0}, {10, 10}, 64), {}};
    OverlapFigures const bare = engine.update(zone, {});
    CHECK_REL(bare.bare_mm2, signed_area(*zone.rim), 1e-10);
    CHECK(bare.zone_mm2 == bare.bare_mm2);
    std::vector<OverlapLeaf> const flat{
        as_leaf(1, {{{0, 0}, {1, 1}}, {}}), as_leaf(2, {{{0, 0}, {1, 1}, {2, 2}}, {}}), {3, nullptr}};
    OverlapFigures const figures = engine.update(zone, flat);
    CHECK(figures.union_mm2 == 0);
    CHECK(figures.leaves.size() == 3);
    CHECK_REL(figures.bare_mm2, bare.bare_mm2, 1e-12);
}
