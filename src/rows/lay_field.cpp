#include "rows/lay_field.h"

#include "base/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kAround = 360;
constexpr double kStep_rad = 1e-3;

double wrapped(double angle) { return std::remainder(angle, kTwoPi); }

} // namespace

double RowLine::azimuth_at(double along) const {
    double const run = run_mm();
    along -= run * std::floor(along / run);
    auto const next = std::upper_bound(along_mm.begin() + 1, along_mm.end() - 1, along);
    auto const k = static_cast<std::size_t>(next - along_mm.begin());
    double const share = (along - along_mm[k - 1]) / (along_mm[k] - along_mm[k - 1]);
    return azimuth_rad[k - 1] + share * (azimuth_rad[k] - azimuth_rad[k - 1]);
}

double RowLine::along_at(double azimuth) const {
    double turn = (azimuth - azimuth_rad.front()) / kTwoPi;
    turn -= std::floor(turn);
    double const at = turn * static_cast<double>(azimuth_rad.size() - 1);
    auto const k = std::min(static_cast<std::size_t>(at), azimuth_rad.size() - 2);
    return along_mm[k] + (at - static_cast<double>(k)) * (along_mm[k + 1] - along_mm[k]);
}

RowField::RowField(ClaySurface const& surface) : surface_(&surface) {
    symmetric_ = true;
    for (int k = 0; k < kAround; ++k) {
        double const azimuth = kTwoPi * (k + 0.5) / kAround;
        double const rim = surface.rim_from_crown_mm(azimuth);
        crown_depth_ += rim / kAround;
        if (std::abs(rim - surface.rim_from_crown_mm(kPi - azimuth)) > 0.01) symmetric_ = false;
    }
}

// depth + (rim - crown_depth)(depth/crown_depth)^2 = rim - from_crown: slope 1 at the rim, all rows meet at the crown.
double RowField::from_crown_mm(double azimuth_rad, double depth_mm) const {
    double const rim = surface_->rim_from_crown_mm(azimuth_rad);
    if (depth_mm <= 0) return rim - depth_mm;
    double const share = std::min(depth_mm / crown_depth_, 1.0);
    return std::max(0.0, rim - depth_mm - (rim - crown_depth_) * share * share);
}

double RowField::depth_mm(Spot const& spot) const {
    double const rim = surface_->rim_from_crown_mm(spot.azimuth_rad);
    double const inward = rim - spot.from_crown_mm;
    if (inward <= 0) return inward;
    double const bend = (rim - crown_depth_) / (crown_depth_ * crown_depth_);
    return 2.0 * inward / (1.0 + std::sqrt(std::max(0.0, 1.0 + 4.0 * bend * inward)));
}

RowLine RowField::line(double depth_mm) const {
    RowLine line{depth_mm, {}, {}};
    Vec3 before{0, 0, 0};
    for (int k = 0; k <= kAround; ++k) {
        double const azimuth = -0.5 * kPi + kTwoPi * k / kAround;
        Vec3 const at = surface_->at({azimuth, from_crown_mm(azimuth, depth_mm)}).position;
        line.along_mm.push_back(k == 0 ? 0.0 : line.along_mm.back() + glm::distance(before, at));
        line.azimuth_rad.push_back(azimuth);
        before = at;
    }
    // A line shrunk to the crown still has to be walked round.
    if (line.run_mm() < 1e-6)
        for (int k = 0; k <= kAround; ++k) line.along_mm[static_cast<std::size_t>(k)] = 1e-6 * k;
    return line;
}

double RowField::turn_of(Spot const& spot, Vec3 const& direction) const {
    LaidPoint const at = surface_->at(spot);
    double const h = std::min(0.5, 0.5 * spot.from_crown_mm);
    Vec3 outward = surface_->at({spot.azimuth_rad, spot.from_crown_mm + 0.5}).position -
                   surface_->at({spot.azimuth_rad, spot.from_crown_mm - h}).position;
    return std::atan2(glm::dot(glm::cross(outward, direction), at.normal),
                      glm::dot(outward, direction) - glm::dot(outward, at.normal) * glm::dot(direction, at.normal));
}

double RowField::outward_turn(Spot const& spot) const {
    double const depth = depth_mm(spot);
    if (spot.from_crown_mm < 1.0) return 0;
    double const a = spot.azimuth_rad - kStep_rad;
    double const b = spot.azimuth_rad + kStep_rad;
    Vec3 const along =
        surface_->at({b, from_crown_mm(b, depth)}).position - surface_->at({a, from_crown_mm(a, depth)}).position;
    return turn_of(spot, glm::cross(along, surface_->at(spot).normal));
}

Pose RowField::moved(Pose const& pose, Vec2 const& by_mm, double turn_by_rad) const {
    Pose out = pose;
    if (by_mm == Vec2{0, 0}) {
        out.turn_rad = wrapped(pose.turn_rad + turn_by_rad);
        return out;
    }
    double const ahead = 0.5;
    Vec2 const heading{-std::sin(turn_by_rad), std::cos(turn_by_rad)};
    std::array<Vec2, 2> const local{by_mm, by_mm + ahead * heading};
    std::array<LaidPoint, 2> laid;
    surface_->lay(pose.middle, pose.turn_rad, local, laid);
    out.middle = surface_->from_chart(laid[0].chart);
    out.turn_rad = turn_of(out.middle, laid[1].position - laid[0].position);
    return out;
}

Pose mirrored(Pose const& pose) {
    return {
        {wrapped(kPi - pose.middle.azimuth_rad), pose.middle.from_crown_mm}, -pose.turn_rad, pose.scale, !pose.flipped};
}

namespace {

constexpr int kTerms = 10;
constexpr int kSamples = 37;
using Terms = std::array<double, kTerms>;

Terms terms_of(Vec2 const& p) {
    double const x = p.x;
    double const y = p.y;
    return {1, x, y, x * x, x * y, y * y, x * x * x, x * x * y, x * y * y, y * y * y};
}

std::array<Vec2, kSamples> sample_points() {
    std::array<Vec2, kSamples> points;
    std::size_t n = 0;
    points[n++] = {0, 0};
    for (auto const& [count, radius] : {std::pair{8, 0.38}, std::pair{12, 0.7}, std::pair{16, 1.0}})
        for (int k = 0; k < count; ++k)
            points[n++] = radius * Vec2{std::cos(kTwoPi * (k + 0.25) / count), std::sin(kTwoPi * (k + 0.25) / count)};
    return points;
}

// Least squares by the normal equations; ten unknowns, well spread points: no pivoting needed beyond symmetry.
void solve(std::array<Terms, kTerms>& matrix, std::array<Vec2, kTerms>& right) {
    for (std::size_t p = 0; p < kTerms; ++p) {
        for (std::size_t r = p + 1; r < kTerms; ++r) {
            double const factor = matrix[r][p] / matrix[p][p];
            for (std::size_t c = p; c < kTerms; ++c) matrix[r][c] -= factor * matrix[p][c];
            right[r] -= factor * right[p];
        }
    }
    for (std::size_t p = kTerms; p-- > 0;) {
        for (std::size_t c = p + 1; c < kTerms; ++c) right[p] -= matrix[p][c] * right[c];
        right[p] /= matrix[p][p];
    }
}

} // namespace

NearMap::NearMap(ClaySurface const& surface, Spot const& middle, double reach_mm) : reach_(reach_mm) {
    std::array<Vec2, kSamples> const points = sample_points();
    std::array<Vec2, kSamples> local;
    for (std::size_t k = 0; k < kSamples; ++k) local[k] = reach_mm * points[k];
    std::array<LaidPoint, kSamples> laid;
    surface.lay(middle, 0.0, local, laid);
    std::array<Terms, kTerms> matrix{};
    std::array<Vec2, kTerms> right{};
    for (std::size_t k = 0; k < kSamples; ++k) {
        Terms const terms = terms_of(points[k]);
        for (std::size_t r = 0; r < kTerms; ++r) {
            for (std::size_t c = 0; c < kTerms; ++c) matrix[r][c] += terms[r] * terms[c];
            right[r] += terms[r] * laid[k].chart;
        }
    }
    solve(matrix, right);
    std::copy(right.begin(), right.end(), coefficients_);
}

Vec2 NearMap::operator()(Vec2 const& local_mm) const {
    Terms const terms = terms_of(local_mm / reach_);
    Vec2 sum{0, 0};
    for (std::size_t k = 0; k < kTerms; ++k) sum += terms[k] * coefficients_[k];
    return sum;
}

// Newton's steps from the linear part: the map is nearly that.
Vec2 NearMap::inverse(Vec2 const& chart) const {
    Vec2 const* const c = coefficients_;
    Vec2 at{0, 0};
    for (int step = 0; step < 4; ++step) {
        double const x = at.x;
        double const y = at.y;
        Vec2 const off = chart - (*this)(reach_ * at);
        Vec2 const dx = c[1] + 2 * x * c[3] + y * c[4] + 3 * x * x * c[6] + 2 * x * y * c[7] + y * y * c[8];
        Vec2 const dy = c[2] + x * c[4] + 2 * y * c[5] + x * x * c[7] + 2 * x * y * c[8] + 3 * y * y * c[9];
        double const determinant = cross(dx, dy);
        if (std::abs(determinant) < 1e-9) break;
        at += Vec2{cross(off, dy), cross(dx, off)} / determinant;
    }
    return reach_ * at;
}

} // namespace leafwright
