#include "base/units.h"
#include "drying/clay_map.h"
#include "near.h"

using namespace leafwright;

namespace {

struct Dome {
    Former former;
    ClaySurface face;
};

// A half ellipsoid with a slab of that thickness over it.
Dome dome(double width, double height, double crown, double slab) {
    FormerSpec spec;
    spec.outline.kind = OutlineKind::oval;
    spec.outline.width_mm = width;
    spec.outline.height_mm = height;
    spec.profile.crown_mm = crown;
    Former former = *Former::make(spec);
    SurfaceOptions options;
    options.offset_mm = slab;
    return {former, ClaySurface::make(former, options)};
}

} // namespace

TEST_CASE("a ring's cells add up to its area") {
    Ring ring;
    for (int i = 0; i < 720; ++i)
        ring.emplace_back(3.3 + 51.7 * std::cos(kTwoPi * i / 720), -2.1 + 38.9 * std::sin(kTwoPi * i / 720));
    auto const share = covered_share(ring, 2, -40, -40, 80, 80);
    double sum = 0;
    for (float s : share) sum += 4 * static_cast<double>(s);
    CHECK_REL(sum, kPi * 51.7 * 38.9, 2e-4);
    CHECK(share[40 * 80 + 40] == doctest::Approx(1.0));
    CHECK(share[0] == 0.0F);
}

TEST_CASE("a hemispherical shell has the volume between its spheres") {
    Dome const d = dome(200, 200, 100, 8);
    Ring const rim = d.face.rim_chart(720);
    auto const face = face_map(d.face, rim, {}, 2);
    ClayMap const map = clay_map(face, 8, {}, {}, {});
    CHECK_REL(map.volume_mm3, kTwoPi / 3 * (std::pow(108, 3) - std::pow(100, 3)), 1e-3);
    CHECK_REL(map.open_mm2, kTwoPi * 108 * 108, 1e-3);
}

TEST_CASE("on a sphere the metric is that of its equal-area chart and the curvature 1/R") {
    Dome const d = dome(200, 200, 100, 8);
    auto const face = face_map(d.face, d.face.rim_chart(360), {}, 2);
    double const r = 108;
    int looked_at = 0;
    for (int row = 0; row < face->rows; row += 7)
        for (int column = 0; column < face->columns; column += 7) {
            std::size_t const i = face->index(column, row);
            Vec2 const p = face->middle(column, row);
            double const q = glm::length(p);
            if (q > 1.3 * r || q < 5) continue;
            // q = 2 R sin(theta/2): dl/dq = 1/cos(theta/2), and T along the meridian is (dq/dl)^2.
            double const cosine = std::sqrt(1 - q * q / (4 * r * r));
            Vec2 const u = p / q;
            double const along = u.x * u.x * static_cast<double>(face->along_xx[i]) +
                                 2 * u.x * u.y * static_cast<double>(face->along_xy[i]) +
                                 u.y * u.y * static_cast<double>(face->along_yy[i]);
            CHECK_REL(along, cosine * cosine, 2e-3);
            CHECK_REL(static_cast<double>(face->bend_per_mm[i]), 2 / r, 2e-3);
            CHECK_REL(static_cast<double>(face->twist_per_mm2[i]), 1 / (r * r), 5e-3);
            double const determinant = static_cast<double>(face->along_xx[i]) * static_cast<double>(face->along_yy[i]) -
                                       std::pow(static_cast<double>(face->along_xy[i]), 2);
            CHECK_NEAR(determinant, 1, 2e-3);
            ++looked_at;
        }
    CHECK(looked_at > 100);
}

TEST_CASE("an opening takes its hole out of the slab, a lug adds its clay") {
    Dome const d = dome(300, 300, 60, 8);
    Ring const rim = d.face.rim_chart(720);
    auto const face = face_map(d.face, rim, {}, 2);
    Feature opening;
    opening.kind = FeatureKind::opening;
    opening.width_mm = 80;
    opening.height_mm = 60;
    LaidFeature const laid = lay_feature(d.face, opening);
    std::vector<Ring> const holes = {opening_hole(d.face, opening)};
    ClayMap const whole = clay_map(face, 8, {}, {}, {});
    ClayMap const open = clay_map(face, 8, {}, holes, {});
    CHECK_REL(whole.open_mm2 - open.open_mm2, laid.slab_hole_mm2, 5e-3);
    std::vector<BackLump> const lugs = {{{40, 50}, 15, 20}};
    ClayMap const lugged = clay_map(face, 8, {}, {}, lugs);
    CHECK_REL(lugged.volume_mm3 - whole.volume_mm3, kPi * 15 * 15 * 20, 1e-2);
}

TEST_CASE("the pile's clay is the leaves' volume, without the hollows beneath") {
    Dome const d = dome(300, 300, 60, 8);
    Ring const rim = d.face.rim_chart(720);
    std::vector<std::shared_ptr<LaidLeaf const>> leaves;
    for (int k = 0; k < 3; ++k) {
        auto leaf = std::make_shared<LaidLeaf>();
        leaf->placement.id = k + 1;
        for (int i = 0; i < 64; ++i)
            leaf->chart.outer.emplace_back(20 * k + 30 * std::cos(kTwoPi * i / 64), 18 * std::sin(kTwoPi * i / 64));
        leaf->flat_mm2 = signed_area(leaf->chart.outer);
        leaf->thickness_mm = 5;
        leaves.push_back(leaf);
    }
    StackEngine engine;
    auto const stack = engine.update(rim, leaves, {});
    auto const face = face_map(d.face, rim, stack->height, 2);
    ClayMap const bare = clay_map(face, 8, {}, {}, {});
    ClayMap const clad = clay_map(face, 8, pile_clay(*stack), {}, {});
    CHECK_REL(clad.volume_mm3 - bare.volume_mm3, stack->leaf_volume_mm3, 1e-4);
}
