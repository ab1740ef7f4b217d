#include "leaf/margin.h"

#include "leaf/segment.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kStepsPerBend = 40;

Vec2 on_bend(Bend const& b, double t) {
    double const u = 1 - t;
    return u * u * u * b.from + 3 * u * u * t * b.from_handle + 3 * u * t * t * b.to_handle + t * t * t * b.to;
}

std::size_t piece_at(Track const& track, double s) {
    auto const next = std::upper_bound(track.along.begin() + 1, track.along.end() - 1, s);
    return static_cast<std::size_t>(next - track.along.begin()) - 1;
}

// Marks the points that a tolerance keeps, between two that stay.
void keep_between(Line const& line, std::size_t first, std::size_t last, double tolerance, std::vector<char>& kept) {
    double worst = tolerance;
    std::size_t at = first;
    for (std::size_t i = first + 1; i < last; ++i) {
        double const d = distance_to_segment(line[i], line[first], line[last]);
        if (d > worst) worst = d, at = i;
    }
    if (at == first) return;
    kept[at] = 1;
    keep_between(line, first, at, tolerance, kept);
    keep_between(line, at, last, tolerance, kept);
}

Line thinned_to(Line const& line, double tolerance) {
    std::vector<char> kept(line.size(), 0);
    kept.front() = kept.back() = 1;
    keep_between(line, 0, line.size() - 1, tolerance, kept);
    Line result;
    for (std::size_t i = 0; i < line.size(); ++i)
        if (kept[i]) result.push_back(line[i]);
    return result;
}

} // namespace

Vec2 Track::at(double s) const {
    std::size_t const i = piece_at(*this, s);
    double const t = (s - along[i]) / (along[i + 1] - along[i]);
    return points[i] + std::clamp(t, 0.0, 1.0) * (points[i + 1] - points[i]);
}

Vec2 Track::forward(double s) const {
    // Over a stretch of the edge, so that a tooth stands square to the margin as the eye sees it.
    double const reach = 0.012 * length();
    return glm::normalize(at(std::min(s + reach, length())) - at(std::max(s - reach, 0.0)));
}

Vec2 Track::outward(double s) const {
    Vec2 const f = forward(s);
    return {f.y, -f.x};
}

double Track::nearest(Vec2 const& p) const {
    double best = 1e300;
    double place = 0;
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
        Vec2 const edge = points[i + 1] - points[i];
        double const t = std::clamp(glm::dot(p - points[i], edge) / glm::dot(edge, edge), 0.0, 1.0);
        double const d = glm::length(p - points[i] - t * edge);
        if (d < best) best = d, place = along[i] + t * (along[i + 1] - along[i]);
    }
    return place;
}

Track track_of(std::vector<Bend> const& bends) {
    Track track;
    track.points.push_back(bends.front().from);
    track.along.push_back(0);
    for (Bend const& bend : bends) {
        for (int i = 1; i <= kStepsPerBend; ++i) {
            Vec2 const p = on_bend(bend, static_cast<double>(i) / kStepsPerBend);
            double const step = glm::length(p - track.points.back());
            if (step < 1e-9) continue;
            track.along.push_back(track.along.back() + step);
            track.points.push_back(p);
        }
        track.bend_ends.push_back(track.along.back());
    }
    return track;
}

Line thinned(Line const& line, int count) {
    if (static_cast<int>(line.size()) <= count) return line;
    double low = 1e-7;
    double high = 0.05;
    Line best = thinned_to(line, high);
    for (int i = 0; i < 14; ++i) {
        double const middle = std::sqrt(low * high);
        Line found = thinned_to(line, middle);
        bool const fits = static_cast<int>(found.size()) <= count;
        (fits ? high : low) = middle;
        if (fits) best = std::move(found);
    }
    return best;
}

} // namespace leafwright
