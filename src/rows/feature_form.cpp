#include "rows/feature_form.h"

#include "base/units.h"
#include "former/quadrature.h"

#include <algorithm>
#include <cmath>

namespace leafwright::form {

namespace {

double square(double x) { return x * x; }

double integral(double low, double high, auto const& function) {
    GaussRule const rule = gauss_rule(10);
    return integrate(rule, split_panels({low, high}, (high - low) / 12), function);
}

} // namespace

double roll(double t) { return t > 0 && t < 1 ? 2.0 * std::sqrt(t * (1.0 - t)) : 0.0; }

double almond_gauge(Vec2 const& p, double almond) {
    double const ellipse = glm::length(p);
    // |y|/s = 1 - (x/s)^2, solved for s.
    double const parabola = 0.5 * (std::abs(p.y) + std::sqrt(p.y * p.y + 4.0 * p.x * p.x));
    return ellipse + almond * (parabola - ellipse);
}

double almond_area(double almond) {
    return integral(0, 0.5 * kPi, [&](double phi) {
        return 2.0 / square(almond_gauge({std::cos(phi), std::sin(phi)}, almond));
    });
}

namespace {

constexpr double kNoseCorner = 0.09; // below 0.1 the form stays convex
// Greatest x of r = 1 - 0.09 sin 3 phi, where its derivative is 0.
constexpr double kNoseHalfWidth = 1.0299009632508196;

} // namespace

Vec2 nose_point(double azimuth_rad) {
    double const r = 1.0 - kNoseCorner * std::sin(3.0 * azimuth_rad);
    return {r * std::cos(azimuth_rad) / kNoseHalfWidth, r * std::sin(azimuth_rad) - kNoseCorner};
}

double nose_gauge(Vec2 const& p) {
    double const x = p.x * kNoseHalfWidth;
    double const y = p.y + kNoseCorner;
    double const r = std::hypot(x, y);
    if (r == 0) return 0;
    double const sine = y / r;
    return r / (1.0 - kNoseCorner * sine * (3.0 - 4.0 * sine * sine));
}

double nose_area() { return kPi * (1.0 + 0.5 * square(kNoseCorner)) / kNoseHalfWidth; }

namespace {

constexpr double kPartingDepth = 0.6;
constexpr double kPartingWidth = 0.18;
// Greatest value of (1 - y^2)(1 - 0.6 exp(-(y/0.18)^2)).
constexpr double kLipHeight = 0.87615897452260583;

} // namespace

double mouth_height(Vec2 const& p) {
    double const s = almond_gauge(p, 1.0);
    if (s >= 1) return 0;
    return (1.0 - s * s) * (1.0 - kPartingDepth * std::exp(-square(p.y / kPartingWidth))) / kLipHeight;
}

double mouth_volume() {
    return 4.0 * integral(0, 0.5 * kPi, [](double phi) {
               Vec2 const edge = Vec2{std::cos(phi), std::sin(phi)} / almond_gauge({std::cos(phi), std::sin(phi)}, 1.0);
               double const ray = integral(0, 1, [&](double s) { return s * mouth_height(s * edge); });
               return ray * glm::dot(edge, edge);
           });
}

namespace {

constexpr double kEarSkew = 0.25;  // widest below the middle
constexpr double kEarFloor = 0.35; // height along the middle, of the height of the edges

double ear_raw_width(double y) { return (1.0 - y * y) * (1.0 - kEarSkew * y); }

double ear_widest() { return ear_raw_width((1.0 - std::sqrt(1.0 + 3.0 * square(kEarSkew))) / (3.0 * kEarSkew)); }

// (1 - c^2)(floor + k c^2), with k so that the greatest value is 1.
double ear_wall() { return 2.0 - kEarFloor + 2.0 * std::sqrt(1.0 - kEarFloor); }

double along(double y) { return 1.0 - square(y * y); }

} // namespace

double ear_half_width(double y) { return ear_raw_width(y) / ear_widest(); }

double ear_height(Vec2 const& p) {
    if (std::abs(p.y) >= 1) return 0;
    double const c2 = square(p.x / ear_half_width(p.y));
    return c2 < 1 ? along(p.y) * (1.0 - c2) * (kEarFloor + ear_wall() * c2) : 0.0;
}

double ear_volume() {
    double const across = 4.0 / 3.0 * kEarFloor + 4.0 / 15.0 * ear_wall();
    return across * integral(-1, 1, [](double y) { return ear_half_width(y) * along(y); });
}

namespace {

// Greatest value of (1 - y) sqrt(1 + y), at y = -1/3.
double petal_widest() { return 4.0 * std::sqrt(6.0) / 9.0; }

} // namespace

double petal_half_width(double y) { return (1.0 - y) * std::sqrt(std::max(0.0, 1.0 + y)) / petal_widest(); }

double petal_height(Vec2 const& p) {
    if (std::abs(p.y) >= 1) return 0;
    double const c2 = square(p.x / petal_half_width(p.y));
    return c2 < 1 ? along(p.y) * (1.0 - c2) : 0.0;
}

double petal_volume() {
    // y = z^2 - 1 takes the root away.
    double const lengthwise = integral(0, std::sqrt(2.0), [](double z) {
        double const y = z * z - 1.0;
        return petal_half_width(y) * along(y) * 2.0 * z;
    });
    return 4.0 / 3.0 * lengthwise;
}

} // namespace leafwright::form
