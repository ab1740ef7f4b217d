#include "base/units.h"
#include "near.h"
#include "rows/feature.h"
#include "sample_plan.h"
#include "view/blur.h"
#include "view/feature_mesh.h"
#include "view/leaf_mesh.h"
#include "view/props.h"
#include "view/relief_map.h"
#include "view/slab_mesh.h"

#include <map>

using namespace leafwright;

namespace {

double flat_area(FlatMesh const& net) {
    double sum = 0;
    for (std::size_t i = 0; i + 2 < net.indices.size(); i += 3) {
        Vec2 const a = net.points[net.indices[i]];
        double const part = cross(net.points[net.indices[i + 1]] - a, net.points[net.indices[i + 2]] - a) / 2;
        CHECK(part > 0);
        sum += part;
    }
    return sum;
}

Vec3 at(Mesh const& mesh, std::size_t i) {
    auto const& p = mesh.vertices[mesh.indices[i]].position;
    return {p[0], p[1], p[2]};
}

double volume(Mesh const& mesh) {
    double sum = 0;
    for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3)
        sum += glm::dot(at(mesh, i), glm::cross(at(mesh, i + 1), at(mesh, i + 2))) / 6;
    return sum;
}

Ring circle(double radius, int points, bool clockwise = false) {
    Ring ring;
    for (int k = 0; k < points; ++k) {
        double const angle = (clockwise ? -1 : 1) * kTwoPi * k / points;
        ring.push_back({radius * std::cos(angle), radius * std::sin(angle)});
    }
    return ring;
}

} // namespace

TEST_CASE("a triangulation covers its polygon once, holes left out") {
    Polygon const washer{circle(50, 120), {circle(20, 60, true)}};
    FlatMeshOptions options;
    options.rims_mm = {1, 2};
    FlatMesh const net = triangulated(washer, options);
    CHECK_REL(flat_area(net), area(washer), 1e-12);
    REQUIRE(net.ring_ends.size() == 2);
    CHECK(net.ring_ends[0] == 120);
    CHECK(net.ring_ends[1] == 180);
    for (std::size_t i = 0; i < net.points.size(); ++i) {
        double const r = glm::length(net.points[i]);
        CHECK_NEAR(net.edge_mm[i], std::min(50 - r, r - 20), 0.05); // the circles are polygons
    }
}

TEST_CASE("lines inside are followed, also where they cross the outline") {
    Polygon const square{{{0, 0}, {40, 0}, {40, 40}, {0, 40}}, {}};
    FlatMeshOptions options;
    options.lines = {{{30, 10}, {60, 10}, {60, 20}, {30, 20}}};
    FlatMesh const net = triangulated(square, options);
    CHECK_REL(flat_area(net), 1600, 1e-12);
    for (std::size_t i = 0; i + 2 < net.indices.size(); i += 3) {
        int inside = 0, outside = 0;
        for (std::size_t k = 0; k < 3; ++k) {
            Vec2 const p = net.points[net.indices[i + k]];
            if (p.x > 30 + 1e-9 && p.y > 10 + 1e-9 && p.y < 20 - 1e-9) ++inside;
            if (p.x < 30 - 1e-9 || p.y < 10 - 1e-9 || p.y > 20 + 1e-9) ++outside;
        }
        CHECK_FALSE((inside > 0 && outside > 0));
    }
}

TEST_CASE("resampling keeps points apart and gaps short") {
    Ring const ring = resampled(circle(30, 400), 0.9, 3.5);
    for (std::size_t i = 0; i < ring.size(); ++i) {
        double const gap = glm::distance(ring[i], ring[(i + 1) % ring.size()]);
        CHECK(gap >= 0.45);
        CHECK(gap <= 3.5 + 1e-9);
    }
    CHECK(resampled({{0, 0}, {30, 0}, {30, 30}}, 0.9, 3.5).size() > 25);
}

TEST_CASE("every edge of a leaf's net has one neighbour, but at the underside") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    for (auto const& pattern : plan->patterns) {
        LeafNet const net = make_leaf_net(*pattern);
        std::map<std::pair<std::uint32_t, std::uint32_t>, int> seen;
        for (std::size_t i = 0; i < net.indices.size(); ++i) {
            std::uint32_t const a = net.indices[i], b = net.indices[i % 3 == 2 ? i - 2 : i + 1];
            ++seen[{std::min(a, b), std::max(a, b)}];
        }
        std::size_t single = 0;
        for (auto const& [edge, count] : seen) {
            CHECK(count <= 2);
            single += count == 1;
        }
        CHECK(single == net.outline);
    }
}

TEST_CASE("a leaf is drawn where the stack says") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    std::size_t const index = 4;
    LaidLeaf const& leaf = *plan->laid[index];
    LeafPattern const& pattern = *plan->pattern_of(leaf.placement);
    LeafNet const net = make_leaf_net(pattern);
    auto const laid = lay_net(*plan->outer_face, pattern, leaf, net);
    LeafRelief const& relief = *plan->stack->leaves[index];
    Mesh const mesh = leaf_mesh(net, laid, leaf, &relief);
    int inside = 0;
    for (std::size_t i = 0; i < laid.size(); ++i) {
        if (net.top.edge_mm[i] < net.edge_radius_mm) continue;
        auto const& p = mesh.vertices[i].position;
        Vec3 const expected = laid[i].position + relief.top.at(laid[i].chart) * laid[i].normal;
        CHECK_NEAR(glm::distance(Vec3(p[0], p[1], p[2]), expected), 0, 1e-3);
        ++inside;
    }
    CHECK(inside > 30);
}

TEST_CASE("a leaf's edge is rounded: most at the edge, nothing within") {
    CHECK_NEAR(edge_drop_mm(0, 2), 1.6, 1e-12);
    CHECK(edge_drop_mm(2, 2) == 0);
    CHECK(edge_drop_mm(0.5, 2) > edge_drop_mm(1, 2));
}

TEST_CASE("the lump has the volume it is scaled to") { CHECK_REL(volume(lump_mesh()), 1, 1e-4); }

TEST_CASE("the flat slab's mesh stands on the board and has the slab's thickness") {
    Mesh const mesh = flat_slab_mesh(circle(200, 200), 8);
    float low = 1e9f, high = -1e9f;
    for (MeshVertex const& vertex : mesh.vertices) {
        low = std::min(low, vertex.position[2]);
        high = std::max(high, vertex.position[2]);
    }
    CHECK(low == 0);
    CHECK(high == 8);
}

TEST_CASE("an opening leaves a hole in the slab of the size it says") {
    auto const plan = sample::plan_of(sample::piece());
    REQUIRE(plan);
    SlabMesh const slab = slab_mesh(*plan->outer_face, plan->features, 0);
    double flat = 0; // of the outer face, in the chart, where areas are true
    auto const chart = [&](std::size_t i) {
        auto const& p = slab.mesh.vertices[slab.mesh.indices[i]].flat;
        return Vec3{p[0], p[1], p[2]};
    };
    for (std::size_t i = 0; i + 2 < slab.mesh.indices.size(); i += 3) {
        if (chart(i).z < -4 || chart(i + 1).z < -4 || chart(i + 2).z < -4) continue;
        Vec2 const a{chart(i)};
        flat += cross(Vec2(chart(i + 1)) - a, Vec2(chart(i + 2)) - a) / 2;
    }
    CHECK_REL(plan->outer_face->area_mm2() - flat, plan->features[0].slab_hole_mm2, 0.02);
}

TEST_CASE("a mound's mesh rises as the feature does") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    Feature const boss{.kind = FeatureKind::boss, .width_mm = 60, .height_mm = 40, .rise_mm = 25};
    Mesh const mesh = feature_mesh(*plan->outer_face, boss);
    float high = 0;
    for (MeshVertex const& vertex : mesh.vertices) high = std::max(high, vertex.flat[2]);
    CHECK_NEAR(static_cast<double>(high), 25, 0.3);
}

TEST_CASE("a relief map tells the slope of a plane and the hollow of a groove") {
    int const n = 60;
    std::vector<float> plane(n * n), groove(n * n, 0.0f);
    for (int j = 0; j < n; ++j)
        for (int i = 0; i < n; ++i) {
            plane[static_cast<std::size_t>(j * n + i)] = 0.1f * static_cast<float>(i);
            if (i == 30) groove[static_cast<std::size_t>(j * n + i)] = -0.5f;
        }
    ReliefMap const tilted = relief_of_heights(plane, n, n, 0.5, {0, 0}, 1);
    std::uint8_t const* texel = tilted.texels.data() + 4 * (30 * n + 30);
    CHECK_NEAR(texel[0], 127.5 * (1 + 0.1 / 0.5), 1); // slope 0.2
    CHECK_NEAR(texel[1], 127.5, 1);
    CHECK(texel[2] == 0);
    ReliefMap const cut = relief_of_heights(groove, n, n, 0.5, {0, 0}, 1);
    CHECK(cut.texels[4 * (30 * n + 30) + 2] > 50);
    CHECK(cut.texels[4 * (30 * n + 20) + 2] == 0);
}

TEST_CASE("a blur keeps a constant and spreads a spike evenly") {
    std::vector<float> spike(21 * 15, 0.0f);
    spike[7 * 21 + 10] = 25;
    std::vector<float> const spread = box_blurred(spike, 21, 15, 2);
    CHECK_NEAR(static_cast<double>(spread[7 * 21 + 10]), 1, 1e-5);
    CHECK_NEAR(static_cast<double>(spread[9 * 21 + 12]), 1, 1e-5);
    CHECK_NEAR(static_cast<double>(spread[10 * 21 + 10]), 0, 1e-5);
    for (float const x : box_blurred(std::vector<float>(21 * 15, 3.0f), 21, 15, 4))
        CHECK_NEAR(static_cast<double>(x), 3, 1e-5);
}
