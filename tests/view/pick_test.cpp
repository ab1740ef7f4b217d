#include "base/units.h"
#include "near.h"
#include "sample_plan.h"
#include "view/scene.h"

using namespace leafwright;

namespace {

Viewport const kPort{0, 0, 1280, 800};

Camera home(Plan const& plan, SceneOptions const& options, HomeView view) {
    Vec3 const size = scene_size(plan, options);
    return home_camera(view, size.x, size.y, size.z, 1.6);
}

// The uppermost leaf at a place of the chart, and its top.
std::pair<int, double> top_leaf(Plan const& plan, Vec2 const& chart) {
    for (std::size_t i = plan.laid.size(); i-- > 0;)
        if (contains(plan.laid[i]->chart, chart))
            return {plan.laid[i]->placement.id, plan.stack->leaves[i]->top.at(chart)};
    return {0, 0};
}

struct Tally {
    int tried = 0;
    int right = 0;
    double worst_mm = 0;
};

// Picks at the pixel where each leaf's middle is seen from the front.
Tally pick_middles(Plan const& plan, SceneOptions const& options, HomeView view) {
    Tally tally;
    Camera const camera = home(plan, options, view);
    for (auto const& leaf : plan.laid) {
        Spot const spot{radians(leaf->placement.azimuth_deg), leaf->placement.from_crown_mm};
        auto const [id, height] = top_leaf(plan, plan.outer_face->to_chart(spot));
        Vec3 const point = scene_point(plan, options, spot, height);
        Hit const hit = pick(plan, camera, kPort, options, *project(camera, kPort, point));
        auto const* found = std::get_if<LeafHit>(&hit);
        ++tally.tried;
        if (found == nullptr || found->id != id) continue;
        ++tally.right;
        tally.worst_mm = std::max(tally.worst_mm, glm::distance(found->point, point));
    }
    return tally;
}

} // namespace

TEST_CASE("picking a leaf's middle finds the leaf, to a millimetre, at every stage and look") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    for (MakingStage const stage : {MakingStage::leaves, MakingStage::features, MakingStage::dry, MakingStage::hang})
        for (Look const look : {Look::piece, Look::flat}) {
            SceneOptions options;
            options.stage = stage;
            options.look = look;
            Tally const tally = pick_middles(*plan, options, HomeView::front);
            CHECK(tally.tried == 20);
            CHECK(tally.right == tally.tried);
            CHECK(tally.worst_mm < 1.0);
        }
}

TEST_CASE("from the quarter, the leaves that face the eye are found") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    Tally const tally = pick_middles(*plan, {}, HomeView::quarter);
    // Those on the far side are hidden behind the piece.
    CHECK(tally.right >= 11);
    CHECK(tally.worst_mm < 1.0);
}

TEST_CASE("features, slab and board are told apart") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    SceneOptions options;
    Camera const camera = home(*plan, options, HomeView::front);
    auto const at = [&](Vec3 const& point) {
        return pick(*plan, camera, kPort, options, *project(camera, kPort, point));
    };
    CHECK(std::holds_alternative<FeatureHit>(at(scene_point(*plan, options, {0, 0}, 0))));
    Hit const board = at({235, 0, 0});
    REQUIRE(std::holds_alternative<BoardHit>(board));
    CHECK_NEAR(std::get<BoardHit>(board).point.x, 235, 0.5);
    CHECK_NEAR(std::get<BoardHit>(board).point.z, 0, 0.5);
    Spot const bare{0.35, 55};
    REQUIRE(top_leaf(*plan, plan->outer_face->to_chart(bare)).first == 0);
    Hit const slab = at(scene_point(*plan, options, bare, 0));
    REQUIRE(std::holds_alternative<SlabHit>(slab));
    CHECK_NEAR(std::get<SlabHit>(slab).spot.from_crown_mm, 55, 0.5);
    CHECK_NEAR(std::get<SlabHit>(slab).spot.azimuth_rad, 0.35, 0.01);
}

TEST_CASE("before leaves are laid there are none to pick") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    SceneOptions options;
    options.stage = MakingStage::drape;
    Camera const camera = home(*plan, options, HomeView::front);
    Vec2 const middle{640, 400};
    CHECK(std::holds_alternative<SlabHit>(pick(*plan, camera, kPort, options, middle)));
    options.stage = MakingStage::roll;
    CHECK(std::holds_alternative<SlabHit>(pick(*plan, home(*plan, options, HomeView::front), kPort, options, middle)));
    options.stage = MakingStage::knead;
    CHECK(std::holds_alternative<BoardHit>(pick(*plan, home(*plan, options, HomeView::front), kPort, options, middle)));
}

TEST_CASE("the sky is nothing") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    Camera camera = home(*plan, {}, HomeView::side);
    CHECK(std::holds_alternative<NothingHit>(pick(*plan, camera, kPort, {}, {1275, 5})));
}
