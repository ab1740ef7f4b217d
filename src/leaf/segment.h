// Runs of straight lines: how far a point lies from them, how long they are.
#pragma once

#include "base/polygon.h"

#include <algorithm>

namespace leafwright {

inline double distance_to_segment(Vec2 const& p, Vec2 const& a, Vec2 const& b) {
    Vec2 const ab = b - a;
    double const long2 = glm::dot(ab, ab);
    double const t = long2 > 0 ? std::clamp(glm::dot(p - a, ab) / long2, 0.0, 1.0) : 0.0;
    return glm::length(p - a - t * ab);
}

inline double distance_to_line(std::span<Vec2 const> line, Vec2 const& p) {
    double least = line.empty() ? 1e300 : glm::length(p - line.front());
    for (std::size_t i = 1; i < line.size(); ++i) least = std::min(least, distance_to_segment(p, line[i - 1], line[i]));
    return least;
}

inline double distance_to_ring(std::span<Vec2 const> ring, Vec2 const& p) {
    if (ring.empty()) return 1e300;
    return std::min(distance_to_line(ring, p), distance_to_segment(p, ring.back(), ring.front()));
}

inline double length_along(std::span<Vec2 const> line) {
    double sum = 0;
    for (std::size_t i = 1; i < line.size(); ++i) sum += glm::length(line[i] - line[i - 1]);
    return sum;
}

// Points at most a step apart along the line, both its ends among them.
std::vector<Vec2> evenly_spaced(std::span<Vec2 const> line, double step);

} // namespace leafwright
