#include "slab/slab.h"

#include "base/units.h"
#include "former/meridian_table.h"
#include "former/range_check.h"
#include "slab/drape_survey.h"
#include "slab/flat_outline.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kFillet_mm = 4; // the middle surface ends at the rim; its skirt is not read

// Principal stretches, laid by flat, of the map that keeps azimuth and length along the meridian.
struct Stretches {
    double least = 1, most = 1;
    double product = 1;
};

Stretches stretches_at(MeridianTable const& middle, double azimuth, double length) {
    double const step = kTwoPi / middle.columns();
    MeridianPoint const here = middle.at(azimuth, length);
    MeridianPoint const a = middle.at(azimuth - step, length), b = middle.at(azimuth + step, length);
    // Round the piece at equal length: part along the meridian (skew), part square to it (hoop).
    double const rho = (b.rho - a.rho) / (2 * step), z = (b.z - a.z) / (2 * step);
    double const skew = (rho * here.tangent_out + z * here.tangent_up) / length, hoop = here.density / length;
    // Singular values of ((1, skew), (0, hoop)).
    double const sum = std::sqrt((1 + hoop) * (1 + hoop) + skew * skew);
    double const difference = std::sqrt((1 - hoop) * (1 - hoop) + skew * skew);
    return {0.5 * (sum - difference), 0.5 * (sum + difference), hoop};
}

// Share of a step whose excess over the limit runs evenly from `first` to `last`.
double share_over(double first, double last) {
    if (first > 0 && last > 0) return 1;
    if (first <= 0 && last <= 0) return 0;
    return std::max(first, last) / std::abs(last - first);
}

void survey_meridian(MeridianTable const& middle, double azimuth, double width_rad, SlabAnswer& answer) {
    constexpr int kDown = 96;
    SlabThickness& thickness = answer.thickness_mm;
    double const rim = middle.rim_mm(azimuth);
    double area_before = 0, over_before = -kPuckerStrain;
    for (int k = 1; k <= kDown; ++k) {
        double const length = rim * k / kDown;
        Stretches const s = stretches_at(middle, azimuth, length);
        answer.stretch_least = std::min(answer.stretch_least, s.least);
        answer.stretch_most = std::max(answer.stretch_most, s.most);
        thickness.least = std::min(thickness.least, thickness.rolled / s.product);
        thickness.most = std::max(thickness.most, thickness.rolled / s.product);
        double const area = middle.at(azimuth, length).area, over = -std::log(s.least) - kPuckerStrain;
        answer.pucker_mm2 += (area - area_before) * width_rad * share_over(over_before, over);
        area_before = area;
        over_before = over;
    }
}

void survey_stretches(MeridianTable const& middle, SlabAnswer& answer) {
    int const around = middle.columns() / 2;
    answer.thickness_mm.least = answer.thickness_mm.most = answer.thickness_mm.rolled;
    for (int i = 0; i < around; ++i) survey_meridian(middle, kTwoPi * i / around, kTwoPi / around, answer);
}

MaybeProblem check_cuts(std::vector<SlabCut> const& cuts) {
    constexpr std::size_t kMostCuts = 24;
    constexpr double kApart_deg = 5;
    Problem const problem{"slab.cuts", "slab.cuts", "", "Take some out, or spread them", ProblemKind::input};
    if (cuts.size() > kMostCuts) return Problem{problem.code, problem.where, "are more than 24", problem.hint};
    for (std::size_t i = 0; i < cuts.size(); ++i) {
        std::string const path = fmt::format("slab.cuts[{}]", i);
        if (auto bad = check_range((path + ".azimuth_deg").c_str(), cuts[i].azimuth_deg, -3600, 3600)) return bad;
        if (auto bad = check_range((path + ".length_mm").c_str(), cuts[i].length_mm, 5, 2000)) return bad;
        for (std::size_t k = 0; k < i; ++k)
            if (std::abs(std::remainder(cuts[i].azimuth_deg - cuts[k].azimuth_deg, 360.0)) < kApart_deg)
                return Problem{problem.code, path, "is less than 5 degrees from another cut", problem.hint};
    }
    return std::nullopt;
}

} // namespace

MaybeProblem check_slab(SlabSpec const& spec) {
    if (auto problem = check_range("slab.thickness_mm", spec.thickness_mm, 3, 25)) return problem;
    if (auto problem = check_range("slab.trim_allowance_mm", spec.trim_allowance_mm, 0, 60)) return problem;
    if (auto problem = check_range("slab.sheet_width_mm", spec.sheet_width_mm, 100, 1500)) return problem;
    if (auto problem = check_range("slab.stretch_limit", spec.stretch_limit, 0.01, 1)) return problem;
    if (auto problem = check_range("slab.grip", spec.grip, 0, 1)) return problem;
    return check_cuts(spec.cuts);
}

Outcome<SlabAnswer> unroll_slab(Former const& former, SlabSpec const& spec) {
    if (auto problem = check_slab(spec)) return *problem;
    MeridianTable const middle = MeridianTable::build(former, 0.5 * spec.thickness_mm, kFillet_mm);
    SlabAnswer answer;
    answer.flat_mm2 = unrolled_area(middle, spec.trim_allowance_mm);
    answer.outline_mm = unrolled_outline(middle, spec.trim_allowance_mm, answer.flat_mm2);
    answer.bounds_mm = bounds(answer.outline_mm).size();
    answer.volume_mm3 = answer.flat_mm2 * spec.thickness_mm;
    answer.draped_mm2 = middle.area_mm2();
    answer.shell_mm3 = unrolled_area(middle, 0) * spec.thickness_mm;
    answer.trimmed_mm3 = answer.volume_mm3 - answer.shell_mm3;
    answer.thickness_mm.rolled = spec.thickness_mm;
    answer.thickness_mm.mean = answer.shell_mm3 / answer.draped_mm2;
    survey_stretches(middle, answer);
    answer.too_wide = check_width(answer.outline_mm, spec.sheet_width_mm);
    answer.sticking_mm2 = unrolled_area(middle, 0);
    answer.sticking_mm = answer.sliding_mm = unrolled_outline(middle, 0, answer.sticking_mm2);
    answer.sliding_mm2 = answer.sticking_mm2;
    return answer;
}

} // namespace leafwright
