#include "former/outline.h"

#include "base/units.h"
#include "near.h"

#include <algorithm>
#include <cmath>
#include <limits>

using namespace leafwright;

namespace {

OutlineSpec outline_spec(OutlineKind kind, double width, double height) {
    OutlineSpec spec;
    spec.kind = kind;
    spec.width_mm = width;
    spec.height_mm = height;
    return spec;
}

OutlineSpec free_ellipse(int points, double a, double b, double turn = 0) {
    OutlineSpec spec;
    spec.kind = OutlineKind::free;
    for (int i = 0; i < points; ++i) {
        double const t = turn + kTwoPi * i / points;
        spec.points_mm.push_back({a * std::cos(t), b * std::sin(t)});
    }
    return spec;
}

// Perimeter of an ellipse by the arithmetic-geometric mean: 2 pi / agm * (a^2 - sum 2^(n-1) c_n^2). Gauss; Borwein and
// Borwein, Pi and the AGM.
double ellipse_perimeter(double a, double b) {
    double x = a, y = b, sum = 0.5 * (a * a - b * b), power = 0.5;
    for (int i = 0; i < 12; ++i) {
        double const c = 0.5 * (x - y), mean = 0.5 * (x + y);
        y = std::sqrt(x * y);
        x = mean;
        power *= 2;
        sum += power * c * c;
    }
    return kTwoPi / x * (a * a - sum);
}

double superellipse_area(double a, double b, double n) {
    return 4 * a * b * std::pow(std::tgamma(1 + 1 / n), 2) / std::tgamma(1 + 2 / n); // Beta integral
}

std::string refused_key(OutlineSpec const& spec) {
    Outcome<Outline> const outline = Outline::make(spec);
    if (outline) return "accepted";
    CHECK(outline.problem().kind == ProblemKind::input);
    return outline.problem().code == "range" ? outline.problem().where : outline.problem().code;
}

} // namespace

TEST_CASE("the rim of an oval is as long as the complete elliptic integral says") {
    // NIST DLMF 19.30: L(5, 3) = 25.52699886339813 is printed; L(300, 200) and L(1, 0.5) were computed to 30 digits.
    CHECK_REL(ellipse_perimeter(5, 3), 25.52699886339813, 1e-14);
    CHECK_REL(ellipse_perimeter(1, 0.5), 4.844224110274, 1e-12);
    CHECK_REL(Outline::make(outline_spec(OutlineKind::oval, 600, 400))->perimeter_mm(), 1586.543958929, 1e-12);
    CHECK_REL(Outline::make(outline_spec(OutlineKind::oval, 200, 120))->perimeter_mm(), 20 * 25.52699886339813, 1e-10);
    CHECK_REL(Outline::make(outline_spec(OutlineKind::oval, 50, 1000))->perimeter_mm(), ellipse_perimeter(500, 25),
              1e-10);
    // Ramanujan's second and first approximations, with their known errors at 300 x 200.
    double const a = 300, b = 200, h = std::pow((a - b) / (a + b), 2);
    double const second = kPi * (a + b) * (1 + 3 * h / (10 + std::sqrt(4 - 3 * h)));
    double const first = kPi * (3 * (a + b) - std::sqrt((3 * a + b) * (a + 3 * b)));
    double const rim = Outline::make(outline_spec(OutlineKind::oval, 600, 400))->perimeter_mm();
    CHECK_NEAR(1 - second / rim, 2.48e-12, 2e-13);
    CHECK_NEAR(1 - first / rim, 1.27e-7, 1e-9);
}

TEST_CASE("plan areas are those of circle, ellipse, half ellipses and superellipse") {
    CHECK_REL(Outline::make(outline_spec(OutlineKind::round, 300, 999))->area_mm2(), kPi * 150 * 150, 1e-12);
    CHECK_REL(Outline::make(outline_spec(OutlineKind::oval, 600, 400))->area_mm2(), 188495.5592154, 1e-12);
    OutlineSpec egg = outline_spec(OutlineKind::egg, 300, 400);
    egg.upper_share = 0.62;
    CHECK_REL(Outline::make(egg)->area_mm2(), kPi * 150 * 200, 1e-11); // both halves: pi a (b_up + b_down) / 2
    OutlineSpec rounded = outline_spec(OutlineKind::rounded, 600, 400);
    rounded.squareness = 2.5;
    CHECK_REL(Outline::make(rounded)->area_mm2(), 202856.1217522, 1e-9);
    for (auto const& [n, unit] : {std::pair{2.0, 3.141592653590},
                                  {2.5, 3.380935362537},
                                  {3.0, 3.533277500571},
                                  {4.0, 3.708149354603},
                                  {8.0, superellipse_area(1, 1, 8)}}) {
        rounded.squareness = n;
        CHECK_REL(Outline::make(rounded)->area_mm2(), unit * 300 * 200, 1e-9);
    }
}

TEST_CASE("radius derivatives agree with differences of the radius") {
    OutlineSpec egg = outline_spec(OutlineKind::egg, 300, 420), rounded = outline_spec(OutlineKind::rounded, 250, 400);
    egg.upper_share = 0.4;
    rounded.squareness = 3.3;
    for (OutlineSpec const& spec :
         {outline_spec(OutlineKind::round, 300, 300), outline_spec(OutlineKind::oval, 300, 400), egg, rounded,
          free_ellipse(9, 150, 200)}) {
        Outline const outline = *Outline::make(spec);
        for (double azimuth = 0.11; azimuth < 6.2; azimuth += 0.37) {
            double const h = 1e-4;
            RadiusJet const jet = outline.radius(azimuth), after = outline.radius(azimuth + h),
                            before = outline.radius(azimuth - h);
            CHECK_NEAR(jet.dr, (after.r - before.r) / (2 * h), 1e-4);
            CHECK_NEAR(jet.ddr, (after.dr - before.dr) / (2 * h), 2e-3);
        }
    }
}

TEST_CASE("radii go through the outline's own equation") {
    OutlineSpec spec = outline_spec(OutlineKind::rounded, 260, 380);
    spec.squareness = 3.7;
    for (Vec2 const& p : Outline::make(spec)->ring(97))
        CHECK_REL(std::pow(std::abs(p.x) / 130, 3.7) + std::pow(std::abs(p.y) / 190, 3.7), 1, 1e-12);
    spec = outline_spec(OutlineKind::egg, 260, 380);
    spec.upper_share = 0.3;
    for (Vec2 const& p : Outline::make(spec)->ring(97))
        CHECK_REL(std::pow(p.x / 130, 2) + std::pow(p.y / (p.y > 0 ? 114 : 266), 2), 1, 1e-12);
}

TEST_CASE("a free outline goes through its points, whichever way they run") {
    OutlineSpec spec;
    spec.kind = OutlineKind::free;
    spec.points_mm = {{140, 20}, {90, 120}, {-20, 190}, {-130, 90}, {-110, -80}, {0, -160}, {120, -70}};
    Outline const outline = *Outline::make(spec);
    for (Vec2 const& p : spec.points_mm) CHECK_REL(outline.radius(std::atan2(p.y, p.x)).r, glm::length(p), 1e-12);
    OutlineSpec reversed = spec;
    std::reverse(reversed.points_mm.begin(), reversed.points_mm.end());
    CHECK_REL(Outline::make(reversed)->area_mm2(), outline.area_mm2(), 1e-12);
    CHECK_REL(outline.area_mm2(), area(Polygon{outline.ring(20000), {}}), 1e-6);
    CHECK_REL(outline.perimeter_mm(), perimeter(outline.ring(20000)), 1e-6);
}

TEST_CASE("a free outline through points of an ellipse closes in on it with the fourth power of their distance") {
    double const exact = kPi * 150 * 200;
    double const coarse = std::abs(Outline::make(free_ellipse(12, 150, 200, 0.1))->area_mm2() / exact - 1);
    double const fine = std::abs(Outline::make(free_ellipse(48, 150, 200, 0.1))->area_mm2() / exact - 1);
    CHECK(coarse < 2e-3);
    CHECK(fine < coarse / 150);
    CHECK_REL(Outline::make(free_ellipse(200, 150, 200))->perimeter_mm(), ellipse_perimeter(200, 150), 1e-8);
}

TEST_CASE("outlines out of range are refused by the name of the field") {
    double const nan = std::numeric_limits<double>::quiet_NaN(), inf = std::numeric_limits<double>::infinity();
    for (double bad : {39.0, 1201.0, -300.0, nan, inf}) {
        CHECK(refused_key(outline_spec(OutlineKind::oval, bad, 300)) == "former.outline.width_mm");
        CHECK(refused_key(outline_spec(OutlineKind::egg, 300, bad)) == "former.outline.height_mm");
    }
    CHECK(refused_key(outline_spec(OutlineKind::round, 300, nan)) == "accepted"); // a round outline has one size only
    OutlineSpec egg = outline_spec(OutlineKind::egg, 300, 400), rounded = outline_spec(OutlineKind::rounded, 300, 400);
    for (double bad : {0.19, 0.81, nan}) {
        egg.upper_share = bad;
        CHECK(refused_key(egg) == "former.outline.upper_share");
    }
    for (double bad : {1.9, 8.1, nan}) {
        rounded.squareness = bad;
        CHECK(refused_key(rounded) == "former.outline.squareness");
    }
}

TEST_CASE("free outlines that cannot be a former are refused") {
    OutlineSpec spec;
    spec.kind = OutlineKind::free;
    CHECK(refused_key(spec) == "former.outline.points_mm");
    spec.points_mm = {{100, 0}, {0, 100}, {-100, 0}};
    CHECK(refused_key(spec) == "former.outline.points_mm"); // three points
    spec.points_mm = {{100, 0}, {0, 100}, {-100, 0}, {std::nan(""), -100}};
    CHECK(refused_key(spec) == "former.outline.points_mm");
    spec.points_mm = {{100, 100}, {200, 100}, {200, 200}, {100, 200}}; // the centre lies outside
    CHECK(refused_key(spec) == "outline.not-star");
    spec.points_mm = {{100, 0}, {0, 100}, {60, 60}, {-100, 0}, {0, -100}}; // runs back
    CHECK(refused_key(spec) == "outline.not-star");
    OutlineSpec twice = free_ellipse(8, 100, 120);
    twice.points_mm.insert(twice.points_mm.end(), twice.points_mm.begin(), twice.points_mm.end()); // twice round
    CHECK(refused_key(twice) == "outline.not-star");
    spec.points_mm = {{12, 0}, {0, 12}, {-12, 0}, {0, -12}}; // too small
    CHECK(refused_key(spec) == "former.outline.points_mm");
}
