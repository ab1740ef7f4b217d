#include "base/units.h"
#include "formers.h"
#include "near.h"

#include <cmath>

using namespace leafwright;

namespace {

struct Frame {
    Vec3 position, normal, outward, round;
};

Frame sphere_frame(double radius, double azimuth, double t) {
    double const c = std::cos(azimuth), s = std::sin(azimuth);
    Vec3 const normal(std::sin(t) * c, std::sin(t) * s, std::cos(t)),
        outward(std::cos(t) * c, std::cos(t) * s, -std::sin(t));
    return {radius * normal, normal, outward, glm::cross(normal, outward)};
}

// Tangent direction of a local direction: +y is outward turned counter-clockwise by `turn`, +x is right of +y.
Vec3 direction(Frame const& frame, double turn, Vec2 const& local) {
    Vec3 const up = std::cos(turn) * frame.outward + std::sin(turn) * frame.round;
    Vec3 const right = glm::cross(up, frame.normal);
    return glm::normalize(local.x * right + local.y * up);
}

Ring leaf(double length, double width, int points) {
    Ring ring;
    for (int i = 0; i < points; ++i) {
        double const t = kTwoPi * i / points;
        ring.push_back({0.5 * width * std::sin(t) * (1 + 0.3 * std::cos(t)), -0.5 * length * std::cos(t)});
    }
    return ring;
}

std::vector<LaidPoint> lay(ClaySurface const& surface, Spot const& spot, double turn, Ring const& local) {
    std::vector<LaidPoint> laid(local.size());
    surface.lay(spot, turn, local, laid);
    return laid;
}

Ring charted(std::vector<LaidPoint> const& laid) {
    Ring ring;
    for (LaidPoint const& p : laid) ring.push_back(p.chart);
    return ring;
}

// Twin: the geodesic of x^2/a^2 + y^2/b^2 + z^2/c^2 = 1 in space, x'' = -(v.Hv / |grad|^2) grad, in very small steps.
struct Ellipsoid {
    Vec3 half_axes;
    Vec3 normal(Vec3 const& x) const { return glm::normalize(x / (half_axes * half_axes)); }
    // The end, and the lowest z on the way.
    std::pair<Vec3, double> shoot(Vec3 x, Vec3 v, double length) const {
        Vec3 const q = 1.0 / (half_axes * half_axes);
        auto const bend = [&](Vec3 const& at, Vec3 const& speed) {
            Vec3 const gradient = at * q;
            return -glm::dot(speed * speed, q) / glm::dot(gradient, gradient) * gradient;
        };
        double lowest = x.z;
        constexpr int kSteps = 400;
        double const h = length / kSteps;
        for (int i = 0; i < kSteps; ++i) {
            Vec3 const a1 = bend(x, v), v2 = v + 0.5 * h * a1, a2 = bend(x + 0.5 * h * v, v2), v3 = v + 0.5 * h * a2,
                       a3 = bend(x + 0.5 * h * v2, v3), v4 = v + h * a3, a4 = bend(x + h * v3, v4);
            x += h / 6 * (v + 2.0 * v2 + 2.0 * v3 + v4);
            v += h / 6 * (a1 + 2.0 * a2 + 2.0 * a3 + a4);
            lowest = std::min(lowest, x.z);
        }
        return {x, lowest};
    }
};

double worst_against_twin(double width, double height, double crown, double length, double clear_of_rim_mm) {
    ClaySurface const surface = ClaySurface::make(oval_dome(width, height, crown), {.offset_mm = 0});
    Ellipsoid const twin{{width / 2, height / 2, crown}};
    double worst = 0;
    int compared = 0;
    for (double azimuth = 0; azimuth < 6.28; azimuth += 0.41)
        for (double share : {0.0, 0.02, 0.15, 0.4, 0.7, 0.9})
            for (int k = 0; k < 12; ++k) {
                double const from_crown = share * surface.rim_from_crown_mm(azimuth);
                Vec3 const here = surface.at({azimuth, from_crown}).position;
                Vec3 const normal = twin.normal(here);
                Vec3 const plane(-std::sin(azimuth), std::cos(azimuth), 0); // the meridian lies square to this
                Vec3 const outward = glm::normalize(glm::cross(plane, normal));
                Frame const frame{here, normal, outward, glm::cross(normal, outward)};
                Vec2 const local = length * Vec2(std::cos(k * kPi / 6), std::sin(k * kPi / 6));
                auto const [end, lowest] = twin.shoot(here, direction(frame, 0.7, local), length);
                if (lowest < clear_of_rim_mm) continue;
                worst =
                    std::max(worst, glm::length(lay(surface, {azimuth, from_crown}, 0.7, {local})[0].position - end));
                ++compared;
            }
    CHECK(compared > 150);
    return worst;
}

} // namespace

TEST_CASE("geodesics of a hemisphere are great circles, from the crown to near the rim") {
    for (double offset : {0.0, 8.0}) {
        double const big = 150 + offset;
        ClaySurface const surface = ClaySurface::make(hemisphere(150), {.offset_mm = offset});
        int compared = 0;
        for (double t : {0.0, 0.01, 0.3, 0.8, 1.2})
            for (double azimuth : {0.0, 0.9, 3.0})
                for (double turn : {0.0, 1.0, -2.0})
                    for (double length : {5.0, 30.0, 60.0}) {
                        Frame const frame = sphere_frame(big, azimuth, t);
                        Ring local;
                        for (int i = 0; i < 16; ++i)
                            local.push_back(length * Vec2(std::cos(kPi * i / 8), std::sin(kPi * i / 8)));
                        std::vector<LaidPoint> const laid = lay(surface, {azimuth, t * big}, turn, local);
                        for (std::size_t i = 0; i < local.size(); ++i) {
                            Vec3 const way = direction(frame, turn, local[i]);
                            double const angle = length / big;
                            Vec3 const normal = std::cos(angle) * frame.normal + std::sin(angle) * way;
                            if (normal.z * big < 8) continue; // up to 8 mm above the rim
                            ++compared;
                            REQUIRE(glm::length(laid[i].position - big * normal) < 1e-6 * big);
                            REQUIRE(glm::length(laid[i].normal - normal) < 1e-5);
                        }
                    }
        CHECK(compared > 1500);
    }
}

TEST_CASE("laid points of an ellipsoid end within 0.005 mm of a fine-step twin in space") {
    for (double crown : {60.0, 120.0, 180.0}) {
        double const worst = worst_against_twin(300, 400, crown, 60, 20);
        CHECK_NEAR(worst, 0, 0.005);
        CHECK(worst > 0);
    }
    CHECK_NEAR(worst_against_twin(160, 200, 90, 60, 20), 0, 0.005);
    CHECK_NEAR(worst_against_twin(200, 500, 100, 60, 20), 0, 0.02); // slender: the crown is far from round
}

TEST_CASE("a leaf keeps its area wherever it lies inside the rim") {
    // Isometry up to the surface's own curvature: within 0.7 % for a small leaf.
    Ring const local = leaf(40, 22, 120);
    double const flat = std::abs(signed_area(local));
    for (ProfileKind kind : {ProfileKind::dome, ProfileKind::saucer, ProfileKind::full}) {
        FormerSpec spec = oval_dome_spec(300, 400, 110);
        spec.profile.kind = kind;
        ClaySurface const surface = ClaySurface::make(*Former::make(spec), {.offset_mm = 8});
        for (double azimuth = 0; azimuth < 6.2; azimuth += 0.45)
            for (double share : {0.0, 0.3, 0.6, 0.9}) {
                Spot const spot{azimuth, share * surface.rim_from_crown_mm(azimuth)};
                CHECK_REL(std::abs(signed_area(charted(lay(surface, spot, 0.4, local)))), flat, 0.007);
            }
    }
}

TEST_CASE("a leaf over the cap of a sphere has the area that Gauss' curvature takes away") {
    // Geodesic disc: 2 pi R^2 (1 - cos(r/R)), for any middle (do Carmo, geodesic polar coordinates).
    double const big = 150;
    ClaySurface const surface = ClaySurface::make(hemisphere(big), {.offset_mm = 0});
    for (double r : {10.0, 30.0, 50.0})
        for (double t : {0.0, 0.4, 1.0}) {
            Ring disc;
            for (int i = 0; i < 3000; ++i)
                disc.push_back(r * Vec2(std::cos(kTwoPi * i / 3000), std::sin(kTwoPi * i / 3000)));
            CHECK_REL(signed_area(charted(lay(surface, {0.7, t * big}, 1.0, disc))),
                      kTwoPi * big * big * (1 - std::cos(r / big)), 3e-6);
        }
}

TEST_CASE("right is right: outlines keep their sense, and turning goes counter-clockwise as seen from the front") {
    ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 80), {.offset_mm = 8});
    Spot const above{kPi / 2, 60}; // straight above the crown: outward is up
    std::vector<LaidPoint> const p = lay(surface, above, 0, {{0, 0}, {0, 20}, {20, 0}, {-20, 0}});
    CHECK(p[1].position.y > p[0].position.y + 15); // tip up
    CHECK(p[2].position.x > p[0].position.x + 15); // +x on the right, seen from +z
    CHECK(p[3].position.x < p[0].position.x - 15);
    CHECK_NEAR(p[0].position.y - surface.at(above).position.y, 0, 1e-12);
    std::vector<LaidPoint> const turned = lay(surface, above, radians(90), {{0, 20}});
    CHECK(turned[0].position.x < p[0].position.x - 15); // a quarter turn left
    for (Spot const spot : {Spot{0, 0}, Spot{2, 100}, Spot{4, 240}})
        CHECK(signed_area(charted(lay(surface, spot, 0.3, leaf(50, 25, 40)))) * signed_area(leaf(50, 25, 40)) > 0);
}

TEST_CASE("outward is the meridian: points up the midrib stay on it on a round former") {
    ClaySurface const surface = ClaySurface::make(round_former(ProfileKind::dome, 180, 90), {.offset_mm = 8});
    std::vector<LaidPoint> const p = lay(surface, {1.1, 80}, 0, {{0, 35}, {0, -35}});
    CHECK_NEAR(surface.from_chart(p[0].chart).from_crown_mm, 115, 1e-4);
    CHECK_NEAR(surface.from_chart(p[1].chart).from_crown_mm, 45, 1e-4);
    CHECK_NEAR(surface.from_chart(p[0].chart).azimuth_rad, 1.1, 1e-7);
}

TEST_CASE("at the crown the azimuth of the spot says where outward is") {
    ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 80), {.offset_mm = 8});
    for (double azimuth : {0.0, 1.0, 3.0, 5.5}) {
        LaidPoint const p = lay(surface, {azimuth, 0}, 0, {{0, 25}})[0];
        CHECK_NEAR(std::cos(std::atan2(p.position.y, p.position.x) - azimuth), 1, 1e-3);
        CHECK(p.position.z < 88);
    }
}

TEST_CASE("on the board leaves lie as cut, in straight lines") {
    ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 120), {.offset_mm = 8});
    for (double beyond : {80.0, 145.0, 300.0}) { // well on the board, at the edge of the model, and beyond it
        Spot const spot{0.8, surface.rim_from_crown_mm(0.8) + beyond};
        Ring const local{{0, 0}, {0, 30}, {30, 0}, {-30, 0}, {12, 17}};
        std::vector<LaidPoint> const p = lay(surface, spot, 0.5, local);
        for (std::size_t i = 0; i < local.size(); ++i)
            for (std::size_t j = 0; j < i; ++j)
                CHECK_NEAR(glm::length(p[i].position - p[j].position), glm::length(local[i] - local[j]), 0.003);
    }
}

TEST_CASE("a leaf that hangs over the rim keeps its length along the midrib") {
    ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 120), {.offset_mm = 8});
    for (double azimuth : {0.0, kPi / 2, kPi}) { // where the outline's axes make the meridian a geodesic
        Spot const spot{azimuth, surface.rim_from_crown_mm(azimuth) - 20};
        LaidPoint const tip = lay(surface, spot, 0, {{0, 45}})[0];
        Spot const end = surface.from_chart(tip.chart);
        CHECK_NEAR(end.from_crown_mm, spot.from_crown_mm + 45, 0.01);
        CHECK_NEAR(std::cos(end.azimuth_rad - azimuth), 1, 1e-6);
    }
}

TEST_CASE("rays hit a sphere where the quadratic equation says") {
    double const big = 158;
    ClaySurface const surface = ClaySurface::make(hemisphere(150), {.offset_mm = 8});
    int hits = 0;
    for (int i = 0; i < 200; ++i) {
        double const x = -130 + 1.31 * i, y = 90 * std::sin(0.37 * i);
        Vec3 const from(x + 40, y - 300, 500), way = glm::normalize(Vec3(-0.08, 0.55, -1)) * (0.3 + 0.01 * i);
        double const a = glm::dot(way, way), b = glm::dot(from, way), c = glm::dot(from, from) - big * big;
        double const root = b * b - a * c;
        if (root < 0) continue;
        Vec3 const expected = from + (-b - std::sqrt(root)) / a * way;
        if (expected.z < 2 || -glm::dot(expected, way) < 0.1 * big * glm::length(way)) continue;
        std::optional<Spot> const spot = surface.hit(from, way);
        REQUIRE(spot);
        REQUIRE(glm::length(surface.at(*spot).position - expected) < 1e-4);
        ++hits;
    }
    CHECK(hits > 50);
}

TEST_CASE("rays reach the board, miss behind the eye, and come to the nearest side first") {
    ClaySurface const surface = ClaySurface::make(oval_dome(300, 400, 120), {.offset_mm = 8});
    std::optional<Spot> const board = surface.hit({400, 10, 500}, {0, 0, -1});
    REQUIRE(board);
    CHECK_NEAR(glm::length(Vec2(surface.at(*board).position) - Vec2(400, 10)), 0, 1e-6);
    CHECK_FALSE(surface.hit({0, 0, 500}, {0, 0, 1}));
    CHECK_FALSE(surface.hit({0, 0, 500}, {1, 0, 0}));
    std::optional<Spot> const left = surface.hit({-900, 0, 40}, {1, 0, 0});
    REQUIRE(left);
    CHECK(surface.at(*left).position.x < -100);
    std::optional<Spot> const crown = surface.hit({0, 0, 500}, {0, 0, -1});
    REQUIRE(crown);
    CHECK_NEAR(crown->from_crown_mm, 0, 1e-6);
}
