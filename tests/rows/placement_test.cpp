#include "rows/placement.h"

#include "base/units.h"
#include "near.h"
#include "rows/feature.h"

#include <cmath>

using namespace leafwright;

namespace {

constexpr double kRadius_mm = 150;

ClaySurface surface_of(double width_mm, double height_mm, double crown_mm) {
    FormerSpec spec;
    spec.outline = {.kind = OutlineKind::oval, .width_mm = width_mm, .height_mm = height_mm, .points_mm = {}};
    spec.profile.crown_mm = crown_mm;
    return ClaySurface::make(Former::make(spec).value(), {});
}

ClaySurface half_ball() { return surface_of(2 * kRadius_mm, 2 * kRadius_mm, kRadius_mm); }
// Flat to 3e-4 near its middle.
ClaySurface nearly_flat() { return surface_of(1200, 1200, 3); }

// A circle with as many corners, grown so that its plane area is the true circle's.
LeafPattern round_leaf(double radius_mm) {
    constexpr int points = 120;
    double const grown = radius_mm * std::sqrt(kTwoPi / points / std::sin(kTwoPi / points));
    LeafPattern pattern;
    pattern.spec = {.id = "round", .length_mm = 2 * radius_mm, .thickness_mm = 5};
    pattern.shape.length_mm = 2 * radius_mm;
    pattern.shape.width_mm = 2 * radius_mm;
    for (int i = 0; i < points; ++i) {
        double const phi = kTwoPi * i / points;
        pattern.shape.outline_mm.outer.push_back(grown * Vec2{std::cos(phi), std::sin(phi)} + Vec2{0, radius_mm});
    }
    return pattern;
}

// Longer on its right side, so that a mirror image can be told.
LeafPattern lopsided_leaf() {
    LeafPattern pattern;
    pattern.spec = {.id = "lopsided", .length_mm = 60, .thickness_mm = 4};
    pattern.shape.length_mm = 60;
    pattern.shape.width_mm = 40;
    pattern.shape.outline_mm.outer = {{0, 0}, {25, 20}, {10, 45}, {0, 60}, {-15, 30}};
    pattern.shape.outline_mm.holes = {{{0, 20}, {0, 30}, {6, 28}}};
    return pattern;
}

void check_point(Vec2 const& found, Vec2 const& expected, double tolerance) {
    CHECK_NEAR(found.x, expected.x, tolerance);
    CHECK_NEAR(found.y, expected.y, tolerance);
}

} // namespace

TEST_CASE("a round leaf on a half ball covers what a cap of that geodesic radius covers") {
    ClaySurface const surface = half_ball();
    // Area of a geodesic circle on a sphere: 2 pi R^2 (1 - cos(r/R)).
    double const cap_mm2 = kTwoPi * kRadius_mm * kRadius_mm * (1 - std::cos(30 / kRadius_mm));
    for (double const from_crown : {0.0, 60.0, 150.0}) {
        LaidLeaf const leaf = lay_leaf(surface, round_leaf(30),
                                       {.id = 1, .kind = "round", .azimuth_deg = 35, .from_crown_mm = from_crown});
        CHECK_REL(signed_area(leaf.chart.outer), cap_mm2, 1e-4);
        CHECK_REL(leaf.flat_mm2, kPi * 900, 1e-9);
        CHECK(leaf.thickness_mm == 5);
    }
}

TEST_CASE("the middle of a leaf lies at its spot, stalk end and tip half a length further in and out") {
    ClaySurface const surface = half_ball();
    LeafPattern const pattern = round_leaf(30);
    LeafPlacement const placement{.id = 1, .kind = "round", .azimuth_deg = 70, .from_crown_mm = 110, .scale = 1.2};
    std::vector<Vec2> const along{{0, 0}, {0, 30}, {0, 60}};
    std::vector<LaidPoint> const laid = lay_points(surface, pattern, placement, along);
    REQUIRE(laid.size() == 3);
    for (int k = 0; k < 3; ++k)
        check_point(laid[static_cast<std::size_t>(k)].chart, surface.to_chart({radians(70), 110 + 36.0 * (k - 1)}),
                    1e-3);
}

TEST_CASE("on flat clay a leaf lies as drawn: turned, scaled, mirrored") {
    ClaySurface const surface = nearly_flat();
    LeafPattern const pattern = lopsided_leaf();
    Polygon const& drawn = pattern.shape.outline_mm;
    LeafPlacement placement{.id = 3, .kind = "lopsided", .azimuth_deg = 90, .from_crown_mm = 100};

    LaidLeaf const plain = lay_leaf(surface, pattern, placement);
    REQUIRE(plain.chart.outer.size() == 5);
    REQUIRE(plain.chart.holes.size() == 1);
    for (std::size_t i = 0; i < 5; ++i) check_point(plain.chart.outer[i], drawn.outer[i] + Vec2{0, 100 - 30}, 0.02);
    CHECK_REL(plain.flat_mm2, area(drawn), 1e-12);
    CHECK_REL(area(plain.chart), area(drawn), 1e-3);

    placement.turn_deg = 90; // counter-clockwise: the tip to the left
    check_point(lay_leaf(surface, pattern, placement).chart.outer[3], {-30, 100}, 0.02);

    placement.turn_deg = 0;
    placement.flipped = true;
    placement.scale = 0.5;
    LaidLeaf const mirrored = lay_leaf(surface, pattern, placement);
    Box2 const box = bounds(mirrored.chart.outer);
    CHECK_NEAR(box.low.x, -12.5, 0.02);
    CHECK_NEAR(box.high.x, 7.5, 0.02);
    CHECK_REL(mirrored.flat_mm2, area(drawn) / 4, 1e-12);
    CHECK(signed_area(mirrored.chart.outer) > 0);
    CHECK(signed_area(mirrored.chart.holes[0]) < 0);
    CHECK(is_simple(mirrored.chart.outer));
}

TEST_CASE("up of a feature is up on the wall, wherever it lies") {
    ClaySurface const surface = nearly_flat();
    std::vector<Vec2> const local{{0, 0}, {10, 0}, {0, 10}};
    for (double const azimuth_deg : {0.0, 90.0, 200.0}) {
        Feature feature{.kind = FeatureKind::ear, .azimuth_deg = azimuth_deg, .from_crown_mm = 80};
        auto laid = lay_feature_points(surface, feature, local);
        Vec2 const middle(laid[0].position);
        check_point(middle, 80.0 * Vec2{std::cos(radians(azimuth_deg)), std::sin(radians(azimuth_deg))}, 0.02);
        check_point(Vec2(laid[1].position) - middle, {10, 0}, 0.01);
        check_point(Vec2(laid[2].position) - middle, {0, 10}, 0.01);
        feature.turn_deg = 90;
        laid = lay_feature_points(surface, feature, local);
        check_point(Vec2(laid[2].position) - middle, {-10, 0}, 0.01);
    }
}

TEST_CASE("an opening takes its ellipse from the slab, its lip only keeps leaves away") {
    ClaySurface const surface = nearly_flat();
    Feature opening{.kind = FeatureKind::opening, .from_crown_mm = 50, .width_mm = 80, .height_mm = 60, .rise_mm = 12};
    LaidFeature const laid = lay_feature(surface, opening);
    CHECK_REL(laid.slab_hole_mm2, kPi * 40 * 30, 2e-4);
    CHECK_REL(signed_area(laid.chart), kPi * 48 * 38, 2e-3);
    opening.kind = FeatureKind::boss;
    CHECK(lay_feature(surface, opening).slab_hole_mm2 == 0);
}
