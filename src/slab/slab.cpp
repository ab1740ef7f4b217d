#include "slab/slab.h"

#include "base/units.h"
#include "former/meridian_table.h"
#include "former/range_check.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kOutlinePoints = 720;
constexpr double kFillet_mm = 4;       // the middle surface ends at the rim; its skirt is not read
constexpr double kPuckerStrain = 0.05; // hoop strain beyond which clay no longer packs evenly; an estimate, no source

MaybeProblem check_spec(SlabSpec const& spec) {
    if (auto problem = check_range("slab.thickness_mm", spec.thickness_mm, 3, 25)) return problem;
    if (auto problem = check_range("slab.trim_allowance_mm", spec.trim_allowance_mm, 0, 60)) return problem;
    return check_range("slab.sheet_width_mm", spec.sheet_width_mm, 100, 1500);
}

// Area of the flat disc of radius rim length + beyond: the integral of r^2/2, by equal steps all round.
double flat_area(MeridianTable const& middle, double beyond_mm) {
    double sum = 0;
    for (int i = 0; i < middle.columns(); ++i) {
        double const r = middle.rim_mm(kTwoPi * i / middle.columns()) + beyond_mm;
        sum += 0.5 * r * r;
    }
    return sum * kTwoPi / middle.columns();
}

// The outline as a ring of exactly that area (its chords would cut off a little).
Ring flat_outline(MeridianTable const& middle, double beyond_mm, double area_mm2) {
    Ring ring;
    for (int i = 0; i < kOutlinePoints; ++i) {
        double const azimuth = kTwoPi * i / kOutlinePoints;
        ring.push_back((middle.rim_mm(azimuth) + beyond_mm) * Vec2(std::cos(azimuth), std::sin(azimuth)));
    }
    double const grow = std::sqrt(area_mm2 / signed_area(ring));
    for (Vec2& p : ring) p *= grow;
    return ring;
}

// Andrew's monotone chain (Inf. Proc. Letters 9 (1979) 216), counter-clockwise.
Ring convex_hull(Ring points) {
    std::sort(points.begin(), points.end(), [](Vec2 a, Vec2 b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    Ring hull;
    for (int pass = 0; pass < 2; ++pass) {
        std::size_t const start = hull.size();
        for (Vec2 const& p : points) {
            while (hull.size() >= start + 2 && cross(hull.back() - hull[hull.size() - 2], p - hull.back()) <= 0)
                hull.pop_back();
            hull.push_back(p);
        }
        hull.pop_back();
        std::reverse(points.begin(), points.end());
    }
    return hull;
}

// The narrowest strip that holds the ring has an edge of its hull on one side.
double least_width(Ring const& ring) {
    Ring const hull = convex_hull(ring);
    double least = 1e300;
    for (std::size_t i = 0; i < hull.size(); ++i) {
        Vec2 const edge = glm::normalize(hull[(i + 1) % hull.size()] - hull[i]);
        double width = 0;
        for (Vec2 const& p : hull) width = std::max(width, cross(edge, p - hull[i]));
        least = std::min(least, width);
    }
    return least;
}

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

MaybeProblem check_width(Ring const& outline, double sheet_width_mm) {
    double const width = least_width(outline);
    if (width <= sheet_width_mm) return std::nullopt;
    return Problem{"slab.too-wide", "slab.sheet_width_mm",
                   fmt::format("is {:g} mm, but the slab measures {:.0f} mm across its narrowest direction",
                               sheet_width_mm, width),
                   "Roll a wider sheet, join two, or choose a smaller or flatter former", ProblemKind::refusal};
}

} // namespace

Outcome<SlabAnswer> unroll_slab(Former const& former, SlabSpec const& spec) {
    if (auto problem = check_spec(spec)) return *problem;
    MeridianTable const middle = MeridianTable::build(former, 0.5 * spec.thickness_mm, kFillet_mm);
    SlabAnswer answer;
    answer.flat_mm2 = flat_area(middle, spec.trim_allowance_mm);
    answer.outline_mm = flat_outline(middle, spec.trim_allowance_mm, answer.flat_mm2);
    answer.bounds_mm = bounds(answer.outline_mm).size();
    answer.volume_mm3 = answer.flat_mm2 * spec.thickness_mm;
    answer.draped_mm2 = middle.area_mm2();
    answer.shell_mm3 = flat_area(middle, 0) * spec.thickness_mm;
    answer.trimmed_mm3 = answer.volume_mm3 - answer.shell_mm3;
    answer.thickness_mm.rolled = spec.thickness_mm;
    answer.thickness_mm.mean = answer.shell_mm3 / answer.draped_mm2;
    survey_stretches(middle, answer);
    answer.too_wide = check_width(answer.outline_mm, spec.sheet_width_mm);
    return answer;
}

} // namespace leafwright
