#include "base/units.h"
#include "formers.h"
#include "near.h"

#include <cmath>

using namespace leafwright;

namespace {

Ring chart_ring(ClaySurface const& surface, double from_crown_mm, int points) {
    Ring ring;
    for (int i = 0; i < points; ++i) ring.push_back(surface.to_chart({kTwoPi * i / points, from_crown_mm}));
    return ring;
}

} // namespace

TEST_CASE("zones of a sphere have the same area in the chart wherever they are cut") {
    // Archimedes' hat box: 2 pi R h. R = 363.333 mm, h = 20 mm: 45657.8132322 mm2.
    ClaySurface const surface = ClaySurface::make(round_former(ProfileKind::saucer, 200, 60), {.offset_mm = 0});
    double const big = (200.0 * 200 + 60 * 60) / 120;
    auto const circle = [&](double depth) {
        return std::abs(signed_area(chart_ring(surface, big * std::acos(1 - depth / big), 40000)));
    };
    CHECK_REL(circle(20), 45657.8132322, 1e-6);
    CHECK_REL(circle(40) - circle(20), 45657.8132322, 1e-6);
    CHECK_REL(circle(55) - circle(35), 45657.8132322, 1e-6);
    CHECK_REL(surface.area_mm2(), 136973.4396965, 1e-9);
}

TEST_CASE("the chart of a hemisphere is Lambert's, on the offset sphere too") {
    // Lambert azimuthal equal-area projection: q = 2 R sin(t/2) (Snyder, USGS Prof. Paper 1395).
    for (double offset : {0.0, 3.5, 8.0}) {
        double const big = 150 + offset;
        ClaySurface const surface = ClaySurface::make(hemisphere(150), {.offset_mm = offset});
        CHECK_REL(surface.area_mm2(), kTwoPi * big * big, 1e-8);
        for (double t : {0.001, 0.1, 0.5, 1.0, 1.5, 1.57}) {
            LaidPoint const p = surface.at({2.0, big * t});
            CHECK_NEAR(glm::length(p.chart), 2 * big * std::sin(t / 2), 1e-6 + 1e-8 * big);
            CHECK_NEAR(glm::length(p.position - big * p.normal), 0, 1e-4);
            CHECK_NEAR(p.position.z, big * std::cos(t), 1e-5);
        }
    }
}

TEST_CASE("without an offset the chart's area is the former's own, on every outline and profile") {
    for (OutlineKind outline : {OutlineKind::round, OutlineKind::oval, OutlineKind::egg, OutlineKind::rounded})
        for (ProfileKind profile : {ProfileKind::dome, ProfileKind::saucer, ProfileKind::full}) {
            FormerSpec spec = oval_dome_spec(300, 400, 90);
            spec.outline.kind = outline;
            spec.outline.upper_share = 0.4;
            spec.outline.squareness = 3;
            spec.profile.kind = profile;
            spec.profile.fullness = 2.4;
            Former const former = *Former::make(spec);
            CHECK_REL(ClaySurface::make(former, {.offset_mm = 0}).area_mm2(), former.measures().surface_mm2, 1e-7);
        }
}

TEST_CASE("an offset ellipsoid has the area of Steiner's formula") {
    // A(t) = A + 2 t (integral of mean curvature) + 2 pi t^2 chi for a closed convex body; here a half ellipsoid with
    // an upright rim, whose half is exact by symmetry. Independent of t twice: second differences give 2 * 2 pi * t^2.
    Former const former = oval_dome(300, 400, 120);
    auto const area = [&](double t) { return ClaySurface::make(former, {.offset_mm = t}).area_mm2(); };
    double const a0 = area(0), a5 = area(5), a10 = area(10);
    CHECK_REL(a10 - 2 * a5 + a0, 2 * kTwoPi * 25, 1e-4);
    CHECK_REL(a0, former.measures().surface_mm2, 1e-8);
}

TEST_CASE("the rim ring encloses the area inside the rim at any number of points") {
    for (double offset : {0.0, 8.0}) {
        ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 120), {.offset_mm = offset});
        for (int points : {60, 720, 4000}) CHECK_REL(signed_area(surface.rim_chart(points)), surface.area_mm2(), 1e-12);
        Ring const ring = surface.rim_chart(720);
        for (std::size_t i = 0; i < ring.size(); i += 45) { // a hair outside the rim itself
            Spot const spot = surface.from_chart(ring[i]);
            CHECK_NEAR(spot.from_crown_mm, surface.rim_from_crown_mm(spot.azimuth_rad), 0.01);
        }
        // The plain ring of rim points converges to the same area.
        Ring plain;
        for (int i = 0; i < 20000; ++i) {
            double const azimuth = kTwoPi * i / 20000;
            plain.push_back(surface.to_chart({azimuth, surface.rim_from_crown_mm(azimuth)}));
        }
        CHECK_REL(signed_area(plain), surface.area_mm2(), 1e-6);
    }
}

TEST_CASE("spots, chart points and positions name the same place, also beyond the rim") {
    ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 120), {.offset_mm = 8});
    for (int i = 0; i < 3000; ++i) {
        Spot const spot{-kPi + 0.013 + std::fmod(i * 0.7548776662, kTwoPi - 0.02), 0.01 + i * 0.16};
        LaidPoint const p = surface.at(spot);
        Spot const back = surface.from_chart(p.chart);
        REQUIRE(std::abs(back.from_crown_mm - spot.from_crown_mm) < 1e-7);
        REQUIRE(std::abs(back.azimuth_rad - spot.azimuth_rad) < 1e-12);
        REQUIRE(std::abs(std::atan2(p.position.y, p.position.x) - spot.azimuth_rad) < 1e-12);
        REQUIRE(glm::length(surface.at_chart(p.chart).position - p.position) < 1e-7);
        REQUIRE(std::abs(glm::length(p.normal) - 1) < 1e-12);
    }
    CHECK(surface.to_chart({1.0, 0}) == Vec2(0, 0));
    CHECK(surface.from_chart({0, 0}).from_crown_mm == 0);
}

TEST_CASE("the length from the crown is the length of the meridian on the offset surface") {
    ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 120), {.offset_mm = 8});
    for (double azimuth : {0.0, 0.6, 1.5, 4.0}) {
        double const far = surface.rim_from_crown_mm(azimuth) + 30; // over rim and fillet on to the board
        double length = 0;
        for (int i = 0; i < 20000; ++i)
            length += glm::length(surface.at({azimuth, far * (i + 1) / 20000}).position -
                                  surface.at({azimuth, far * i / 20000}).position);
        CHECK_REL(length, far, 1e-5);
    }
}

TEST_CASE("offset points lie the offset away from the former, along its normal") {
    Former const former = oval_dome(300, 400, 120);
    ClaySurface const bare = ClaySurface::make(former, {.offset_mm = 0}),
                      outer = ClaySurface::make(former, {.offset_mm = 8});
    for (double azimuth = 0.1; azimuth < 6.2; azimuth += 0.5)
        for (double share : {0.0, 0.2, 0.5, 0.8, 0.99}) {
            LaidPoint const p = outer.at({azimuth, share * outer.rim_from_crown_mm(azimuth)});
            Vec3 const foot = p.position - 8.0 * p.normal;
            // On the ellipsoid: (x/150)^2 + (y/200)^2 + (z/120)^2 = 1, and the normal is its gradient.
            Vec3 const gradient = foot / Vec3(150 * 150, 200 * 200, 120 * 120);
            CHECK_NEAR(glm::dot(foot, gradient), 1, 1e-6);
            CHECK_NEAR(glm::length(glm::cross(glm::normalize(gradient), p.normal)), 0, 1e-4);
        }
}

TEST_CASE("beyond the fillet the board is flat, level and true to scale") {
    for (ProfileKind kind : {ProfileKind::dome, ProfileKind::saucer}) {
        FormerSpec spec = oval_dome_spec(300, 400, 100);
        spec.profile.kind = kind;
        ClaySurface const surface = ClaySurface::make(*Former::make(spec), {.offset_mm = 8, .fillet_mm = 5});
        double const level = surface.at({0, surface.rim_from_crown_mm(0) + 60}).position.z;
        CHECK(level < 8);
        for (double azimuth : {0.0, 1.0, 2.5, 5.0})
            for (double beyond : {30.0, 80.0, 140.0, 400.0}) {
                LaidPoint const p = surface.at({azimuth, surface.rim_from_crown_mm(azimuth) + beyond});
                CHECK_NEAR(p.position.z, level, 1e-9);
                CHECK_NEAR(p.normal.z, 1, 1e-12);
                LaidPoint const q = surface.at({azimuth, surface.rim_from_crown_mm(azimuth) + beyond + 10});
                CHECK_NEAR(glm::length(q.position - p.position), 10, 1e-9);
            }
        // A square metre's corner of board, 40 mm a side, in the chart: its plain area.
        Ring square;
        for (int side = 0; side < 4; ++side)
            for (int k = 0; k < 200; ++k) {
                Vec2 const corner[5] = {{220, 260}, {260, 260}, {260, 300}, {220, 300}, {220, 260}};
                Vec2 const at = corner[side] + (corner[side + 1] - corner[side]) * (k / 200.0);
                Spot const spot = *surface.hit({at.x, at.y, 300}, {0, 0, -1});
                square.push_back(surface.to_chart(spot));
            }
        CHECK_REL(signed_area(square), 1600, 1e-5);
    }
}

TEST_CASE("normals turn without a jump from wall to board") {
    ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 120), {.offset_mm = 8, .fillet_mm = 4});
    for (double azimuth : {0.3, 1.2, 3.9}) {
        double const rim = surface.rim_from_crown_mm(azimuth);
        for (double at = rim - 5; at < rim + 15; at += 0.05) {
            Vec3 const a = surface.at({azimuth, at}).normal, b = surface.at({azimuth, at + 0.05}).normal;
            REQUIRE(glm::length(a - b) < 0.05 / 4 * 1.3);
        }
    }
}
