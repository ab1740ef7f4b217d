#include "former/profile.h"

#include "base/units.h"
#include "former/quadrature.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace leafwright {

namespace {

// R^m + Z^m = 1. The branch near an axis is small = 2^(-1/m) s^grading, s in [0, 1]; the other coordinate is `big`.
struct Branch {
    double small = 0, big = 1;
    double small_by_s = 0, big_by_s = 0;
    double small_by_m = 0, big_by_m = 0;
};

Branch superellipse_branch(double s, double m, double grading, bool with_m) {
    double const end = std::exp2(-1 / m);
    if (s <= 0) return {0, 1, grading == 1 ? end : 0, 0, 0, 0};
    double const v = grading == 1 ? s : std::pow(s, grading);
    double const y = 0.5 * (m == 2 ? v * v : std::pow(v, m));
    double const u = 1 - y;
    Branch branch;
    branch.small = end * v;
    branch.big = m == 2 ? std::sqrt(u) : std::pow(u, 1 / m);
    branch.small_by_s = grading * branch.small / s;
    branch.big_by_s = -branch.big / u * y * grading / s;
    if (with_m) {
        branch.small_by_m = branch.small * std::numbers::ln2 / (m * m);
        branch.big_by_m = -branch.big * (std::log(u) / (m * m) + y * std::log(v) / (m * u));
    }
    return branch;
}

SectionJet superellipse_section(double w, double m, double m_by_azimuth, double grading) {
    bool const upper = w < 0.5;
    Branch const b = superellipse_branch(upper ? 2 * w : 2 * (1 - w), m, grading, m_by_azimuth != 0);
    SectionJet jet;
    if (upper) {
        jet = {b.small, b.big, 2 * b.small_by_s, 2 * b.big_by_s, 0, 0};
        jet.log_radial_by_azimuth = m_by_azimuth * std::numbers::ln2 / (m * m);
        jet.height_by_azimuth_over_radial = b.small > 0 ? m_by_azimuth * b.big_by_m / b.small : 0;
    } else {
        jet = {b.big, b.small, -2 * b.big_by_s, -2 * b.small_by_s, 0, 0};
        jet.log_radial_by_azimuth = m_by_azimuth * b.big_by_m / b.big;
        jet.height_by_azimuth_over_radial = m_by_azimuth * b.small_by_m / b.big;
    }
    return jet;
}

// Circular arc with half chord r and rise h: half angle t = 2 atan(h / r), R = sin(t w) / sin t.
SectionJet saucer_section(double w, double crown, RadiusJet const& radius) {
    double const r = radius.r, t = 2 * std::atan2(crown, r);
    double const t1 = -2 * crown * radius.dr / (r * r + crown * crown);
    double const st = std::sin(t), ct = std::cos(t), sw = std::sin(t * w), cw = std::cos(t * w);
    double const rise = 2 * std::sin(0.5 * t) * std::sin(0.5 * t);                     // 1 - cos t
    double const drop = 2 * std::sin(0.5 * (t + t * w)) * std::sin(0.5 * (t - t * w)); // cos(t w) - cos t
    SectionJet jet{sw / st, drop / rise, t * cw / st, -t * sw / rise, 0, 0};
    if (t1 == 0 || w <= 0) {
        jet.log_radial_by_azimuth = t1 * (1 / t - ct / st);
        return jet;
    }
    jet.log_radial_by_azimuth = t1 * (w * cw / sw - ct / st);
    jet.height_by_azimuth_over_radial = t1 * ((st - w * sw) * rise - drop * st) / (rise * rise) / jet.radial;
    return jet;
}

// Flat to R = 1 - 1/fullness, then a quarter ellipse down to the rim.
SectionJet full_section(double w, double fullness) {
    double const shoulder = 1 / fullness, flat = 1 - shoulder;
    if (w < 0.5) return {2 * w * flat, 1, 2 * flat, 0, 0, 0};
    double const angle = kPi * (w - 0.5), s = std::sin(angle), c = std::cos(angle);
    return {flat + shoulder * s, w >= 1 ? 0 : c, kPi * shoulder * (w >= 1 ? 0 : c), -kPi * s, 0, 0};
}

// A whole number, so that powers of w stay smooth at its ends.
double grading_for(double least_exponent) { return std::max(1.0, std::ceil(1 / (least_exponent - 1) - 1e-9)); }

} // namespace

Profile::Profile(ProfileSpec const& spec, double exponent_across, double exponent_along)
    : kind_(spec.kind),
      crown_mm_(spec.crown_mm),
      fullness_(spec.fullness),
      across_(exponent_across),
      along_(exponent_along) {
    breaks_ = kind_ == ProfileKind::saucer ? std::vector<double>{0, 1} : std::vector<double>{0, 0.5, 1};
    if (kind_ == ProfileKind::dome || kind_ == ProfileKind::tape) grading_ = grading_for(std::min(across_, along_));
}

SectionJet Profile::section(double w, double azimuth, RadiusJet const& radius) const {
    if (kind_ == ProfileKind::saucer) return saucer_section(w, crown_mm_, radius);
    if (kind_ == ProfileKind::full) return full_section(w, fullness_);
    if (across_ == along_) return superellipse_section(w, across_, 0, grading_);
    double const c = std::cos(azimuth), s = std::sin(azimuth);
    return superellipse_section(w, across_ * c * c + along_ * s * s, 2 * (along_ - across_) * s * c, grading_);
}

SurfaceJet Profile::surface(double w, double azimuth, RadiusJet const& radius) const {
    SectionJet const section = this->section(w, azimuth, radius);
    SurfaceJet jet;
    jet.rho = radius.r * section.radial;
    jet.z = crown_mm_ * section.height;
    jet.rho_by_w = radius.r * section.radial_by_w;
    jet.z_by_w = crown_mm_ * section.height_by_w;
    double const speed = std::hypot(jet.rho_by_w, jet.z_by_w);
    // Where w stands still (graded ends) the tangent is known: level at the crown, upright at the rim.
    double const out = speed > 0 ? jet.rho_by_w / speed : (w < 0.5 ? 1 : 0);
    double const up = speed > 0 ? jet.z_by_w / speed : (w < 0.5 ? 0 : -1);
    // Derivative by the azimuth, over rho: (a, 1, b) in the frame (outward, round, up).
    double const a = radius.dr / radius.r + section.log_radial_by_azimuth;
    double const b = crown_mm_ * section.height_by_azimuth_over_radial / radius.r;
    double const round = up * a - out * b;
    jet.stretch = std::sqrt(1 + round * round);
    jet.normal_out = -up / jet.stretch;
    jet.normal_round = round / jet.stretch;
    jet.normal_up = out / jet.stretch;
    jet.rho_by_azimuth = a * jet.rho;
    jet.z_by_azimuth = b * jet.rho;
    return jet;
}

double superellipse_arc_mm(double a, double h, double m) {
    double const grading = grading_for(m);
    auto const length = [&](double along_radius, double across_radius) {
        return integrate(gauss_rule(16), split_panels({0, 1}, 1.0 / 12), [&](double s) {
            Branch const b = superellipse_branch(s, m, grading, false);
            return std::hypot(along_radius * b.small_by_s, across_radius * b.big_by_s);
        });
    };
    return length(a, h) + length(h, a);
}

} // namespace leafwright
