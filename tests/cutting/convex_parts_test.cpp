#include "cutting/convex_parts.h"
#include "cutting/linear_program.h"
#include "cutting/outward.h"

#include "near.h"
#include "nest_jobs.h"

#include <algorithm>

using namespace leafwright;

namespace {

bool is_convex(Ring const& ring) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
        Vec2 const& b = ring[(k + 1) % ring.size()];
        if (cross(b - ring[k], ring[(k + 2) % ring.size()] - b) < -1e-9) return false;
    }
    return true;
}

double sum_of(std::vector<Ring> const& rings) {
    double sum = 0;
    for (Ring const& r : rings) sum += signed_area(r);
    return sum;
}

} // namespace

TEST_CASE("Triangles fill a polygon with holes to the last of its area") {
    Polygon frame = rectangle(100, 80);
    frame.holes.push_back({{10, 10}, {10, 30}, {40, 20}});
    frame.holes.push_back({{50, 40}, {60, 70}, {90, 50}});
    CHECK_REL(sum_of(triangles_of(frame)), area(frame), 1e-12);
    Polygon const leaf = leaf_outline(80, 50, 90, 0.08);
    CHECK_REL(sum_of(triangles_of(leaf)), area(leaf), 1e-12);
}

TEST_CASE("Convex parts are convex, and cover what the polygon covers and no more") {
    Polygon frame = rectangle(100, 80);
    frame.holes.push_back({{10, 10}, {10, 30}, {40, 20}});
    for (Polygon const& polygon : {frame, leaf_outline(80, 50, 60, 0.08)}) {
        std::vector<Ring> const parts = convex_parts(polygon);
        for (Ring const& part : parts) CHECK(is_convex(part));
        Box2 const box = bounds(polygon.outer);
        Random random(3);
        for (int k = 0; k < 4000; ++k) {
            Vec2 const p{random.between(box.low.x, box.high.x), random.between(box.low.y, box.high.y)};
            bool const covered = std::ranges::any_of(parts, [&](Ring const& part) { return contains(part, p); });
            CHECK(covered == contains(polygon, p));
        }
    }
    CHECK(convex_parts(rectangle(3, 4)).size() == 1);
}

TEST_CASE("A simplified outline holds the given one, and lies nowhere farther out than was allowed") {
    Polygon const leaf = leaf_outline(80, 50, 400, 0.05);
    for (double tolerance : {0.01, 0.1, 1.0}) {
        Polygon const simple = simplified_outward(cleaned(leaf), tolerance);
        CHECK(simple.outer.size() < leaf.outer.size());
        // Every point of the given outline is inside or on it; the areas differ by less than a band of that width.
        for (Vec2 const& p : leaf.outer) CHECK(contains(simple.outer, p * (1 - 1e-9)));
        CHECK(area(simple) - area(leaf) <= tolerance * perimeter(leaf.outer));
    }
}

TEST_CASE("Linear programs come out as worked by hand") {
    // least z with z >= x, z >= y, x >= 2, y >= 3 x: z = 6
    std::vector<LinearRow> rows(4);
    rows[0].add(2, 1), rows[0].add(0, -1);
    rows[1].add(2, 1), rows[1].add(1, -1);
    rows[2].add(0, 1), rows[2].bound = 2;
    rows[3].add(1, 1), rows[3].add(0, -3);
    LinearAnswer const answer = minimised(3, 2, rows);
    CHECK_NEAR(answer.x[2], 6, 1e-8);
    CHECK(answer.least_slack > -1e-9);
    // no answer: x >= 1 and x <= 0
    std::vector<LinearRow> torn(3);
    torn[0].add(0, 1), torn[0].bound = 1;
    torn[1].add(0, -1);
    torn[2].add(1, 1);
    CHECK(minimised(2, 1, torn).least_slack < -0.1);
}
