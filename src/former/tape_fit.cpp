#include "former/tape_fit.h"

#include "base/units.h"
#include "former/profile.h"
#include "former/range_check.h"

namespace leafwright {

namespace {

constexpr double kLeastExponent = 1.2, kMostExponent = 20;

struct Meridians {
    double first_mm, second_mm; // the two radii that the tape passes over
    double crown_mm;
    double length(double m) const {
        double const one = superellipse_arc_mm(first_mm, crown_mm, m);
        return one + (first_mm == second_mm ? one : superellipse_arc_mm(second_mm, crown_mm, m));
    }
};

Problem misfit(bool too_short, char const* key, double tape, double least, double most) {
    return {
        too_short ? "tape.short" : "tape.long", key,
        fmt::format("is {:.1f} mm; over this outline and crown a tape reads {:.1f} to {:.1f} mm", tape, least, most),
        too_short ? "Measure again from rim to rim over the crown, or enter a lower crown"
                  : "Measure again from rim to rim over the crown, or enter a higher crown",
        ProblemKind::input};
}

// The length grows with the exponent: bisection to a safe bracket, ending with the full digits of a double.
Outcome<double> fit_exponent(Meridians const& meridians, char const* key, double tape) {
    if (auto problem = check_range(key, tape, 10, 10000)) return *problem;
    double low = kLeastExponent, high = kMostExponent;
    double const least = meridians.length(low), most = meridians.length(high);
    if (tape < least) return misfit(true, key, tape, least, most);
    if (tape > most) return misfit(false, key, tape, least, most);
    for (int step = 0; step < 46; ++step) {
        double const middle = 0.5 * (low + high);
        (meridians.length(middle) < tape ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

} // namespace

Outcome<TapeExponents> fit_tape(Outline const& outline, ProfileSpec const& profile) {
    auto const r = [&](double azimuth) { return outline.radius(azimuth).r; };
    Outcome<double> const across =
        fit_exponent({r(0), r(kPi), profile.crown_mm}, "former.profile.tape_across_mm", profile.tape_across_mm);
    if (!across) return across.problem();
    Outcome<double> const along = fit_exponent({r(kPi / 2), r(1.5 * kPi), profile.crown_mm},
                                               "former.profile.tape_along_mm", profile.tape_along_mm);
    if (!along) return along.problem();
    return TapeExponents{*across, *along};
}

} // namespace leafwright
