#include "former/free_outline.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

double full_turn(double azimuth) { return azimuth < 0 ? azimuth + kTwoPi : azimuth; }

Problem not_star(char const* what) {
    return {"outline.not-star", "former.outline.points_mm", what,
            "Move the points so that every line from the centre (0, 0) crosses the outline once", ProblemKind::input};
}

// Thomas' algorithm for a tridiagonal system with right-hand sides in the plane.
std::vector<Vec2> solve_tridiagonal(std::vector<double> const& below, std::vector<double> diagonal,
                                    std::vector<double> const& above, std::vector<Vec2> right) {
    std::size_t const n = diagonal.size();
    for (std::size_t i = 1; i < n; ++i) {
        double const factor = below[i] / diagonal[i - 1];
        diagonal[i] -= factor * above[i - 1];
        right[i] -= factor * right[i - 1];
    }
    right[n - 1] /= diagonal[n - 1];
    for (std::size_t i = n - 1; i-- > 0;) right[i] = (right[i] - above[i] * right[i + 1]) / diagonal[i];
    return right;
}

// Second derivatives at the knots of the closed cubic spline; the ring's corner entries go by Sherman and Morrison.
std::vector<Vec2> closed_spline_bends(std::vector<Vec2> const& p, std::vector<double> const& h) {
    std::size_t const n = h.size();
    std::vector<double> below(n), diagonal(n), above(n);
    std::vector<Vec2> right(n), corner(n, Vec2(0));
    for (std::size_t i = 0; i < n; ++i) {
        std::size_t const before = (i + n - 1) % n;
        below[i] = h[before];
        diagonal[i] = 2 * (h[before] + h[i]);
        above[i] = h[i];
        right[i] = 6.0 * ((p[i + 1] - p[i]) / h[i] - (p[i] - p[before]) / h[before]);
    }
    double const edge = h[n - 1], gamma = -diagonal[0];
    diagonal[0] -= gamma;
    diagonal[n - 1] -= edge * edge / gamma;
    corner[0] = Vec2(gamma);
    corner[n - 1] = Vec2(edge);
    std::vector<Vec2> const x = solve_tridiagonal(below, diagonal, above, right);
    std::vector<Vec2> const z = solve_tridiagonal(below, diagonal, above, corner);
    Vec2 const factor = (x[0] + edge / gamma * x[n - 1]) / (Vec2(1) + z[0] + edge / gamma * z[n - 1]);
    std::vector<Vec2> bends(n);
    for (std::size_t i = 0; i < n; ++i) bends[i] = x[i] - factor * z[i];
    bends.push_back(bends.front());
    return bends;
}

void start_at_least_azimuth(std::vector<Vec2>& points) {
    auto const azimuth = [](Vec2 const& p) { return full_turn(std::atan2(p.y, p.x)); };
    auto const least = std::min_element(points.begin(), points.end(),
                                        [&](Vec2 const& a, Vec2 const& b) { return azimuth(a) < azimuth(b); });
    std::rotate(points.begin(), least, points.end());
}

} // namespace

Outcome<FreeOutline> FreeOutline::make(std::vector<Vec2> points) {
    if (signed_area(points) < 0) std::reverse(points.begin(), points.end());
    start_at_least_azimuth(points);
    FreeOutline outline;
    for (Vec2 const& p : points) outline.azimuth_.push_back(full_turn(std::atan2(p.y, p.x)));
    for (std::size_t i = 0; i < points.size(); ++i) {
        Vec2 const& next = points[(i + 1) % points.size()];
        double const turn = full_turn(std::atan2(cross(points[i], next), glm::dot(points[i], next)));
        if (!(turn > 0) || turn >= kPi) return not_star("has points that do not run once round the centre (0, 0)");
        outline.step_.push_back(glm::length(next - points[i]));
    }
    if (!std::is_sorted(outline.azimuth_.begin(), outline.azimuth_.end()))
        return not_star("has points that run more than once round the centre (0, 0)");
    outline.point_ = points;
    outline.point_.push_back(points.front());
    outline.bend_ = closed_spline_bends(outline.point_, outline.step_);
    if (!outline.is_star()) return not_star("meets a line from the centre (0, 0) more than once");
    return outline;
}

FreeOutline::PointJet FreeOutline::at(std::size_t i, double share) const {
    double const h = step_[i], b = share, a = 1 - share;
    PointJet jet;
    jet.p =
        a * point_[i] + b * point_[i + 1] + h * h / 6 * ((a * a * a - a) * bend_[i] + (b * b * b - b) * bend_[i + 1]);
    jet.d = (point_[i + 1] - point_[i]) / h + h / 6 * ((1 - 3 * a * a) * bend_[i] + (3 * b * b - 1) * bend_[i + 1]);
    jet.dd = a * bend_[i] + b * bend_[i + 1];
    return jet;
}

bool FreeOutline::is_star() const {
    constexpr int kSamples = 64;
    for (std::size_t i = 0; i < step_.size(); ++i)
        for (int k = 0; k < kSamples; ++k) {
            PointJet const jet = at(i, (k + 0.5) / kSamples);
            // 1e-3: the outline leaves the ray at more than a twentieth of a degree, else the radius has no usable
            // slope.
            if (!(cross(jet.p, jet.d) > 1e-3 * glm::length(jet.p) * glm::length(jet.d))) return false;
        }
    return true;
}

RadiusJet FreeOutline::radius(double azimuth_rad) const {
    double const azimuth = azimuth_rad - kTwoPi * std::floor(azimuth_rad / kTwoPi);
    auto const above = std::upper_bound(azimuth_.begin(), azimuth_.end(), azimuth);
    std::size_t const n = azimuth_.size();
    std::size_t const i = (static_cast<std::size_t>(above - azimuth_.begin()) + n - 1) % n;
    Vec2 const ray(std::cos(azimuth), std::sin(azimuth));
    double low = 0, high = 1, share = 0.5;
    PointJet jet = at(i, share);
    for (int step = 0; step < 60; ++step) {
        double const miss = cross(ray, jet.p);
        (miss < 0 ? low : high) = share;
        double next = share - miss / (cross(ray, jet.d) * step_[i]);
        if (!(next >= low && next <= high)) next = 0.5 * (low + high);
        double const moved = std::abs(next - share);
        share = next;
        jet = at(i, share);
        if (moved < 1e-14) break;
    }
    // With r = |p|, azimuth' = (p x d) / r^2: derivatives by the azimuth follow by the chain rule.
    double const r = glm::length(jet.p), turn = cross(jet.p, jet.d), along = glm::dot(jet.p, jet.d);
    double const slope = r * along / turn;
    double const along_d = glm::dot(jet.d, jet.d) + glm::dot(jet.p, jet.dd), turn_d = cross(jet.p, jet.dd);
    double const slope_d = (along / r) * along / turn + r * along_d / turn - r * along * turn_d / (turn * turn);
    return {r, slope, slope_d * r * r / turn};
}

} // namespace leafwright
