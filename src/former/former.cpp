#include "former/former.h"

#include "base/units.h"
#include "former/profile.h"
#include "former/quadrature.h"
#include "former/range_check.h"
#include "former/tape_fit.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

struct Former::Data {
    FormerSpec spec;
    Outline outline;
    Profile profile;
};

namespace {

double least_radius(Outline const& outline) {
    double least = 1e300;
    for (int i = 0; i < 1440; ++i) least = std::min(least, outline.radius(kTwoPi * i / 1440).r);
    return least;
}

double most_radius(Outline const& outline) {
    double most = 0;
    for (int i = 0; i < 1440; ++i) most = std::max(most, outline.radius(kTwoPi * i / 1440).r);
    return most;
}

MaybeProblem check_profile(ProfileSpec const& profile, Outline const& outline) {
    if (auto problem = check_range("former.profile.crown_mm", profile.crown_mm, 3, 500)) return problem;
    if (profile.kind == ProfileKind::dome || profile.kind == ProfileKind::full)
        return check_range("former.profile.fullness", profile.fullness, 1.5, 8, "");
    double const least = least_radius(outline);
    if (profile.kind == ProfileKind::saucer && profile.crown_mm > least * (1 + 1e-12)) {
        auto problem = check_range("former.profile.crown_mm", profile.crown_mm, 3, least);
        problem->hint = "A saucer rises no higher than its outline's least radius; choose a lower crown or a dome";
        return problem;
    }
    return std::nullopt;
}

} // namespace

Former::Former(std::shared_ptr<Data const> data) : data_(std::move(data)) {}

Outcome<Former> Former::make(FormerSpec const& spec) {
    Outcome<Outline> const outline = Outline::make(spec.outline);
    if (!outline) return outline.problem();
    if (auto problem = check_profile(spec.profile, *outline)) return *problem;
    TapeExponents exponents{spec.profile.fullness, spec.profile.fullness};
    if (spec.profile.kind == ProfileKind::tape) {
        Outcome<TapeExponents> const fit = fit_tape(*outline, spec.profile);
        if (!fit) return fit.problem();
        exponents = *fit;
    }
    Profile const profile(spec.profile, exponents.across, exponents.along);
    return Former(std::make_shared<Data const>(Data{spec, *outline, profile}));
}

FormerSpec const& Former::spec() const { return data_->spec; }
Outline const& Former::outline() const { return data_->outline; }
Profile const& Former::profile() const { return data_->profile; }
std::vector<double> const& Former::profile_breaks() const { return data_->profile.breaks(); }

MeridianJet Former::at(double azimuth_rad, double w) const {
    SurfaceJet const jet = data_->profile.surface(w, azimuth_rad, data_->outline.radius(azimuth_rad));
    double const c = std::cos(azimuth_rad), s = std::sin(azimuth_rad);
    Vec3 const out(c, s, 0), round(-s, c, 0), up(0, 0, 1);
    return {jet.rho * out + jet.z * up, jet.rho_by_w * out + jet.z_by_w * up,
            jet.rho_by_azimuth * out + jet.rho * round + jet.z_by_azimuth * up};
}

FormerMeasures Former::measures() const {
    Outline const& outline = data_->outline;
    Profile const& profile = data_->profile;
    GaussRule const rule = gauss_rule(10);
    double const slenderness = least_radius(outline) / most_radius(outline);
    std::vector<double> around = outline.breaks();
    around.push_back(around.front() + kTwoPi);
    around = split_panels(around, std::clamp(slenderness * slenderness, 0.02, kPi / 8));
    std::vector<double> const down = split_panels(profile.breaks(), 0.125);

    FormerMeasures sum;
    sum.plan_mm2 = outline.area_mm2();
    sum.rim_mm = outline.perimeter_mm();
    sum.surface_mm2 = integrate(rule, around, [&](double azimuth) {
        RadiusJet const radius = outline.radius(azimuth);
        return integrate(rule, down, [&](double w) {
            SurfaceJet const jet = profile.surface(w, azimuth, radius);
            return jet.rho * std::hypot(jet.rho_by_w, jet.z_by_w) * jet.stretch;
        });
    });
    sum.volume_mm3 = integrate(rule, around, [&](double azimuth) {
        RadiusJet const radius = outline.radius(azimuth);
        return integrate(rule, down, [&](double w) {
            SurfaceJet const jet = profile.surface(w, azimuth, radius);
            return jet.z * jet.rho * jet.rho_by_w;
        });
    });
    auto const meridian = [&](double azimuth) {
        return integrate(rule, down, [&](double w) {
            SurfaceJet const jet = profile.surface(w, azimuth, outline.radius(azimuth));
            return std::hypot(jet.rho_by_w, jet.z_by_w);
        });
    };
    sum.tape_across_mm = meridian(0) + meridian(kPi);
    sum.tape_along_mm = meridian(kPi / 2) + meridian(1.5 * kPi);
    return sum;
}

} // namespace leafwright
