#include "former/offset_meridian.h"

#include "base/units.h"
#include "former/profile.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leafwright {

OutlineTable::OutlineTable(Outline const& outline, int cells) : cells_(static_cast<std::size_t>(cells)) {
    double const h = kTwoPi / cells;
    for (int i = 0; i < cells; ++i) {
        RadiusJet const a = outline.radius(h * i), b = outline.radius(h * (i + 1));
        double const d0 = a.dr * h, d1 = b.dr * h, c0 = a.ddr * h * h, c1 = b.ddr * h * h, step = b.r - a.r;
        cells_[static_cast<std::size_t>(i)] = {{a.r, d0, 0.5 * c0, 10 * step - 6 * d0 - 4 * d1 - 1.5 * c0 + 0.5 * c1,
                                                -15 * step + 8 * d0 + 7 * d1 + 1.5 * c0 - c1,
                                                6 * step - 3 * (d0 + d1) - 0.5 * (c0 - c1)}};
    }
}

RadiusJet OutlineTable::radius(double azimuth_rad) const {
    double const per_radian = static_cast<double>(cells_.size()) / kTwoPi;
    double const at = (azimuth_rad - kTwoPi * std::floor(azimuth_rad / kTwoPi)) * per_radian;
    std::size_t const i = std::min(static_cast<std::size_t>(at), cells_.size() - 1);
    double const t = at - static_cast<double>(i);
    double const* const c = cells_[i].coefficient;
    RadiusJet jet;
    jet.r = c[0] + t * (c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * c[5]))));
    jet.dr = per_radian * (c[1] + t * (2 * c[2] + t * (3 * c[3] + t * (4 * c[4] + t * 5 * c[5]))));
    return jet;
}

namespace {

double lagrange4(double x, double const* at, double const* value) {
    double sum = 0;
    for (int i = 0; i < 4; ++i) {
        double weight = value[i];
        for (int j = 0; j < 4; ++j)
            if (j != i) weight *= (x - at[j]) / (at[i] - at[j]);
        sum += weight;
    }
    return sum;
}

struct OffsetPoint {
    double turned;                                      // azimuth of the offset point less that of its foot
    double rho, z, normal_out, normal_round, normal_up; // in the frame of the offset point's azimuth
};

// Finds, one w after the other, the foot whose offset point lies in the plane of one azimuth.
class FootSearch {
public:
    FootSearch(Profile const& profile, OutlineTable const& outline, double azimuth, double offset)
        : profile_(profile),
          outline_(outline),
          azimuth_(azimuth),
          offset_(offset),
          foot_(azimuth),
          foot_before_(azimuth) {}

    OffsetPoint next(double w) {
        double const guess = 2 * foot_ - foot_before_;
        foot_before_ = foot_;
        double foot = std::clamp(guess, azimuth_ - kReach, azimuth_ + kReach);
        OffsetPoint point = offset_point(w, foot);
        double miss = foot + point.turned - azimuth_;
        for (int step = 0; step < 16 && std::abs(miss) > 1e-11; ++step) {
            double const trial = std::clamp(foot - miss / slope_, azimuth_ - kReach, azimuth_ + kReach);
            OffsetPoint const moved = offset_point(w, trial);
            double const moved_miss = trial + moved.turned - azimuth_;
            // The offset point's azimuth grows with the foot's unless the offset folds; then short steps are safe ones.
            if (trial != foot) slope_ = std::clamp((moved_miss - miss) / (trial - foot), 0.3, 3.0);
            foot = trial;
            point = moved;
            miss = moved_miss;
        }
        foot_ = foot;
        return point;
    }

private:
    static constexpr double kReach = 0.7;

    OffsetPoint offset_point(double w, double foot) const {
        SurfaceJet const jet = profile_.surface(w, foot, outline_.radius(foot));
        double const out = jet.rho + offset_ * jet.normal_out, round = offset_ * jet.normal_round;
        double const rho = std::hypot(out, round);
        double const c = rho > 0 ? out / rho : 1, s = rho > 0 ? round / rho : 0;
        return {std::atan2(s, c),
                rho,
                jet.z + offset_ * jet.normal_up,
                jet.normal_out * c + jet.normal_round * s,
                jet.normal_round * c - jet.normal_out * s,
                jet.normal_up};
    }

    Profile const& profile_;
    OutlineTable const& outline_;
    double azimuth_, offset_;
    double foot_, foot_before_, slope_ = 1;
};

MeridianSample to_sample(OffsetPoint const& point) {
    MeridianSample sample;
    sample.rho = point.rho;
    sample.z = point.z;
    // The tangent lies in the plane and is square to the normal.
    sample.fall = std::atan2(point.normal_out, point.normal_up);
    sample.normal_round = std::clamp(point.normal_round, -0.999, 0.999);
    sample.density = sample.rho / std::sqrt(1 - sample.normal_round * sample.normal_round);
    return sample;
}

// Chord times the excess of the cubic that has the two tangents (error of sixth order in the angles).
double arc_between(MeridianSample const& a, MeridianSample const& b) {
    double const chord = std::hypot(b.rho - a.rho, b.z - a.z);
    if (chord == 0) return 0;
    double const fall = std::atan2(a.z - b.z, b.rho - a.rho);
    double const p = a.fall - fall, q = b.fall - fall;
    return chord * (1 + (2 * p * p - p * q + 2 * q * q) / 30);
}

std::vector<MeridianSample> sample_meridian(Former const& former, OutlineTable const& outline, double azimuth,
                                            double offset, int steps_a_piece) {
    FootSearch search(former.profile(), outline, azimuth, offset);
    std::vector<double> const& breaks = former.profile_breaks();
    std::vector<MeridianSample> samples{MeridianSample{}};
    samples.front().z = former.profile().crown_mm() + offset;
    for (std::size_t piece = 0; piece + 1 < breaks.size(); ++piece)
        for (int k = 1; k <= steps_a_piece; ++k) {
            double const w = breaks[piece] + (breaks[piece + 1] - breaks[piece]) * k / steps_a_piece;
            MeridianSample sample = to_sample(search.next(w));
            double const arc = arc_between(samples.back(), sample);
            // A fold runs backward: leave it out.
            if (!(arc > 1e-9) || sample.rho < samples.back().rho - 1e-6) continue;
            sample.length = samples.back().length + arc;
            samples.push_back(sample);
        }
    return samples;
}

MeridianSample between(std::vector<MeridianSample> const& fine, std::size_t i, double length) {
    MeridianSample const &a = fine[i], &b = fine[i + 1];
    double const h = b.length - a.length, t = (length - a.length) / h, u = 1 - t;
    double const h00 = (1 + 2 * t) * u * u, h10 = t * u * u * h, h01 = t * t * (3 - 2 * t), h11 = -t * t * u * h;
    MeridianSample sample;
    sample.length = length;
    sample.rho = h00 * a.rho + h10 * std::cos(a.fall) + h01 * b.rho + h11 * std::cos(b.fall);
    sample.z = h00 * a.z - h10 * std::sin(a.fall) + h01 * b.z - h11 * std::sin(b.fall);
    sample.area = h00 * a.area + h10 * a.density + h01 * b.area + h11 * b.density;
    std::size_t const first = std::min(i > 0 ? i - 1 : 0, fine.size() - 4);
    std::array<double, 4> at{}, fall{}, round{};
    for (std::size_t k = 0; k < 4; ++k) {
        at[k] = fine[first + k].length;
        fall[k] = fine[first + k].fall;
        round[k] = fine[first + k].normal_round;
    }
    sample.fall = std::clamp(lagrange4(length, at.data(), fall.data()), std::min(a.fall, b.fall) - 0.01,
                             std::max(a.fall, b.fall) + 0.01);
    sample.normal_round = std::clamp(lagrange4(length, at.data(), round.data()), -0.999, 0.999);
    sample.density = sample.rho / std::sqrt(1 - sample.normal_round * sample.normal_round);
    return sample;
}

} // namespace

std::vector<double> running_integral(std::vector<double> const& at, std::vector<double> const& value) {
    std::vector<double> sum(at.size(), 0);
    double const inner = 0.5 / std::sqrt(3.0); // two Gauss points are exact for a cubic
    for (std::size_t i = 0; i + 1 < at.size(); ++i) {
        std::size_t const first = std::min(i > 0 ? i - 1 : 0, at.size() - 4);
        double const h = at[i + 1] - at[i], middle = 0.5 * (at[i] + at[i + 1]);
        double const low = lagrange4(middle - inner * h, &at[first], &value[first]);
        double const high = lagrange4(middle + inner * h, &at[first], &value[first]);
        sum[i + 1] = sum[i] + 0.5 * h * (low + high);
    }
    return sum;
}

std::vector<MeridianSample> offset_meridian(Former const& former, OutlineTable const& outline, double azimuth_rad,
                                            double offset_mm, int cells, bool coarse) {
    int const steps = (former.profile_breaks().size() > 2 ? 96 : 192) / (coarse ? 3 : 1);
    std::vector<MeridianSample> fine = sample_meridian(former, outline, azimuth_rad, offset_mm, steps);
    std::vector<double> length, density;
    for (MeridianSample const& sample : fine) {
        length.push_back(sample.length);
        density.push_back(sample.density);
    }
    std::vector<double> const area = running_integral(length, density);
    for (std::size_t i = 0; i < fine.size(); ++i) fine[i].area = area[i];

    std::vector<MeridianSample> even{fine.front()};
    std::size_t i = 0;
    for (int k = 1; k < cells; ++k) {
        double const at = fine.back().length * k / cells;
        while (i + 2 < fine.size() && fine[i + 1].length < at) ++i;
        even.push_back(between(fine, i, at));
    }
    even.push_back(fine.back());
    return even;
}

} // namespace leafwright
