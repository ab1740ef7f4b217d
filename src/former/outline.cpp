#include "former/outline.h"

#include "base/units.h"
#include "former/free_outline.h"
#include "former/quadrature.h"
#include "former/range_check.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

struct Outline::Data {
    OutlineSpec spec;
    double half_width = 0;
    double upper_half = 0, lower_half = 0; // half axes up and down
    std::optional<FreeOutline> spline;
    std::vector<double> breaks;
    double area_mm2 = 0, perimeter_mm = 0;
    Vec2 size_mm{0, 0};
};

namespace {

// Ellipse with half axes a (left-right) and b about its centre.
RadiusJet ellipse_radius(double a, double b, double azimuth) {
    double const c = std::cos(azimuth), s = std::sin(azimuth);
    double const d = b * b * c * c + a * a * s * s;
    double const d1 = 2 * (a * a - b * b) * s * c, d2 = 2 * (a * a - b * b) * (c * c - s * s);
    double const r = a * b / std::sqrt(d);
    return {r, -0.5 * r * d1 / d, r * (0.75 * d1 * d1 / (d * d) - 0.5 * d2 / d)};
}

// |x/a|^n + |y/b|^n = 1 in polar form.
RadiusJet superellipse_radius(double a, double b, double n, double azimuth) {
    double const cosine = std::cos(azimuth), sine = std::sin(azimuth);
    double const c = std::abs(cosine), s = std::abs(sine);
    double const p = std::pow(c, n - 2) / std::pow(a, n), q = std::pow(s, n - 2) / std::pow(b, n);
    double const u = p * c * c + q * s * s;
    double const u1 = n * sine * cosine * (q - p);
    double const u2 = n * (n - 1) * (p * s * s + q * c * c) - n * u;
    double const r = std::pow(u, -1 / n);
    return {r, -r * u1 / (n * u), r / n * ((1 / n + 1) * u1 * u1 / (u * u) - u2 / u)};
}

MaybeProblem check_free_points(std::vector<Vec2> const& points) {
    char const* const key = "former.outline.points_mm";
    if (points.size() < 4 || points.size() > 2000)
        return Problem{"range", key, fmt::format("has {} points; the range is 4 to 2000 points", points.size()),
                       "Give points round the outline", ProblemKind::input};
    for (std::size_t i = 0; i < points.size(); ++i)
        if (auto problem = check_range(key, glm::length(points[i]), 10, 1200)) {
            problem->what = fmt::format("has point {} at {:g} mm from the centre; the range is 10 to 1200 mm", i + 1,
                                        glm::length(points[i]));
            return problem;
        }
    return std::nullopt;
}

MaybeProblem check_spec(OutlineSpec const& spec) {
    if (spec.kind == OutlineKind::free) return check_free_points(spec.points_mm);
    if (auto problem = check_range("former.outline.width_mm", spec.width_mm, 40, 1200)) return problem;
    if (spec.kind == OutlineKind::round) return std::nullopt;
    if (auto problem = check_range("former.outline.height_mm", spec.height_mm, 40, 1200)) return problem;
    if (spec.kind == OutlineKind::egg) return check_range("former.outline.upper_share", spec.upper_share, 0.2, 0.8, "");
    if (spec.kind == OutlineKind::rounded) return check_range("former.outline.squareness", spec.squareness, 2, 8, "");
    return std::nullopt;
}

std::vector<double> breaks_of(OutlineKind kind) {
    if (kind == OutlineKind::egg) return {0, kPi};
    if (kind == OutlineKind::rounded) return {0, kPi / 2, kPi, 1.5 * kPi};
    return {0};
}

} // namespace

Outline::Outline(std::shared_ptr<Data const> data) : data_(std::move(data)) {}

Outcome<Outline> Outline::make(OutlineSpec const& spec) {
    if (auto problem = check_spec(spec)) return *problem;
    auto data = std::make_shared<Data>();
    data->spec = spec;
    double const height = spec.kind == OutlineKind::round ? spec.width_mm : spec.height_mm;
    double const share = spec.kind == OutlineKind::egg ? spec.upper_share : 0.5;
    data->half_width = 0.5 * spec.width_mm;
    data->upper_half = height * share;
    data->lower_half = height * (1 - share);
    data->size_mm = {spec.width_mm, height};
    data->breaks = breaks_of(spec.kind);
    if (spec.kind == OutlineKind::free) {
        Outcome<FreeOutline> spline = FreeOutline::make(spec.points_mm);
        if (!spline) return spline.problem();
        data->spline = *spline;
        data->breaks = spline->knots();
    }
    Outline outline(data);
    if (spec.kind == OutlineKind::free) {
        data->size_mm = bounds(outline.ring(4096)).size();
        for (double const extent : {data->size_mm.x, data->size_mm.y})
            if (auto problem = check_range("former.outline.points_mm", extent, 40, 1200)) return *problem;
    }
    double least = 1e300, most = 0;
    for (int i = 0; i < 720; ++i) {
        double const r = outline.radius(kTwoPi * i / 720).r;
        least = std::min(least, r);
        most = std::max(most, r);
    }
    // Panels as narrow as the end of a slender outline asks: the arc length of an ellipse is singular at a distance of
    // about (least/most)^2 from the real azimuths.
    std::vector<double> edges = data->breaks;
    edges.push_back(edges.front() + kTwoPi);
    edges = split_panels(edges, std::min(kPi / 16, least * least / (most * most)));
    GaussRule const rule = gauss_rule(12);
    data->area_mm2 = integrate(rule, edges, [&](double azimuth) {
        double const r = outline.radius(azimuth).r;
        return 0.5 * r * r;
    });
    data->perimeter_mm = integrate(rule, edges, [&](double azimuth) {
        RadiusJet const jet = outline.radius(azimuth);
        return std::hypot(jet.r, jet.dr);
    });
    return outline;
}

RadiusJet Outline::radius(double azimuth_rad) const {
    Data const& d = *data_;
    switch (d.spec.kind) {
    case OutlineKind::round:
        return {d.half_width, 0, 0};
    case OutlineKind::rounded:
        return superellipse_radius(d.half_width, d.upper_half, d.spec.squareness, azimuth_rad);
    case OutlineKind::free:
        return d.spline->radius(azimuth_rad);
    case OutlineKind::oval:
    case OutlineKind::egg:
        break;
    }
    double const half_height = std::sin(azimuth_rad) >= 0 ? d.upper_half : d.lower_half;
    return ellipse_radius(d.half_width, half_height, azimuth_rad);
}

OutlineSpec const& Outline::spec() const { return data_->spec; }
double Outline::area_mm2() const { return data_->area_mm2; }
double Outline::perimeter_mm() const { return data_->perimeter_mm; }
Vec2 Outline::size_mm() const { return data_->size_mm; }
std::vector<double> const& Outline::breaks() const { return data_->breaks; }

Ring Outline::ring(int points) const {
    Ring ring;
    for (int i = 0; i < points; ++i) {
        double const azimuth = kTwoPi * i / points;
        ring.push_back(radius(azimuth).r * Vec2(std::cos(azimuth), std::sin(azimuth)));
    }
    return ring;
}

} // namespace leafwright
