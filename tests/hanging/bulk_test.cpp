#include "base/random.h"
#include "base/units.h"
#include "domes.h"
#include "hanging/bulk.h"
#include "near.h"

#include <cmath>

using namespace leafwright;

TEST_CASE("a thin hemispherical shell has its centre at R/2, a thin cap at half its height") {
    // Mechanics texts. The slab is a hundredth of a millimetre.
    Bulk const half = bulk_of(shell_of(ProfileKind::dome, 200, 200, 100, 0.01).clay);
    CHECK_NEAR(half.centre_mm.z, 50, 0.05);
    CHECK_NEAR(half.centre_mm.x, 0, 1e-6);
    CHECK_REL(half.volume_mm3, kTwoPi * 1e4 * 0.01, 1e-3);
    Bulk const cap = bulk_of(shell_of(ProfileKind::saucer, 2 * std::sqrt(160.0 * 60 - 3600 + 40 * 60),
                                      2 * std::sqrt(160.0 * 60 - 3600 + 40 * 60), 60, 0.01)
                                 .clay);
    CHECK_NEAR(cap.centre_mm.z, 30, 0.03);
}

TEST_CASE("a thin half ellipsoid shell of even thickness, not c/2") {
    // Quadrature, reckoned apart: semi-axes 200, 200, 60: 36.34407879; 300, 200, 80: 47.76733654.
    CHECK_NEAR(bulk_of(shell_of(ProfileKind::dome, 400, 400, 60, 0.01).clay).centre_mm.z, 36.34407879, 0.04);
    CHECK_NEAR(bulk_of(shell_of(ProfileKind::dome, 600, 400, 80, 0.01).clay).centre_mm.z, 47.76733654, 0.05);
}

TEST_CASE("a thick hemispherical shell has its centre where the solid hemispheres put it") {
    // 3R/8 for a solid hemisphere: 3/8 (R2^4 - R1^4)/(R2^3 - R1^3).
    Bulk const b = bulk_of(shell_of(ProfileKind::dome, 200, 200, 100, 20).clay);
    double const volume = kTwoPi / 3 * (std::pow(120, 3) - std::pow(100, 3));
    CHECK_REL(b.volume_mm3, volume, 1e-3);
    CHECK_NEAR(b.centre_mm.z, 0.375 * (std::pow(120, 4) - std::pow(100, 4)) / (std::pow(120, 3) - std::pow(100, 3)),
               0.06);
}

TEST_CASE("a pile that keeps its flat volume stands lower on a sphere; Monte Carlo twin") {
    // A slab of 10 mm and a pile of flat thickness 15 mm on a sphere of 110 mm: outer radius by volume.
    HeightPatch pile;
    pile.cell_mm = 1;
    pile.columns = pile.rows = 400;
    pile.origin_mm = {-199.5, -199.5};
    pile.height_mm.assign(160000, 0.0F);
    for (int row = 0; row < 400; ++row)
        for (int column = 0; column < 400; ++column)
            if (std::hypot(column - 199.5, row - 199.5) < 110 * std::sqrt(2.0))
                pile.height_mm[static_cast<std::size_t>(row * 400 + column)] = 15;
    Bulk const b = bulk_of(shell_of(ProfileKind::dome, 200, 200, 100, 10, pile).clay);
    double const outer = std::cbrt(3 * 110.0 * 110 * 15 + std::pow(110, 3)); // flat volume = area x thickness
    Random random{31};
    double sum = 0;
    int count = 0;
    for (int i = 0; i < 400000; ++i) {
        Vec3 const p{random.between(-outer, outer), random.between(-outer, outer), random.between(0, outer)};
        double const r = glm::length(p);
        if (r < 100 || r > outer) continue;
        sum += p.z;
        ++count;
    }
    CHECK_NEAR(b.centre_mm.z, sum / count, 0.3); // three standard errors are about 0.25 mm
    CHECK_NEAR(b.centre_mm.z, 0.375 * (std::pow(outer, 4) - 1e8) / (std::pow(outer, 3) - 1e6), 0.1);
    CHECK_REL(b.volume_mm3, kTwoPi / 3 * (std::pow(outer, 3) - 1e6), 2e-3);
}

TEST_CASE("a solid cap has its centre where the mechanics texts put it") {
    // 3(2R - h)^2/(4(3R - h)) from the sphere's centre; rim 200 mm, rise 60 mm: 20.2912621359 above the rim's plane.
    // The cap lies as relief on a flat ground without slab.
    double const radius = (200.0 * 200 + 60.0 * 60) / 120;
    auto face = std::make_shared<FaceMap>();
    face->cell_mm = 2;
    face->left = face->low = -110;
    face->columns = face->rows = 220;
    ClayMap clay;
    for (int row = 0; row < 220; ++row)
        for (int column = 0; column < 220; ++column) {
            Vec2 const p = face->middle(column, row);
            double const below = radius * radius - glm::dot(p, p);
            double const height = below > 0 ? std::max(0.0, std::sqrt(below) - (radius - 60)) : 0;
            face->position.emplace_back(p.x, p.y, 0);
            clay.pile_mm.push_back(static_cast<float>(height));
        }
    std::size_t const n = face->size();
    face->inside.assign(n, 1.0F);
    face->normal.assign(n, Vec3(0, 0, 1));
    face->bend_per_mm.assign(n, 0.0F);
    face->twist_per_mm2.assign(n, 0.0F);
    clay.slab_mm.assign(n, 0.0F);
    clay.back_mm.assign(n, 0.0F);
    clay.open.assign(n, 1.0F);
    clay.face = face;
    Bulk const b = bulk_of(clay);
    CHECK_REL(b.volume_mm3, 3883008.519837, 1e-3); // pi h (3 a^2 + h^2)/6
    CHECK_NEAR(b.centre_mm.z, 20.2912621359, 0.01);
    CHECK_NEAR(b.centre_mm.x, 0, 1e-6);
}
