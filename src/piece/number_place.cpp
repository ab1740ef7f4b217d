#include "piece/number_place.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kSteps = 22;

double squared_distance(Ring const& ring, Vec2 const& p, double least) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const a = ring[i], d = ring[(i + 1) % ring.size()] - a, to = p - a;
        double const length = glm::dot(d, d);
        double const t = length > 0 ? std::clamp(glm::dot(to, d) / length, 0.0, 1.0) : 0.0;
        Vec2 const off = to - t * d;
        least = std::min(least, glm::dot(off, off));
    }
    return least;
}

double squared_distance(Polygon const& polygon, Vec2 const& p, double least) {
    least = squared_distance(polygon.outer, p, least);
    for (Ring const& hole : polygon.holes) least = squared_distance(hole, p, least);
    return least;
}

// 0 when the point does not show.
double clear_at(Polygon const& outline, std::span<Polygon const* const> covers, Vec2 const& p) {
    if (!contains(outline, p)) return 0;
    for (Polygon const* cover : covers)
        if (contains(*cover, p)) return 0;
    double least = squared_distance(outline, p, 1e300);
    for (Polygon const* cover : covers) least = squared_distance(*cover, p, least);
    return std::sqrt(least);
}

} // namespace

NumberPlace number_place(Polygon const& outline, std::span<Polygon const* const> covers) {
    Box2 const box = bounds(outline.outer);
    std::vector<Polygon const*> near;
    for (Polygon const* cover : covers)
        if (bounds(cover->outer).overlaps(box)) near.push_back(cover);
    NumberPlace best{centroid(outline.outer), 0};
    Vec2 const step = box.size() / static_cast<double>(kSteps);
    auto const look = [&](Vec2 const& p) {
        double const clear = clear_at(outline, near, p);
        if (clear > best.clear_mm) best = {p, clear};
    };
    for (int j = 0; j < kSteps; ++j)
        for (int i = 0; i < kSteps; ++i) look(box.low + step * Vec2(i + 0.5, j + 0.5));
    if (best.clear_mm <= 0) return best;
    Vec2 const middle = best.at; // finer about the best
    for (int j = -3; j <= 3; ++j)
        for (int i = -3; i <= 3; ++i) look(middle + step * (Vec2(i, j) / 4.0));
    return best;
}

} // namespace leafwright
