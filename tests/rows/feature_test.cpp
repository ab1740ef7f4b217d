#include "rows/feature.h"

#include "base/units.h"
#include "near.h"

#include <algorithm>

using namespace leafwright;

namespace {

std::vector<Feature> some_of_each() {
    std::vector<Feature> features;
    for (FeatureKind const kind : {FeatureKind::boss, FeatureKind::ridge, FeatureKind::opening, FeatureKind::eye,
                                   FeatureKind::nose, FeatureKind::mouth, FeatureKind::ear, FeatureKind::petal})
        for (Vec2 const& size : {Vec2{60, 40}, Vec2{40, 40}, Vec2{25, 70}, Vec2{90, 30}})
            features.push_back({.kind = kind, .width_mm = size.x, .height_mm = size.y, .rise_mm = 18});
    return features;
}

struct GridSum {
    double volume_mm3 = 0;
    double most_mm = 0;
    double outside_mm = 0; // greatest height found outside the footprint
};

// Midpoint rule on a square grid: knows nothing of the forms but their heights.
GridSum grid_sum(Feature const& feature, double cell_mm) {
    Ring const footprint = feature_footprint(feature);
    Box2 const box = bounds(footprint);
    GridSum sum;
    for (double y = box.low.y - 2 + 0.37 * cell_mm; y < box.high.y + 2; y += cell_mm)
        for (double x = box.low.x - 2 + 0.61 * cell_mm; x < box.high.x + 2; x += cell_mm) {
            double const height_mm = feature_height_mm(feature, {x, y});
            sum.volume_mm3 += height_mm * cell_mm * cell_mm;
            sum.most_mm = std::max(sum.most_mm, height_mm);
            if (height_mm > 0 && !contains(footprint, {x, y})) sum.outside_mm = std::max(sum.outside_mm, height_mm);
        }
    return sum;
}

} // namespace

TEST_CASE("A boss holds two thirds of its enclosing cylinder, as half an ellipsoid does") {
    Feature const boss{.kind = FeatureKind::boss, .width_mm = 60, .height_mm = 40, .rise_mm = 25};
    CHECK_REL(feature_volume_mm3(boss), 2.0 / 3.0 * kPi * 30 * 20 * 25, 1e-12);
    CHECK_REL(feature_height_mm(boss, {0, 0}), 25.0, 1e-12);
    CHECK_REL(feature_height_mm(boss, {18, 0}), 20.0, 1e-12); // 3-4-5
}

TEST_CASE("A ridge is a half cylinder with half a ball at each end") {
    Feature const ridge{.kind = FeatureKind::ridge, .width_mm = 100, .height_mm = 20, .rise_mm = 10};
    CHECK_REL(feature_volume_mm3(ridge), 0.5 * kPi * 100 * 80 + 2.0 / 3.0 * kPi * 1000, 1e-12);
    Feature const upright{.kind = FeatureKind::ridge, .width_mm = 20, .height_mm = 100, .rise_mm = 10};
    CHECK_REL(feature_volume_mm3(upright), feature_volume_mm3(ridge), 1e-12);
}

TEST_CASE("A round opening's lip holds what Pappus gives for half a circle led round it") {
    // Pappus: area of the half ellipse (8 wide, 10 high) times the way of its centroid.
    Feature const opening{.kind = FeatureKind::opening, .width_mm = 60, .height_mm = 60, .rise_mm = 10};
    CHECK_REL(feature_volume_mm3(opening), kPi / 2 * 4 * 10 * kTwoPi * 34, 1e-12);
    CHECK(feature_height_mm(opening, {0, 0}) == 0);
    CHECK_REL(feature_height_mm(opening, {34, 0}), 10.0, 1e-12);
    Feature const plain{.kind = FeatureKind::opening, .width_mm = 60, .height_mm = 50, .rise_mm = 0};
    CHECK(feature_volume_mm3(plain) == 0);
    CHECK_REL(signed_area(feature_footprint(plain)), kPi * 30 * 25, 2e-3);
}

TEST_CASE("Volumes agree with the sum of heights over a fine grid") {
    for (Feature const& feature : some_of_each()) {
        CAPTURE(static_cast<int>(feature.kind));
        CAPTURE(feature.width_mm);
        GridSum const sum = grid_sum(feature, 0.15);
        CHECK_REL(feature_volume_mm3(feature), sum.volume_mm3, 2e-4);
        CHECK(sum.most_mm <= feature.rise_mm * (1 + 1e-12));
        CHECK(sum.most_mm > 0.995 * feature.rise_mm);
    }
}

TEST_CASE("Footprints are simple, run counter-clockwise, keep the size asked for and hold the whole mound") {
    for (Feature const& feature : some_of_each()) {
        CAPTURE(static_cast<int>(feature.kind));
        CAPTURE(feature.width_mm);
        Ring const footprint = feature_footprint(feature);
        CHECK(is_simple(footprint));
        CHECK(signed_area(footprint) > 0);
        double const lip_mm = feature.kind == FeatureKind::opening ? 16 : 0;
        Box2 const box = bounds(footprint);
        CHECK_REL(box.size().x, feature.width_mm + lip_mm, 3e-3);
        CHECK_REL(box.size().y, feature.height_mm + lip_mm, 3e-3);
        CHECK_NEAR(box.centre().x, 0, 0.1);
        CHECK_NEAR(box.centre().y, 0, 0.1);
        CHECK(grid_sum(feature, 0.25).outside_mm == 0);
    }
}

TEST_CASE("A feature without rise has neither height nor volume") {
    for (Feature feature : some_of_each()) {
        feature.rise_mm = 0;
        CHECK(feature_volume_mm3(feature) == 0);
        CHECK(grid_sum(feature, 1.0).most_mm == 0);
    }
}

TEST_CASE("Forms of the same kind are scaled copies: volume grows with each of the three sizes") {
    for (FeatureKind const kind :
         {FeatureKind::boss, FeatureKind::nose, FeatureKind::mouth, FeatureKind::ear, FeatureKind::petal}) {
        Feature const one{.kind = kind, .width_mm = 30, .height_mm = 50, .rise_mm = 12};
        Feature const two{.kind = kind, .width_mm = 45, .height_mm = 100, .rise_mm = 36};
        CHECK_REL(feature_volume_mm3(two), 9.0 * feature_volume_mm3(one), 1e-12);
    }
}
