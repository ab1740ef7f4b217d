#include "rows/stack_coverage.h"

#include "made_up_leaves.h"
#include "near.h"

#include <numeric>

using namespace leafwright;

namespace {

double sum_of(std::vector<float> const& values) {
    return std::accumulate(values.begin(), values.end(), 0.0, [](double sum, float v) { return sum + double(v); });
}

double share_at(Coverage const& coverage, int i, int j) { return double(coverage.share[coverage.box.index(i, j)]); }

} // namespace

TEST_CASE("the shares of cells add up to the polygon's area") {
    Random random(3);
    for (int trial = 0; trial < 60; ++trial) {
        double const cell_mm = random.between(0.3, 3);
        Ring ring = lobed_ring({random.between(-50, 50), random.between(-50, 50)}, random.between(3, 70),
                               random.between(3, 50), random.between(0, 6), random.between(0, 0.6), 90);
        Polygon const polygon{ring, {lobed_ring(centroid(ring), 1.0, 0.8, 0.3, 0, 20)}};
        Coverage const coverage = cover(polygon, cell_mm, 1);
        CHECK_REL(sum_of(coverage.share) * cell_mm * cell_mm, area(polygon), 1e-6);
        if (trial % 2 == 0) std::ranges::reverse(ring);
        CHECK_REL(sum_of(cover({ring, {}}, cell_mm, 2).share) * cell_mm * cell_mm, area({ring, {}}), 1e-6);
    }
}

TEST_CASE("a cell's share is the area of the polygon within it") {
    // By hand: a triangle's slanted edge from (0, 0) to (4, 2) cuts cells into triangles and trapezia.
    Coverage const coverage = cover({{{0, 0}, {4, 0}, {4, 2}}, {}}, 1.0, 1);
    CHECK_NEAR(share_at(coverage, 0, 0), 0.25, 1e-7);
    CHECK_NEAR(share_at(coverage, 1, 0), 0.75, 1e-7);
    CHECK_NEAR(share_at(coverage, 2, 0), 1.0, 1e-7);
    CHECK_NEAR(share_at(coverage, 2, 1), 0.25, 1e-7);
    CHECK_NEAR(share_at(coverage, 3, 1), 0.75, 1e-7);
    CHECK(share_at(coverage, 1, 1) == 0);
    CHECK(share_at(coverage, -1, 0) == 0);
}

TEST_CASE("an edge along the cells leaves no speck beyond it") {
    Coverage const coverage = cover({box_ring({-7, -3}, {12, 9}), {}}, 1.0, 3);
    int whole = 0;
    for (float const share : coverage.share) {
        CHECK((share == 0.0F || share == 1.0F));
        whole += share == 1.0F ? 1 : 0;
    }
    CHECK(whole == 19 * 12);
}

TEST_CASE("a blur keeps the sum and spreads a cell over the tent") {
    std::vector<float> const weights = tent_weights(2.0, 1.0);
    REQUIRE(weights.size() == 3);
    CHECK(weights[0] == 0.25F);
    CHECK(weights[1] == 0.5F);
    std::vector<float> field(9 * 7, 0.0F);
    field[3 * 9 + 4] = 16;
    std::vector<float> scratch;
    blur(field, 9, 7, weights, scratch);
    CHECK(field[3 * 9 + 4] == 4.0F);
    CHECK(field[2 * 9 + 4] == 2.0F);
    CHECK(field[2 * 9 + 3] == 1.0F);
    CHECK(sum_of(field) == 16.0);
    CHECK(tent_weights(0.5, 1.0) == std::vector<float>{1.0F});
}
