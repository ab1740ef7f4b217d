#include "rows/feature.h"

#include "base/units.h"
#include "rows/feature_form.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kFootprintPoints = 96;
constexpr double kBallShare = 0.6;       // of the eye: the ball's radius, of the lesser half size
constexpr double kLidFrom = 0.62;        // the lid is the eye's outer part
constexpr double kLidHeight = 0.7;       // of the ball's
constexpr double kFullAlmondRatio = 2.0; // an eye twice as wide as high has corners, a round one has none

Vec2 half_size(Feature const& f) { return {0.5 * f.width_mm, 0.5 * f.height_mm}; }
Vec2 lip_half_size(Feature const& f) { return half_size(f) + (f.rise_mm > 0 ? form::kLipWidth_mm : 0.0); }
double almond_of(Feature const& f) { return std::clamp(f.width_mm / f.height_mm - 1.0, 0.0, kFullAlmondRatio - 1.0); }

// A ridge is a half cylinder between two half balls, along the longer way.
struct Ridge {
    Vec2 end{0, 0}; // middle of one half ball; the other is opposite
    double radius_mm = 0;
};

Ridge ridge_of(Feature const& f) {
    Vec2 const half = half_size(f);
    double const radius = std::min(half.x, half.y);
    return {{half.x - radius, half.y - radius}, radius};
}

double ridge_height(Feature const& f, Vec2 const& p) {
    Ridge const ridge = ridge_of(f);
    Vec2 const off = p - glm::clamp(p, -ridge.end, ridge.end);
    double const s2 = glm::dot(off, off) / (ridge.radius_mm * ridge.radius_mm);
    return s2 < 1 ? std::sqrt(1.0 - s2) : 0.0;
}

double lip_height(Feature const& f, Vec2 const& p) {
    double const hole = glm::length(p / half_size(f));
    double const outer = glm::length(p / lip_half_size(f));
    if (f.rise_mm <= 0 || hole <= 1 || outer >= 1) return 0;
    return form::roll((1.0 - 1.0 / hole) / (1.0 / outer - 1.0 / hole));
}

double eye_height(Feature const& f, Vec2 const& p) {
    Vec2 const half = half_size(f);
    double const ball = glm::length(p) / (kBallShare * std::min(half.x, half.y));
    if (ball < 1) return std::sqrt(1.0 - ball * ball);
    double const s = form::almond_gauge(p / half, almond_of(f));
    return kLidHeight * form::roll((s - kLidFrom) / (1.0 - kLidFrom));
}

double dome(double gauge) { return gauge < 1 ? std::sqrt(1.0 - gauge * gauge) : 0.0; }

// A rolled ring of height 1 between an outline and the same one enlarged holds pi/4 of the area between them.
constexpr double kRollShare = kPi / 4.0;

double eye_volume(Feature const& f) {
    Vec2 const half = half_size(f);
    double const radius = kBallShare * std::min(half.x, half.y);
    double const lid_area = form::almond_area(almond_of(f)) * half.x * half.y * (1.0 - kLidFrom * kLidFrom);
    return 2.0 / 3.0 * kPi * radius * radius + kLidHeight * kRollShare * lid_area;
}

double ridge_volume(Feature const& f) {
    Ridge const ridge = ridge_of(f);
    double const length = 2.0 * (ridge.end.x + ridge.end.y);
    return ridge.radius_mm * (0.5 * kPi * length + 2.0 / 3.0 * kPi * ridge.radius_mm);
}

double lip_volume(Feature const& f) {
    Vec2 const hole = half_size(f);
    Vec2 const outer = lip_half_size(f);
    return kRollShare * kPi * (outer.x * outer.y - hole.x * hole.y);
}

Vec2 ridge_point(Feature const& f, Vec2 const& direction) {
    Ridge const ridge = ridge_of(f);
    return ridge.radius_mm * direction + ridge.end * Vec2{direction.x >= 0 ? 1 : -1, direction.y >= 0 ? 1 : -1};
}

// A point of the outline; `turn` goes from 0 to 1 once round, counter-clockwise.
Vec2 outline_point(Feature const& f, double turn) {
    double const phi = kTwoPi * turn;
    Vec2 const direction{std::cos(phi), std::sin(phi)};
    double const side = direction.x >= 0 ? 1 : -1;
    Vec2 const half = half_size(f);
    switch (f.kind) {
    case FeatureKind::boss:
        return half * direction;
    case FeatureKind::ridge:
        return ridge_point(f, direction);
    case FeatureKind::opening:
        return lip_half_size(f) * direction;
    case FeatureKind::eye:
        return half * direction / form::almond_gauge(direction, almond_of(f));
    case FeatureKind::nose:
        return half * form::nose_point(phi);
    case FeatureKind::mouth:
        return half * direction / form::almond_gauge(direction, 1.0);
    case FeatureKind::ear:
        return half * Vec2{side * form::ear_half_width(direction.y), direction.y};
    case FeatureKind::petal:
        return half * Vec2{side * form::petal_half_width(direction.y), direction.y};
    }
    return {0, 0};
}

// How much a ring through points of a convex outline must grow to hold the outline's arcs between them.
double growth(Ring const& corners, auto const& point) {
    constexpr int parts = 8;
    std::size_t const n = corners.size();
    double most = 1;
    for (std::size_t i = 0; i < n; ++i) {
        Vec2 const& a = corners[i];
        Vec2 const edge = corners[(i + 1) % n] - a;
        for (int k = 1; k < parts; ++k) {
            Vec2 const p = point((static_cast<double>(i) + static_cast<double>(k) / parts) / static_cast<double>(n));
            most = std::max(most, cross(p, edge) / cross(a, edge));
        }
    }
    return 1.0 + 1.02 * (most - 1.0); // the samples miss the very top of an arc
}

} // namespace

Ring feature_footprint(Feature const& feature) {
    auto const point = [&](double turn) { return outline_point(feature, turn); };
    Ring ring;
    ring.reserve(kFootprintPoints);
    for (int i = 0; i < kFootprintPoints; ++i) {
        Vec2 const p = point(static_cast<double>(i) / kFootprintPoints);
        if (ring.empty() || glm::length(p - ring.back()) > 1e-9) ring.push_back(p);
    }
    double const factor = growth(ring, point);
    for (Vec2& p : ring) p *= factor;
    return ring;
}

double feature_height_mm(Feature const& feature, Vec2 const& local_mm) {
    Vec2 const p = local_mm / half_size(feature);
    switch (feature.kind) {
    case FeatureKind::boss:
        return feature.rise_mm * dome(glm::length(p));
    case FeatureKind::ridge:
        return feature.rise_mm * ridge_height(feature, local_mm);
    case FeatureKind::opening:
        return feature.rise_mm * lip_height(feature, local_mm);
    case FeatureKind::eye:
        return feature.rise_mm * eye_height(feature, local_mm);
    case FeatureKind::nose:
        return feature.rise_mm * dome(form::nose_gauge(p));
    case FeatureKind::mouth:
        return feature.rise_mm * form::mouth_height(p);
    case FeatureKind::ear:
        return feature.rise_mm * form::ear_height(p);
    case FeatureKind::petal:
        return feature.rise_mm * form::petal_height(p);
    }
    return 0;
}

double feature_volume_mm3(Feature const& feature) {
    Vec2 const half = half_size(feature);
    double const square_mm3 = half.x * half.y * feature.rise_mm;
    switch (feature.kind) {
    case FeatureKind::boss:
        return 2.0 / 3.0 * kPi * square_mm3;
    case FeatureKind::ridge:
        return feature.rise_mm * ridge_volume(feature);
    case FeatureKind::opening:
        return feature.rise_mm * lip_volume(feature);
    case FeatureKind::eye:
        return feature.rise_mm * eye_volume(feature);
    case FeatureKind::nose:
        return 2.0 / 3.0 * form::nose_area() * square_mm3;
    case FeatureKind::mouth:
        return form::mouth_volume() * square_mm3;
    case FeatureKind::ear:
        return form::ear_volume() * square_mm3;
    case FeatureKind::petal:
        return form::petal_volume() * square_mm3;
    }
    return 0;
}

} // namespace leafwright
