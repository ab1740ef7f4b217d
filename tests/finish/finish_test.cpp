#include "base/units.h"
#include "drying/plates.h"
#include "finish/finish.h"
#include "near.h"

#include <cmath>

using namespace leafwright;

namespace {

HeightPatch heights(int columns, int rows, auto value) {
    HeightPatch patch;
    patch.cell_mm = 1;
    patch.columns = columns;
    patch.rows = rows;
    patch.origin_mm = {-3.5, -3.5}; // a little beyond the plate
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column)
            patch.height_mm.push_back(static_cast<float>(value(column - 3.5, row - 3.5)));
    return patch;
}

} // namespace

TEST_CASE("a flat plate has its plain area, waves have their arc length") {
    ClayMap const clay = plate(60, 50, 2, [](Vec2) { return 10.0; });
    CHECK_REL(true_face_mm2(clay, {}), 12000, 1e-12);
    // h = 3 sin(2 pi x/40): arc length over a period by 1e5 parts.
    double arc = 0;
    for (int i = 0; i < 100000; ++i)
        arc += std::hypot(1, 3 * kTwoPi / 40 * std::cos(kTwoPi * (i + 0.5) / 100000)) / 100000;
    HeightPatch const waves = heights(128, 108, [](double x, double) { return 3 * std::sin(kTwoPi * x / 40); });
    CHECK_REL(true_face_mm2(clay, waves), 12000 * arc, 2e-3);
}

TEST_CASE("a cone on a plate adds its slant") {
    // Slope 1 within 30 mm of the middle: area pi r^2 sqrt(2).
    ClayMap const clay = plate(60, 60, 2, [](Vec2) { return 10.0; });
    HeightPatch const cone =
        heights(128, 128, [](double x, double y) { return std::max(0.0, 30 - std::hypot(x - 60, y - 60)); });
    CHECK_REL(true_face_mm2(clay, cone), 14400 + kPi * 900 * (std::sqrt(2.0) - 1), 2e-3);
}

TEST_CASE("an even pile on a sphere has the area of the larger sphere") {
    FormerSpec spec;
    spec.outline.width_mm = spec.outline.height_mm = 200;
    spec.profile.crown_mm = 100;
    SurfaceOptions options;
    options.offset_mm = 8;
    ClaySurface const surface = ClaySurface::make(*Former::make(spec), options);
    auto const face = face_map(surface, surface.rim_chart(720), {}, 2);
    HeightPatch pile;
    pile.cell_mm = 1;
    pile.columns = pile.rows = 420;
    pile.origin_mm = {-209.5, -209.5};
    pile.height_mm.assign(420UL * 420UL, 12.0F);
    ClayMap const clay = clay_map(face, 8, {}, {}, {});
    CHECK_REL(true_face_mm2(clay, pile), kTwoPi * 120 * 120, 2e-3);
}

TEST_CASE("grams follow area, layers and size") {
    FinishSpec spec;
    spec.kind = FinishKind::glaze;
    spec.layers = 2;
    spec.g_per_m2 = 400;
    FinishAnswer const a = finish_answer(spec, 200000, 150000, 0.9);
    CHECK_NEAR(a.face_mm2, 162000, 1e-9);
    CHECK_NEAR(a.dry_g.value, 2 * 400 * 0.162, 1e-9);
    CHECK(a.dry_g.is_exact());
    CHECK(!a.cautions.empty());
    spec.g_per_m2 = 0;
    FinishAnswer const usual = finish_answer(spec, 200000, 150000, 0.9);
    CHECK(usual.dry_g.low < usual.dry_g.value);
    CHECK(usual.dry_g.from == FigureFrom::by_default);
    spec.kind = FinishKind::none;
    CHECK(finish_answer(spec, 200000, 150000, 0.9).dry_g.value == 0);
}
