// The sides of the sheet in the photo itself: where each profile across a side is steepest, and a straight line through
// those places that outliers (leaves across the edge, glare) do not pull.
#include "leaf/trace_work.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kProfiles = 240;
constexpr double kEnds = 0.03; // of a side, left out at its corners: they are worn or curled

Vec3 light_at(Photo const& photo, Vec2 const& p) {
    double const x = std::clamp(p.x, 0.0, photo.width_px - 1.001);
    double const y = std::clamp(p.y, 0.0, photo.height_px - 1.001);
    int const i = static_cast<int>(x);
    int const j = static_cast<int>(y);
    double const u = x - i;
    double const v = y - j;
    auto const& table = linear_light();
    auto const at = [&](int a, int b) {
        std::uint8_t const* const c = photo.at(a, b);
        return Vec3{static_cast<double>(table[c[0]]), static_cast<double>(table[c[1]]),
                    static_cast<double>(table[c[2]])};
    };
    return (at(i, j) * (1 - u) + at(i + 1, j) * u) * (1 - v) + (at(i, j + 1) * (1 - u) + at(i + 1, j + 1) * u) * v;
}

bool is_in(Photo const& photo, Vec2 const& p) {
    return p.x >= 0 && p.y >= 0 && p.x <= photo.width_px - 1 && p.y <= photo.height_px - 1;
}

struct Place {
    double along = 0;  // of the side's length
    double across = 0; // px inward
    double steep = 0;
};

struct Side {
    Vec2 from{0, 0};
    Vec2 to{0, 0};
    Vec2 inward{0, 0};
};

struct Profile {
    std::vector<Vec3> light; // from outside inward, a pixel apart
    bool complete = true;
};

Profile profile_of(Photo const& photo, Side const& side, double along, double reach) {
    Profile profile;
    Vec2 const t = (side.to - side.from) / glm::length(side.to - side.from);
    Vec2 const at = side.from + (side.to - side.from) * along;
    for (double a = -reach; a <= reach; a += 1) {
        Vec3 sum{0, 0, 0};
        for (int k = -2; k <= 2; ++k) {
            Vec2 const p = at + side.inward * a + t * (1.5 * k);
            if (!is_in(photo, p)) profile.complete = false;
            sum += light_at(photo, p);
        }
        profile.light.push_back(0.2 * sum);
    }
    return profile;
}

// The steepest place of the profile seen along `way`, to parts of a pixel: centre of the slope around its peak.
std::optional<Place> steepest(Profile const& profile, Vec3 const& way, double along, double reach) {
    std::vector<double> v;
    for (Vec3 const& c : profile.light) v.push_back(glm::dot(c, way));
    std::vector<double> slope(v.size(), 0.0);
    for (std::size_t k = 2; k + 2 < v.size(); ++k)
        slope[k] = 0.25 * (v[k + 1] - v[k - 1]) + 0.125 * (v[k + 2] - v[k - 2]);
    std::size_t best = 0;
    for (std::size_t k = 2; k + 2 < v.size(); ++k)
        if (slope[k] > slope[best]) best = k;
    if (best < 3 || best + 3 >= v.size() || slope[best] <= 0) return std::nullopt;
    std::size_t low = best;
    std::size_t high = best;
    while (low > 1 && slope[low - 1] > 0.35 * slope[best]) --low;
    while (high + 2 < v.size() && slope[high + 1] > 0.35 * slope[best]) ++high;
    double sum = 0;
    double moment = 0;
    for (std::size_t k = low; k <= high; ++k) {
        double const w = slope[k] - 0.35 * slope[best];
        sum += w;
        moment += w * static_cast<double>(k);
    }
    return Place{along, (sum > 0 ? moment / sum : static_cast<double>(best)) - reach, slope[best]};
}

// How the light changes inward across this side, as most profiles see it.
Vec3 way_of(std::vector<Profile> const& profiles, double reach) {
    Vec3 sum{0, 0, 0};
    for (Profile const& profile : profiles) {
        if (!profile.complete) continue;
        auto const n = profile.light.size();
        auto const rim = std::max<std::size_t>(2, static_cast<std::size_t>(0.5 * reach));
        Vec3 in{0, 0, 0};
        Vec3 out{0, 0, 0};
        for (std::size_t k = 0; k < rim; ++k) {
            out += profile.light[k];
            in += profile.light[n - 1 - k];
        }
        Vec3 const d = in - out;
        double const size = glm::length(d);
        if (size > 0) sum += d / (size + 0.05 * static_cast<double>(rim));
    }
    double const size = glm::length(sum);
    return size > 0 ? sum / size : Vec3{0.577, 0.577, 0.577};
}

struct Fit {
    double at_start = 0;
    double at_end = 0;
    double spread = 0; // robust, px
    double bow = 0;    // of the middle against the ends, px
    double seen = 0;   // share of the profiles that agree
};

// across = a + b along, again and again with weights (Tukey's); then how it bends.
std::optional<Fit> fit_line(std::vector<Place> const& places, double first_reach, std::size_t asked) {
    double a = 0;
    double b = 0;
    double limit = first_reach;
    // Start from the middle of the places.
    std::vector<double> sorted;
    for (Place const& p : places) sorted.push_back(p.across);
    if (sorted.size() < 12) return std::nullopt;
    std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2), sorted.end());
    a = sorted[sorted.size() / 2];
    Fit fit;
    for (int round = 0; round < 25; ++round) {
        double s0 = 0;
        double s1 = 0;
        double s2 = 0;
        double t0 = 0;
        double t1 = 0;
        std::vector<double> off;
        for (Place const& p : places) {
            double const r = (p.across - a - b * (p.along - 0.5)) / limit;
            off.push_back(std::abs(r) * limit);
            if (std::abs(r) >= 1) continue;
            double const w = (1 - r * r) * (1 - r * r);
            double const x = p.along - 0.5;
            s0 += w;
            s1 += w * x;
            s2 += w * x * x;
            t0 += w * p.across;
            t1 += w * x * p.across;
        }
        double const det = s0 * s2 - s1 * s1;
        if (s0 < 8 || det < 1e-9) return std::nullopt;
        a = (t0 * s2 - t1 * s1) / det;
        b = (s0 * t1 - s1 * t0) / det;
        std::nth_element(off.begin(), off.begin() + static_cast<std::ptrdiff_t>(off.size() / 2), off.end());
        limit = std::max({0.8, std::min(limit * 0.8, 4.7 * 1.48 * off[off.size() / 2])});
    }
    int agree = 0;
    double square = 0;
    double bend = 0;
    double bend_weight = 0;
    for (Place const& p : places) {
        double const r = p.across - a - b * (p.along - 0.5);
        if (std::abs(r) >= limit) continue;
        ++agree;
        square += r * r;
        double const shape = 1.0 / 12 - (p.along - 0.5) * (p.along - 0.5);
        bend += r * shape;
        bend_weight += shape * shape;
    }
    if (agree < 10) return std::nullopt;
    fit.at_start = a - 0.5 * b;
    fit.at_end = a + 0.5 * b;
    fit.spread = std::sqrt(square / agree);
    fit.bow = bend_weight > 0 ? 0.25 * bend / bend_weight : 0;
    fit.seen = static_cast<double>(agree) / static_cast<double>(asked);
    return fit;
}

std::optional<Fit> fit_side(Photo const& photo, Side const& side, double reach) {
    std::vector<Profile> profiles;
    std::vector<double> at;
    for (int k = 0; k < kProfiles; ++k) {
        double const along = kEnds + (1 - 2 * kEnds) * (k + 0.5) / kProfiles;
        profiles.push_back(profile_of(photo, side, along, reach));
        at.push_back(along);
    }
    Vec3 const way = way_of(profiles, reach);
    std::vector<Place> places;
    for (std::size_t k = 0; k < profiles.size(); ++k) {
        if (!profiles[k].complete) continue;
        if (auto place = steepest(profiles[k], way, at[k], reach)) places.push_back(*place);
    }
    // Slopes far below the usual one are texture.
    std::vector<double> steep;
    for (Place const& p : places) steep.push_back(p.steep);
    if (steep.size() < 12) return std::nullopt;
    std::nth_element(steep.begin(), steep.begin() + static_cast<std::ptrdiff_t>(steep.size() / 2), steep.end());
    double const usual = steep[steep.size() / 2];
    std::erase_if(places, [&](Place const& p) { return p.steep < 0.3 * usual; });
    return fit_line(places, reach, profiles.size());
}

} // namespace

std::optional<FoundSheet> sharpened(Photo const& photo, FoundSheet const& sheet, double reach_px) {
    FoundSheet out = sheet;
    for (double const reach : {reach_px, std::max(6.0, 0.5 * reach_px), std::max(6.0, 0.35 * reach_px)}) {
        Vec2 const centre = 0.25 * (out.corners_px[0] + out.corners_px[1] + out.corners_px[2] + out.corners_px[3]);
        std::array<Vec2, 4> from{};
        std::array<Vec2, 4> to{};
        double error = 0;
        double bow = 0;
        double seen = 1;
        for (std::size_t i = 0; i < 4; ++i) {
            Side side{out.corners_px[i], out.corners_px[(i + 1) % 4], {}};
            Vec2 const t = side.to - side.from;
            side.inward = Vec2{-t.y, t.x} / glm::length(t);
            if (glm::dot(side.inward, centre - side.from) < 0) side.inward = -side.inward;
            auto const fit = fit_side(photo, side, reach);
            if (!fit) return std::nullopt;
            from[i] = side.from + side.inward * fit->at_start;
            to[i] = side.to + side.inward * fit->at_end;
            error = std::max(error, 2 * fit->spread / std::sqrt(std::max(1.0, fit->seen * kProfiles / 4)));
            bow = std::max(bow, std::abs(fit->bow));
            seen = std::min(seen, fit->seen);
        }
        for (std::size_t i = 0; i < 4; ++i) {
            std::size_t const before = (i + 3) % 4;
            Vec2 const d = to[i] - from[i];
            Vec2 const e = to[before] - from[before];
            double const det = cross(d, e);
            if (std::abs(det) < 1e-9) return std::nullopt;
            out.corners_px[i] = from[i] + d * (cross(from[before] - from[i], e) / det);
        }
        out.corner_error_px = error;
        out.bow_px = bow;
        out.support = seen;
    }
    return out;
}

} // namespace leafwright
