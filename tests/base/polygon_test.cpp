#include "base/polygon.h"
#include "base/units.h"
#include "near.h"

#include <algorithm>

using namespace leafwright;

namespace {

Ring regular(int n, double radius, Vec2 centre = {0, 0}) {
    Ring ring;
    for (int i = 0; i < n; ++i)
        ring.push_back(centre + radius * Vec2(std::cos(kTwoPi * i / n), std::sin(kTwoPi * i / n)));
    return ring;
}

} // namespace

TEST_CASE("a regular polygon has the area and perimeter of the handbook formula") {
    // A = n/2 r^2 sin(2 pi/n), P = 2 n r sin(pi/n): any mensuration handbook.
    for (int n : {3, 4, 7, 120}) {
        Ring const ring = regular(n, 35, {1000, -2000});
        CHECK_REL(signed_area(ring), 0.5 * n * 35 * 35 * std::sin(kTwoPi / n), 1e-12);
        CHECK_REL(perimeter(ring), 2 * n * 35 * std::sin(kPi / n), 1e-12);
        CHECK_NEAR(glm::length(centroid(ring) - Vec2(1000, -2000)), 0, 1e-9);
    }
}

TEST_CASE("turning a ring round changes the sign of its area only") {
    Ring ring = regular(9, 12);
    double const before = signed_area(ring);
    std::reverse(ring.begin(), ring.end());
    CHECK(signed_area(ring) == doctest::Approx(-before));
    CHECK(signed_area(counter_clockwise(ring)) == doctest::Approx(before));
}

TEST_CASE("a hole takes its area away and is outside") {
    Polygon const washer{regular(200, 50), {regular(200, 20)}};
    CHECK_REL(area(washer), 0.5 * 200 * std::sin(kTwoPi / 200) * (2500 - 400), 1e-12);
    CHECK_FALSE(contains(washer, {0, 0}));
    CHECK(contains(washer, {30, 0}));
    CHECK_FALSE(contains(washer, {51, 0}));
}

TEST_CASE("the hull of points in and on a polygon is the polygon's corners") {
    Ring const corners = regular(7, 30, {4, -9});
    Ring points;
    for (std::size_t i = 0; i < 7; ++i)
        for (double const share : {0.0, 0.4, 1.0}) // on the sides, with corners twice, and within
            for (double const in : {1.0, 0.5}) {
                Vec2 const side = corners[i] + share * (corners[(i + 1) % 7] - corners[i]);
                points.push_back(in * side + (1 - in) * Vec2{4, -9});
            }
    Ring const hull = convex_hull(points);
    CHECK_REL(signed_area(hull), 7.0 / 2 * 900 * std::sin(kTwoPi / 7), 1e-12); // of a regular polygon
    for (Vec2 const& p : points)                                               // none lies outside
        for (std::size_t i = 0; i < hull.size(); ++i)
            CHECK(cross(hull[(i + 1) % hull.size()] - hull[i], p - hull[i]) > -1e-9);
    CHECK(hull.front().x == std::ranges::min(hull, {}, &Vec2::x).x);
    CHECK(convex_hull({{3, 3}, {1, 1}, {2, 2}, {1, 1}}) == Ring{{1, 1}, {3, 3}});
    CHECK(convex_hull({{5, 6}}) == Ring{{5, 6}});
    CHECK(convex_hull({}).empty());
}

TEST_CASE("empty and degenerate rings have defined answers") {
    CHECK(signed_area(Ring{}) == 0);
    CHECK(signed_area(Ring{{1, 1}, {2, 2}}) == 0);
    CHECK(centroid(Ring{}) == Vec2(0, 0));
    CHECK_FALSE(contains(Ring{}, {0, 0}));
    CHECK_FALSE(is_simple(Ring{{0, 0}, {1, 0}}));
}

TEST_CASE("self-crossing, doubled and folded rings are not simple") {
    CHECK(is_simple(regular(8, 5)));
    CHECK_FALSE(is_simple(Ring{{0, 0}, {2, 2}, {2, 0}, {0, 2}}));
    CHECK_FALSE(is_simple(Ring{{0, 0}, {1, 0}, {1, 0}, {0, 1}}));
    CHECK_FALSE(is_simple(Ring{{0, 0}, {4, 0}, {2, 0}, {2, 3}}));
}
