// Closed forms of the handbooks that tie outline, surface and chart together.
#include "base/units.h"
#include "former/surface.h"
#include "near.h"

#include <cmath>

using namespace leafwright;

namespace {

// Carlson's R_G(0, y, z) by the arithmetic-geometric mean (DLMF 19.8, 19.22).
double rg_0(double y, double z) {
    double a = std::sqrt(std::max(y, z));
    double b = std::sqrt(std::min(y, z));
    double sum = 0.5 * (a * a + b * b);
    double power = 1;
    while (std::abs(a - b) > 1e-15 * a) {
        double const half = 0.5 * (a - b);
        double const mean = 0.5 * (a + b);
        b = std::sqrt(a * b);
        a = mean;
        sum -= power * half * half;
        power *= 2;
    }
    return kPi / (4 * a) * sum;
}

Former made(OutlineKind kind, double width_mm, double height_mm, ProfileSpec profile) {
    OutlineSpec outline;
    outline.kind = kind;
    outline.width_mm = width_mm;
    outline.height_mm = height_mm;
    auto former = Former::make({outline, profile});
    REQUIRE(former.ok());
    return *former;
}

} // namespace

TEST_CASE("the rim of an oval is Carlson's integral, checked itself by his published values") {
    // Carlson, Numer. Algorithms 10 (1995) 13: R_G(0,16,16) = pi, R_G(0,0.0796,4) = 1.0284758090288.
    CHECK_REL(rg_0(16, 16), kPi, 1e-13);
    CHECK_REL(rg_0(0.0796, 4), 1.0284758090288, 1e-12);
    for (double const width_mm : {300.0, 240.0, 400.0}) {
        Former const former = made(OutlineKind::oval, width_mm, 400, {});
        double const a = width_mm / 2;
        CHECK_REL(former.measures().rim_mm, 8 * rg_0(a * a, 200.0 * 200.0), 1e-9);
    }
}

TEST_CASE("the oval dome lies within Thomsen's bound of 1.061 %") {
    // Thomsen's formula, p = 1.6075: relative error at most 1.061 %.
    double const p = 1.6075;
    for (double const crown_mm : {40.0, 90.0, 150.0}) {
        double const a = 200;
        double const b = 150;
        double const mean = (std::pow(a * b, p) + std::pow(a * crown_mm, p) + std::pow(b * crown_mm, p)) / 3;
        double const half = 2 * kPi * std::pow(mean, 1 / p);
        Former const former = made(OutlineKind::oval, 300, 400, {ProfileKind::dome, crown_mm});
        CHECK(std::abs(former.measures().surface_mm2 / half - 1) < 0.01061);
    }
}

TEST_CASE("on a half ball angle excess is area over the square of the radius") {
    // Gauss-Bonnet (do Carmo): a spherical triangle from the crown to two rim points a quarter turn apart has three
    // right angles, so its excess is pi/2 and its area R^2 pi/2: an eighth of the ball.
    double const radius_mm = 150;
    Former const ball = made(OutlineKind::round, 2 * radius_mm, 2 * radius_mm, {ProfileKind::dome, radius_mm});
    ClaySurface const surface = ClaySurface::make(ball, {});
    Ring octant{{0, 0}};
    for (int i = 0; i <= 2000; ++i)
        octant.push_back(surface.to_chart({kPi / 2 * i / 2000, surface.rim_from_crown_mm(kPi / 2 * i / 2000)}));
    CHECK_REL(signed_area(octant), radius_mm * radius_mm * kPi / 2, 1e-6);
}

TEST_CASE("a leaf of two arcs has the handbook's area, drawn and laid") {
    // Vesica of length L and half width w: r = (L^2/4 + w^2)/(2w), A = r^2 (2f - sin 2f), f = asin(L/(2r)).
    double const length_mm = 100;
    double const half_width_mm = 20;
    double const r = (length_mm * length_mm / 4 + half_width_mm * half_width_mm) / (2 * half_width_mm);
    double const f = std::asin(length_mm / (2 * r));
    double const area_mm2 = r * r * (2 * f - std::sin(2 * f));
    CHECK_REL(area_mm2, 2750.146578791, 1e-11);
    Ring leaf;
    for (int side : {1, -1})
        for (int i = 0; i < 1000; ++i) {
            double const t = f * (2.0 * i / 1000 - 1);
            leaf.push_back({side * (r * std::cos(t) - (r - half_width_mm)), side * r * std::sin(t)});
        }
    CHECK_REL(signed_area(leaf), area_mm2, 1e-5);
    // Laid on a former so flat that nothing is bent: the chart keeps the area.
    Former const flat = made(OutlineKind::round, 800, 800, {ProfileKind::saucer, 3});
    ClaySurface const surface = ClaySurface::make(flat, {});
    std::vector<LaidPoint> laid(leaf.size());
    surface.lay({0.7, 120}, 0.4, leaf, laid);
    Ring chart;
    for (LaidPoint const& point : laid) chart.push_back(point.chart);
    CHECK_REL(signed_area(chart), area_mm2, 1e-4);
}
