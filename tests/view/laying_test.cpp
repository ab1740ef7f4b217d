#include "near.h"
#include "sample_plan.h"
#include "view/laying_slab.h"
#include "view/stage_space.h"

using namespace leafwright;

TEST_CASE("the slab lies flat on the crown at first, and on the former at last") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    LayingSlab const slab(*plan);
    REQUIRE(slab.holds());
    auto const& points = plan->slab->map->points;
    std::vector<Vec3> const first = slab.places(0), last = slab.places(1);
    double const crown = plan->piece.former.profile.crown_mm + 0.5 * plan->piece.slab.thickness_mm;
    for (std::size_t i = 0; i < points.size(); ++i) {
        CHECK_NEAR(first[i].x, points[i].flat_mm.x, 1e-3);
        CHECK_NEAR(first[i].y, points[i].flat_mm.y, 1e-3);
        CHECK_NEAR(first[i].z, crown, 0.01);
        CHECK(last[i] == points[i].laid_mm);
    }
}

TEST_CASE("contact spreads from the crown outward, nothing sinks through the board or jumps") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    LayingSlab const slab(*plan);
    auto const& points = plan->slab->map->points;
    double const board = -lift_mm(*plan) + 0.5 * plan->piece.slab.thickness_mm;
    std::vector<Vec3> before = slab.places(0);
    for (int step = 1; step <= 50; ++step) {
        double const laid = step / 50.0;
        std::vector<Vec3> const now = slab.places(laid);
        REQUIRE(now.size() == before.size());
        double most = 0;
        for (std::size_t i = 0; i < now.size(); ++i) {
            CHECK(now[i].z > board - 1e-6);
            if (i < points.size() && points[i].rim_share <= laid) CHECK(now[i] == points[i].laid_mm);
            most = std::max(most, glm::distance(now[i], before[i]));
        }
        CHECK(most < 40);
        before = now;
    }
}

TEST_CASE("the mesh of a slab that is being laid has the same triangles at every moment") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    LayingSlab const slab(*plan);
    Mesh const a = slab.mesh(0.2), b = slab.mesh(0.9);
    CHECK(a.indices == b.indices);
    CHECK(a.vertices.size() == b.vertices.size());
    CHECK(a.vertices[5].position != b.vertices[5].position);
    CHECK(a.vertices[5].flat[0] == b.vertices[5].flat[0]);
}
