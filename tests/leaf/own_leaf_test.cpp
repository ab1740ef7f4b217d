// Leaves of the maker's own: frame, checks, veins, measures, and the leaf in clay.
#include "base/units.h"
#include "leaf/clay_leaf.h"
#include "leaf/leaf_margin.h"
#include "leaf/leaf_measures.h"
#include "leaf/vein_growth.h"

#include <near.h>

#include <algorithm>
#include <map>

using namespace leafwright;

namespace {

OwnLeaf leaf_of_ring(Ring ring, Vec2 base, Vec2 tip) {
    OwnLeaf leaf;
    leaf.id = leaf.name = "test";
    leaf.outline_mm.outer = std::move(ring);
    leaf.midrib_mm = {base, tip};
    return leaf;
}

// Two arcs of circle that meet in points (checks.md G16), `half` wide at the middle.
OwnLeaf vesica(double length, double half, int points = 400) {
    double const r = (length * length / 4 + half * half) / (2 * half);
    Ring ring;
    double const f = std::asin(length / (2 * r));
    for (int side : {1, -1})
        for (int i = 0; i < points; ++i) {
            double const t = -f + 2 * f * i / points;
            ring.emplace_back(side * (r * std::cos(t) - (r - half)), side * r * std::sin(t) + length / 2);
        }
    return leaf_of_ring(ring, {0, 0}, {0, length});
}

OwnLeaf ellipse(double length, double width, int points = 600) {
    Ring ring;
    for (int i = 0; i < points; ++i)
        ring.emplace_back(0.5 * width * std::sin(-kTwoPi * i / points),
                          0.5 * length - 0.5 * length * std::cos(kTwoPi * i / points));
    return leaf_of_ring(counter_clockwise(ring), {0, 0}, {0, length});
}

OwnLeaf drawer_leaf(char const* name, double length = 100) {
    LeafShape const shape = *draw_leaf(name, length);
    OwnLeaf leaf = leaf_of_ring(shape.outline_mm.outer, {0, 0}, {0, shape.length_mm});
    return leaf;
}

bool on_or_in(Polygon const& outline, Vec2 const& p) { return contains(outline, p); }

} // namespace

TEST_CASE("Upright is the same frame whatever way the leaf lay, and changes nothing twice") {
    OwnLeaf const straight = upright(vesica(80, 15));
    OwnLeaf laid = straight;
    double const c = std::cos(1.1), s = std::sin(1.1);
    auto const moved = [&](Vec2& p) { p = Vec2{c * p.x - s * p.y + 30, s * p.x + c * p.y - 12}; };
    for (Vec2& p : laid.outline_mm.outer) moved(p);
    for (Vec2& p : laid.midrib_mm) moved(p);
    std::ranges::reverse(laid.outline_mm.outer);
    OwnLeaf const again = upright(laid);
    CHECK_REL(area(again.outline_mm), area(straight.outline_mm), 1e-4);
    CHECK_NEAR(length_mm(again), 80, 0.002);
    CHECK(again.base_mm() == Vec2{0, 0});
    CHECK(again.tip_mm().x == 0);
    CHECK(upright(again) == again);
    CHECK(mirrored(mirrored(again)) == again);
}

TEST_CASE("Outlines that are none are refused with the key") {
    OwnLeaf leaf = vesica(80, 15);
    CHECK_FALSE(check_own_leaf(leaf));
    OwnLeaf crossed = leaf;
    std::swap(crossed.outline_mm.outer[10], crossed.outline_mm.outer[300]);
    CHECK(check_own_leaf(crossed)->where == "outline_mm");
    OwnLeaf bitten = leaf;
    bitten.outline_mm.holes = {{{-3, 40}, {-3, 46}, {3, 46}, {3, 40}}};
    CHECK_FALSE(check_own_leaf(bitten));
    CHECK(shape_from(bitten).outline_mm.holes.size() == 1);
    bitten.outline_mm.holes.push_back({{0, 42}, {0, 50}, {6, 50}});
    CHECK(check_own_leaf(bitten)->where == "holes[1]");
    OwnLeaf outside = leaf;
    outside.outline_mm.holes = {{{40, 40}, {41, 42}, {42, 40}}};
    CHECK(check_own_leaf(outside)->where == "holes[0]");
    OwnLeaf no_tip = leaf;
    no_tip.midrib_mm = {{0, 0}};
    CHECK(check_own_leaf(no_tip)->code == "leaf.midrib");
}

TEST_CASE("Areas and shape factors are those of the closed forms") {
    // checks.md G16, L1, L4: computed from plane geometry; Montgomery's bounds 1/2 and pi/4.
    LeafMeasures const two_arcs = measures(vesica(100, 20));
    CHECK_REL(two_arcs.area_mm2, 2750.146578791, 2e-5);
    CHECK_REL(two_arcs.shape_factor, 0.6875366447, 5e-5);
    CHECK_NEAR(two_arcs.length_mm, 100, 0.01);
    CHECK_NEAR(two_arcs.width_mm, 40, 0.01);
    LeafMeasures const round = measures(ellipse(100, 40));
    CHECK_REL(round.area_mm2, 3141.592654, 5e-5);
    CHECK_REL(round.shape_factor, kPi / 4, 1e-4);
    // Ramanujan's perimeter of an ellipse (Q. J. Math. 45 (1914) 350): exact to 1e-6 at this flatness.
    double const h = std::pow((50.0 - 20.0) / (50.0 + 20.0), 2);
    CHECK_REL(round.perimeter_mm, kPi * 70 * (1 + 3 * h / (10 + std::sqrt(4 - 3 * h))), 2e-5);
    LeafMeasures const triangle = measures(leaf_of_ring({{-20, 0}, {20, 0}, {0, 100}}, {0, 0}, {0, 100}));
    CHECK_REL(triangle.area_mm2, 2000, 1e-9);
    CHECK_REL(triangle.shape_factor, 0.5, 1e-9);
    // A sector of half angle q: q / (2 sin q).
    for (auto const& [q, k] : {std::pair{30.0, 0.523598775598}, {60.0, 0.604599788078}, {90.0, 0.785398163397}}) {
        Ring ring{{0, 0}};
        for (int i = 0; i <= 800; ++i) {
            double const t = radians(-q + 2 * q * i / 800);
            ring.emplace_back(-100 * std::sin(t), 100 * std::cos(t));
        }
        LeafMeasures const sector = measures(leaf_of_ring(counter_clockwise(ring), {0, 0}, {0, 100}));
        CHECK_REL(sector.shape_factor, k, 1e-4);
    }
}

TEST_CASE("The drawer's leaves lie within the published bounds of the shape factor") {
    // Schrader et al., Annals of Botany 128 (2021) 395: 0.39 (much cut) to 0.79; palmate leaves with deep bays below.
    int within = 0;
    int all = 0;
    for (DrawerEntry const& entry : drawer_entries()) {
        double const k = measures(drawer_leaf(entry.name.c_str())).shape_factor;
        CHECK(k > 0.25);
        CHECK(k < 0.85);
        CHECK(k <= 1.035); // Koyama (abstract): compound leaves 0.298 to 1.035
        within += k >= 0.39 && k <= 0.79;
        ++all;
    }
    CHECK(within >= all * 3 / 4);
}

TEST_CASE("Shapes, ends and sizes have their names") {
    // checks.md L5, L7: elliptic 2:1 to 3:2, widely 6:5, circular 1:1, narrowly 6:1 to 3:1; ovate when widest below.
    CHECK(shape_name(4, 0.5, false) == "narrowly elliptic");
    CHECK(shape_name(2, 0.5, false) == "elliptic");
    CHECK(shape_name(1.5, 0.5, false) == "elliptic");
    CHECK(shape_name(1.2, 0.5, false) == "widely elliptic");
    CHECK(shape_name(1, 0.5, false) == "circular");
    CHECK(shape_name(3, 0.3, false) == "lanceolate");
    CHECK(shape_name(1.8, 0.3, false) == "ovate");
    CHECK(shape_name(1.2, 0.3, false) == "widely ovate");
    CHECK(shape_name(1, 0.3, false) == "very widely ovate");
    CHECK(shape_name(3, 0.7, false) == "oblanceolate");
    CHECK(shape_name(1.8, 0.7, false) == "obovate");
    CHECK(shape_name(13, 0.5, true) == "linear");
    CHECK(shape_name(4, 0.5, true) == "narrowly oblong");
    CHECK(shape_name(2, 0.5, true) == "oblong");
    CHECK(measures(ellipse(100, 50)).shape == "elliptic");
    CHECK(measures(ellipse(60, 60)).shape == "circular");
    // L9.
    CHECK(size_class(224) == "nanophyll");
    CHECK(size_class(2024) == "microphyll");
    CHECK(size_class(2026) == "notophyll");
    CHECK(size_class(4501) == "mesophyll");
    CHECK(size_class(18226) == "macrophyll");
    // L6.
    CHECK(apex_name(44, 0) == "acuminate");
    CHECK(apex_name(60, 0) == "acute");
    CHECK(apex_name(91, 0) == "obtuse");
    CHECK(apex_name(91, 0.05) == "retuse");
    CHECK(apex_name(91, 0.1) == "emarginate");
    CHECK(apex_name(91, 0.2) == "obcordate");
    CHECK(apex_name(91, 0.3) == "cleft");
    CHECK(base_name(80) == "acute");
    CHECK(base_name(150) == "obtuse");
    CHECK(base_name(220) == "reflex");
    // A kite's tip is the angle between its sides.
    LeafMeasures const kite = measures(leaf_of_ring({{0, 0}, {30, 50}, {0, 100}, {-30, 50}}, {0, 0}, {0, 100}));
    CHECK_NEAR(kite.apex_deg, 2 * degrees(std::atan2(30, 50)), 1e-6);
    CHECK_NEAR(kite.base_deg, kite.apex_deg, 1e-6);
}

TEST_CASE("Gielis' formula gives its published values") {
    // checks.md L10.
    CHECK_REL(gielis_radius({4, 1, 1, 2, 2, 2}, 0.7), 1, 1e-12);
    CHECK_REL(gielis_radius({5, 1, 1, 2, 7, 7}, 0), 1, 1e-12);
    CHECK_REL(gielis_radius({5, 1, 1, 2, 7, 7}, kPi / 5), 2.378414230, 1e-9);
    double area_of_curve = 0; // a circle of exponent 2.5: 3.380935362537
    for (int i = 0; i < 100000; ++i)
        area_of_curve +=
            0.5 * std::pow(gielis_radius({4, 1, 1, 2.5, 2.5, 2.5}, kTwoPi * i / 100000), 2) * kTwoPi / 100000;
    CHECK_REL(area_of_curve, 3.380935362537, 1e-8);
    OwnLeaf const leaf = gielis_leaf({2, 1, 1, 1, 1, 1}, 90);
    CHECK_FALSE(check_own_leaf(leaf));
    CHECK_NEAR(length_mm(leaf), 90, 0.01);
}

TEST_CASE("Murray's law and angles have their published values") {
    // checks.md L13, L14.
    CHECK_REL(murray_width(0.8, 0.6), 0.8995882891, 1e-9);
    CHECK_REL(1 / murray_width(1, 1), 0.7937005260, 1e-9);
    CHECK_NEAR(murray_angle_deg(1, 1), 37.46731121, 1e-7);
    CHECK_NEAR(murray_angle_deg(0.8, 0.6), 25.50567419, 1e-7);
    CHECK_NEAR(murray_angle_deg(0.6, 0.8), 49.95256027, 1e-7);
}

TEST_CASE("Veins of every pattern are a tree in the outline, a step apart, that reaches every source") {
    // checks.md L12 (Runions et al. 2005) and L13 at every fork.
    for (char const* name : {"hazel", "oak", "field-maple", "ginkgo", "willow", "ivy", "lime"})
        for (VeinPattern pattern : {VeinPattern::pinnate, VeinPattern::lobed, VeinPattern::palmate,
                                    VeinPattern::parallel, VeinPattern::forking}) {
            OwnLeaf const leaf = drawer_leaf(name);
            Polygon const& outline = leaf.outline_mm;
            VeinGrowth const growth = grow_vein_tree(outline, leaf.midrib_mm, 0, pattern, 3);
            VeinTree const& tree = growth.tree;
            INFO(name, " pattern ", static_cast<int>(pattern));
            REQUIRE(tree.size() > 20);
            CHECK(growth.unreached == 0);
            std::size_t edges = 0;
            int outside = 0;
            int uneven = 0;
            std::map<int, double> cubes;
            for (std::size_t i = 0; i < tree.size(); ++i) {
                outside += !on_or_in(outline, tree.at[i]);
                if (tree.parent[i] < 0) continue;
                ++edges;
                CHECK(tree.parent[i] < static_cast<int>(i)); // no loop
                auto const from = static_cast<std::size_t>(tree.parent[i]);
                uneven += std::abs(glm::length(tree.at[i] - tree.at[from]) - growth.step_mm) > 1e-9 * growth.step_mm;
                cubes[tree.parent[i]] += std::pow(tree.width_mm[i], 3);
            }
            CHECK(edges == tree.size() - 1);
            CHECK(outside == 0);
            CHECK(uneven == 0);
            double worst = 0;
            for (auto const& [node, sum] : cubes)
                worst = std::max(worst, std::abs(std::cbrt(sum) / tree.width_mm[static_cast<std::size_t>(node)] - 1));
            CHECK(worst < 1e-9);
            int far = 0;
            for (Vec2 const& source : growth.sources) {
                double least = 1e300;
                for (Vec2 const& p : tree.at) least = std::min(least, glm::length(p - source));
                far += least > growth.kill_mm * (1 + 1e-9);
            }
            CHECK(far == 0);
            // Orders: a vein springs from one of its own order or a lower one.
            for (std::size_t i = 1; i < tree.size(); ++i)
                CHECK(tree.order[i] >= tree.order[static_cast<std::size_t>(tree.parent[i])]);
        }
}

TEST_CASE("Veins keep out of holes, come again by their seed, and are found the same by grid and by plain search") {
    OwnLeaf leaf = vesica(90, 25);
    leaf.outline_mm.holes = {{{4, 40}, {4, 50}, {14, 50}, {14, 40}}};
    VeinGrowth const one = grow_vein_tree(leaf.outline_mm, leaf.midrib_mm, 0, VeinPattern::pinnate, 5);
    VeinGrowth const plain =
        grow_vein_tree(leaf.outline_mm, leaf.midrib_mm, 0, VeinPattern::pinnate, 5, NearestBy::plain);
    VeinGrowth const other = grow_vein_tree(leaf.outline_mm, leaf.midrib_mm, 0, VeinPattern::pinnate, 6);
    CHECK(one.tree.at == plain.tree.at);
    CHECK(one.tree.at != other.tree.at);
    CHECK(one.unreached == 0);
    for (Vec2 const& p : one.tree.at) CHECK(contains(leaf.outline_mm, p));
    CHECK(grown_veins(leaf.outline_mm, leaf.midrib_mm, 0, VeinPattern::none, 1).empty());
}

TEST_CASE("A pattern of an own leaf has the kind's length and keeps its holes") {
    OwnLeaf leaf = vesica(80, 16);
    leaf.outline_mm.holes = {{{-3, 40}, {-3, 46}, {3, 46}, {3, 40}}};
    auto const pattern = pattern_from(leaf, {"mine", "own:test", 60, 5});
    REQUIRE(pattern.ok());
    CHECK(pattern->shape.length_mm == 60);
    CHECK(pattern->shape.outline_mm.outer.size() <= 260);
    REQUIRE(pattern->shape.outline_mm.holes.size() == 1);
    CHECK_REL(area(pattern->shape.outline_mm), area(leaf.outline_mm) * 0.75 * 0.75, 1e-3);
    CHECK_FALSE(pattern->shape.veins.empty());
    CHECK(pattern_from(leaf, {"mine", "own:test", 10, 5}).problem().code == "range");
    std::vector<OwnLeaf> const own{leaf};
    CHECK(resolve_leaf_kind({"mine", "own:test", 60, 5}, own).ok());
    CHECK(resolve_leaf_kind({"mine", "own:else", 60, 5}, own).problem().code == "leaf.unknown");
    CHECK(resolve_leaf_kind({"h", "drawer:hazel", 60, 5}, own).ok());
}

TEST_CASE("Ids come from names") {
    CHECK(leaf_id_of("Hazel, the lane") == "hazel-the-lane");
    CHECK(leaf_id_of("  ") == "leaf");
    std::vector<std::string> const taken{"oak", "oak-2"};
    CHECK(leaf_id_of("Oak", taken) == "oak-3");
    CHECK(leaf_id_of(std::string(300, 'a')).size() <= 48);
}

TEST_CASE("Clay volume and the length to cut are simple products") {
    CHECK_REL(clay_volume_mm3(vesica(100, 20).outline_mm, 5), 5 * 2750.146578791, 2e-5);
    CHECK_REL(cut_length_mm(88, 0.12), 100, 1e-12);
    CHECK_REL(finished_length_mm(100, 0.12), 88, 1e-12);
}

TEST_CASE("Necks and stalks thinner than the clay are found where they are, and filled out") {
    // A blade of 40 mm on a stalk of 3 x 30 mm: too fine for 5 mm of clay, not for 2.
    Ring const ring{{-1.5, 0}, {1.5, 0}, {1.5, 30}, {20, 40}, {20, 80}, {0, 95}, {-20, 80}, {-20, 40}, {-1.5, 30}};
    OwnLeaf leaf = leaf_of_ring(ring, {0, 0}, {0, 95});
    leaf.stalk_mm = 30;
    auto const fine = fine_spots(leaf.outline_mm, 5);
    REQUIRE(fine.size() == 1);
    CHECK_NEAR(fine[0].at_mm.x, 0, 0.6);
    CHECK(fine[0].at_mm.y > 5);
    CHECK(fine[0].at_mm.y < 25);
    CHECK_NEAR(fine[0].reach_mm, 30, 3);
    CHECK_FALSE(fine[0].neck);
    CHECK(fine_spots(leaf.outline_mm, 2).empty());
    OwnLeaf const fuller = thickened(leaf, 5);
    CHECK_FALSE(check_own_leaf(fuller));
    CHECK(fine_spots(fuller.outline_mm, 5).empty());
    // The stalk as wide as the clay, 2 mm more over its 30, and a round end.
    CHECK_NEAR(area(fuller.outline_mm) - area(leaf.outline_mm), 2.2 * 28 + 8, 20);
    // Two blades on a neck 2 mm wide and 4 long: short, but the upper one hangs on it.
    Ring const two{{-15, 0}, {15, 0},   {15, 30},  {1, 30},  {1, 34},  {15, 34},
                   {15, 60}, {-15, 60}, {-15, 34}, {-1, 34}, {-1, 30}, {-15, 30}};
    auto const neck = fine_spots({two, {}}, 5);
    REQUIRE_FALSE(neck.empty());
    CHECK(neck[0].neck);
    CHECK_NEAR(neck[0].at_mm.y, 32, 1.5);
    CHECK(fine_spots(ellipse(80, 40).outline_mm, 5).empty());
}

namespace {

// A vesica of 100 mm with `count` teeth to each side, `high` mm; the tip of a tooth stands at `lean` of its way.
OwnLeaf toothed(int count, double high, double lean, bool round) {
    OwnLeaf leaf = vesica(100, 22, 2400);
    Ring& ring = leaf.outline_mm.outer;
    for (Vec2& p : ring) {
        double const place = std::fmod(std::clamp(p.y / 100, 0.0, 0.9999) * count, 1.0);
        double const rise = round ? std::sqrt(std::max(0.0, 1 - std::pow(2 * place - 1, 2)))
                                  : (place < lean ? place / lean : (1 - place) / (1 - lean));
        p.x += (p.x < 0 ? -1 : 1) * high * rise * std::min(1.0, std::abs(p.x) / 6);
    }
    return leaf;
}

} // namespace

TEST_CASE("Margins have their names") {
    // checks.md L8 (botanical glossary): serrate teeth lean to the tip, dentate stand square, crenate are rounded.
    CHECK(margin_of(vesica(100, 22)).word == "entire");
    LeafMargin const serrate = margin_of(toothed(16, 1.6, 0.8, false));
    CHECK(serrate.word == "serrate");
    CHECK_NEAR(serrate.teeth, 32, 6); // the ends' own are no whole teeth
    CHECK(margin_of(toothed(16, 1.6, 0.5, false)).word == "dentate");
    CHECK(margin_of(toothed(12, 1.6, 0.5, true)).word == "crenate");
    CHECK(margin_of(drawer_leaf("oak")).word == "lobed");
    CHECK(margin_of(drawer_leaf("field-maple")).word == "lobed");
    CHECK(margin_of(drawer_leaf("hornbeam")).word == "serrate");
    for (char const* name : {"bay", "magnolia", "lily-of-the-valley"})
        CHECK(margin_of(drawer_leaf(name)).word == "entire");
    CHECK(measures(drawer_leaf("oak")).margin == "lobed");
}
