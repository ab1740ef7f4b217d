#include "rows/feature.h"

#include "near.h"
#include "rows/stack.h"

using namespace leafwright;

namespace {

// Nearly flat: the chart of a wide, low saucer is the plan itself to a few parts in ten thousand.
ClaySurface wide_saucer() {
    FormerSpec spec;
    spec.outline.kind = OutlineKind::round;
    spec.outline.width_mm = 1000;
    spec.profile = {.kind = ProfileKind::saucer, .crown_mm = 10};
    Outcome<Former> const former = Former::make(spec);
    REQUIRE(former.ok());
    return ClaySurface::make(*former, {.offset_mm = 8});
}

double volume_of(HeightPatch const& patch) {
    double sum = 0;
    for (float const height : patch.height_mm) sum += double(height);
    return sum * patch.cell_mm * patch.cell_mm;
}

} // namespace

TEST_CASE("a feature's mound on the stack holds the feature's clay, wherever it stands and however it is turned") {
    ClaySurface const surface = wide_saucer();
    int placed = 0;
    for (FeatureKind const kind : {FeatureKind::boss, FeatureKind::ridge, FeatureKind::opening, FeatureKind::eye,
                                   FeatureKind::nose, FeatureKind::mouth, FeatureKind::ear, FeatureKind::petal})
        for (double const from_crown_mm : {0.0, 120.0}) {
            Feature const feature{.kind = kind,
                                  .azimuth_deg = 200,
                                  .from_crown_mm = from_crown_mm,
                                  .width_mm = 60,
                                  .height_mm = 44,
                                  .rise_mm = 12,
                                  .turn_deg = 25};
            LaidFeature laid = lay_feature(surface, feature);
            laid.mound = std::make_shared<FeatureMound const>(lay_mound(surface, feature));
            std::vector<LaidFeature> const features{laid};
            auto const field = StackEngine({.cell_mm = 0.5}).update({}, {}, features);
            // The lattice's millimetre cuts the steep outer edge of some forms.
            CHECK_REL(volume_of(field->height), feature_volume_mm3(feature), 0.03);
            CHECK(field->most_mm <= feature.rise_mm + 1e-4);
            CHECK(field->most_mm >= 0.9 * feature.rise_mm);
            CHECK(contains(laid.chart, field->most_at));
            ++placed;
        }
    CHECK(placed == 16);
}

TEST_CASE("the mound's lattice stays small for the largest feature and lies round the footprint") {
    ClaySurface const surface = wide_saucer();
    FeatureMound const mound = lay_mound(surface, {.width_mm = 600, .height_mm = 300, .rise_mm = 40});
    CHECK(mound.columns <= 96);
    CHECK(mound.rows <= 96);
    REQUIRE(mound.chart.size() == static_cast<std::size_t>(mound.columns) * static_cast<std::size_t>(mound.rows));
    REQUIRE(mound.height_mm.size() == mound.chart.size());
    for (int column = 0; column < mound.columns; ++column)
        CHECK(mound.height_mm[static_cast<std::size_t>(column)] == 0);
    Vec2 const size = bounds(mound.chart).size();
    CHECK_NEAR(size.x, 602, 3);
    CHECK_NEAR(size.y, 302, 3);
}
