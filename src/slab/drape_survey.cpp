#include "slab/drape_survey.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kTip_mm = 20; // figures this near to a cut's tip depend on the mesh

struct Tensor { // symmetric, in the flat
    double xx = 0, xy = 0, yy = 0, weight = 0;
};

// Log stretch flat to laid, averaged to the vertices by laid area.
std::vector<Tensor> log_stretches(DrapeMesh const& mesh, Membrane const& membrane, std::span<Vec2 const> flat) {
    std::vector<Tensor> sum(mesh.azimuth.size());
    for (RestTriangle const& t : membrane.triangles()) {
        FlatStretch const s = membrane.stretch(t, flat);
        double const e2 = -std::log(s.s1), e1 = -std::log(s.s2); // e2 along u, e1 square to it
        double const xx = e2 * s.u.x * s.u.x + e1 * s.u.y * s.u.y, yy = e2 * s.u.y * s.u.y + e1 * s.u.x * s.u.x;
        double const xy = (e2 - e1) * s.u.x * s.u.y;
        for (std::int32_t v : t.vertex) {
            Tensor& at = sum[static_cast<std::size_t>(v)];
            at.xx += t.area * xx, at.xy += t.area * xy, at.yy += t.area * yy, at.weight += t.area;
        }
    }
    for (Tensor& t : sum)
        if (t.weight > 0) t.xx /= t.weight, t.xy /= t.weight, t.yy /= t.weight;
    return sum;
}

void put_strain(Tensor const& t, double thickness_mm, SlabMapPoint& point) {
    double const mean = 0.5 * (t.xx + t.yy), half = 0.5 * (t.xx - t.yy), root = std::hypot(half, t.xy);
    double const angle = 0.5 * std::atan2(t.xy, half);
    point.stretch_1 = std::exp(mean + root);
    point.stretch_2 = std::exp(mean - root);
    point.along_1 = {std::cos(angle), std::sin(angle)};
    point.thickness_mm = thickness_mm * std::exp(-2 * mean);
    point.pucker = root - mean - kPuckerStrain;
}

std::vector<Vec3> tips_of(DrapeMesh const& mesh) {
    std::vector<Vec3> tips;
    for (int s = 0; s < mesh.sectors(); ++s) {
        int const ring = mesh.tip_ring(static_cast<std::size_t>(s));
        if (ring < mesh.rings) tips.push_back(mesh.place[static_cast<std::size_t>(mesh.vertex(ring, s * ring))]);
    }
    return tips;
}

SlabMap map_of(DrapeMesh const& mesh, Membrane const& membrane, std::span<Vec2 const> flat, double thickness_mm) {
    SlabMap map;
    std::vector<Tensor> const stretch = log_stretches(mesh, membrane, flat);
    map.points.resize(stretch.size());
    for (std::size_t v = 0; v < stretch.size(); ++v) {
        SlabMapPoint& point = map.points[v];
        point.flat_mm = flat[v];
        point.laid_mm = mesh.place[v];
        point.spot = {mesh.azimuth[v], mesh.length_mm[v]};
        point.rim_share = mesh.share[v];
        put_strain(stretch[v], thickness_mm, point);
    }
    map.triangles = mesh.triangles;
    return map;
}

void find_extremes(DrapeMesh const& mesh, Membrane const& membrane, double thickness_mm, DrapeSurvey& survey) {
    std::vector<Vec3> const tips = tips_of(mesh);
    std::vector<char> counts(mesh.azimuth.size(), 0);
    for (RestTriangle const& t : membrane.triangles())
        for (std::int32_t v : t.vertex) counts[static_cast<std::size_t>(v)] = 1;
    survey.stretch_least = survey.least_product = 1e300;
    survey.stretch_most = survey.most_product = 0;
    for (std::size_t v = 0; v < counts.size(); ++v) {
        SlabMapPoint const& p = survey.map.points[v];
        auto const near = [&](Vec3 const& tip) { return glm::distance(tip, p.laid_mm) < kTip_mm; };
        if (!counts[v] || std::any_of(tips.begin(), tips.end(), near)) continue;
        if (p.stretch_1 > survey.stretch_most) survey.stretch_most = p.stretch_1, survey.most_stretched = p.spot;
        survey.stretch_least = std::min(survey.stretch_least, p.stretch_2);
        survey.least_product = std::min(survey.least_product, p.thickness_mm / thickness_mm);
        survey.most_product = std::max(survey.most_product, p.thickness_mm / thickness_mm);
    }
}

double surplus_rim(DrapeMesh const& mesh, std::span<Vec2 const> flat) {
    double sum = 0;
    for (int sector = 0; sector < mesh.sectors(); ++sector) {
        std::vector<int> const rim = mesh.rim_of(sector);
        for (std::size_t i = 0; i + 1 < rim.size(); ++i) {
            auto const a = static_cast<std::size_t>(rim[i]), b = static_cast<std::size_t>(rim[i + 1]);
            double const laid = glm::distance(mesh.place[a], mesh.place[b]);
            sum += laid * std::max(0.0, std::log(glm::distance(flat[a], flat[b]) / laid) - kPuckerStrain);
        }
    }
    return sum;
}

} // namespace

double share_above(double a, double b, double c) {
    if (a < b) std::swap(a, b);
    if (b < c) std::swap(b, c);
    if (a < b) std::swap(a, b);
    if (a <= 0) return 0;
    if (c > 0) return 1;
    if (b <= 0) return a * a / ((a - b) * (a - c));
    return 1 - c * c / ((a - c) * (b - c));
}

DrapeSurvey survey_drape(DrapeMesh const& mesh, Membrane const& membrane, std::span<Vec2 const> flat,
                         double thickness_mm) {
    DrapeSurvey survey;
    survey.map = map_of(mesh, membrane, flat, thickness_mm);
    double square = 0;
    for (RestTriangle const& t : membrane.triangles()) {
        FlatStretch const s = membrane.stretch(t, flat);
        auto const pucker = [&](std::size_t i) {
            return survey.map.points[static_cast<std::size_t>(t.vertex[i])].pucker;
        };
        double const more = 1 / s.s2 - 1, less = 1 / s.s1 - 1;
        square += t.area * (more * more + less * less);
        survey.laid_mm2 += t.area;
        survey.flat_mm2 += t.area * s.s1 * s.s2;
        survey.pucker_mm2 += t.area * share_above(pucker(0), pucker(1), pucker(2));
    }
    survey.rms_stretch = std::sqrt(square / (2 * survey.laid_mm2));
    survey.surplus_rim_mm = surplus_rim(mesh, flat);
    find_extremes(mesh, membrane, thickness_mm, survey);
    return survey;
}

} // namespace leafwright
