// From a line around pixels to a fair outline of few points.
//
// Smoothing is a Gaussian along the line that gives back what it took from bends (twicing), so that tips of teeth stay.
// Thinning is Douglas and Peucker's; then every corner moves outward or inward a little until each side has as much of
// the line on its left as on its right: chords of a round edge would else cut its area.
#include "leaf/segment.h"
#include "leaf/trace_work.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

Ring evenly_spaced(Ring const& ring, double step) {
    Ring out;
    double const length = perimeter(ring);
    auto const count = static_cast<std::size_t>(std::max(12.0, std::round(length / step)));
    double const gap = length / static_cast<double>(count);
    double next = 0;
    double walked = 0;
    for (std::size_t i = 0; i < ring.size() && out.size() < count; ++i) {
        Vec2 const a = ring[i];
        Vec2 const b = ring[(i + 1) % ring.size()];
        double const side = glm::length(b - a);
        while (next < walked + side && out.size() < count) {
            out.push_back(a + (b - a) * ((next - walked) / side));
            next += gap;
        }
        walked += side;
    }
    return out;
}

Ring blurred(Ring const& ring, std::vector<double> const& weights) {
    auto const n = static_cast<std::ptrdiff_t>(ring.size());
    auto const reach = static_cast<std::ptrdiff_t>(weights.size()) - 1;
    Ring out(ring.size());
    for (std::ptrdiff_t i = 0; i < n; ++i) {
        Vec2 sum = ring[static_cast<std::size_t>(i)] * weights[0];
        for (std::ptrdiff_t k = 1; k <= reach; ++k) {
            Vec2 const before = ring[static_cast<std::size_t>((i - k % n + n) % n)];
            Vec2 const after = ring[static_cast<std::size_t>((i + k) % n)];
            sum += (before + after) * weights[static_cast<std::size_t>(k)];
        }
        out[static_cast<std::size_t>(i)] = sum;
    }
    return out;
}

// sigma in points.
Ring smoothed(Ring const& ring, double sigma) {
    std::vector<double> weights;
    double total = 0;
    for (int k = 0; k <= std::ceil(3 * sigma); ++k) {
        weights.push_back(std::exp(-0.5 * k * k / (sigma * sigma)));
        total += (k == 0 ? 1 : 2) * weights.back();
    }
    for (double& w : weights) w /= total;
    Ring const once = blurred(ring, weights);
    Ring rest(ring.size());
    for (std::size_t i = 0; i < ring.size(); ++i) rest[i] = ring[i] - once[i];
    Ring out = blurred(rest, weights);
    for (std::size_t i = 0; i < ring.size(); ++i) out[i] += once[i];
    return out;
}

void thin(Ring const& line, std::size_t from, std::size_t to, double tolerance, std::vector<std::size_t>& kept) {
    std::vector<std::pair<std::size_t, std::size_t>> open{{from, to}};
    while (!open.empty()) {
        auto const [a, b] = open.back();
        open.pop_back();
        double worst = tolerance;
        std::size_t at = 0;
        for (std::size_t i = a + 1; i < b; ++i) {
            double const d = distance_to_segment(line[i % line.size()], line[a], line[b % line.size()]);
            if (d > worst) {
                worst = d;
                at = i;
            }
        }
        if (at == 0) continue;
        kept.push_back(at);
        open.emplace_back(a, at);
        open.emplace_back(at, b);
    }
}

// Indices of the points kept, in order; the first is a point of the ring that lies far out.
std::vector<std::size_t> thinned_ring(Ring const& ring, double tolerance) {
    std::size_t far = 0;
    for (std::size_t i = 1; i < ring.size(); ++i)
        if (glm::length(ring[i] - ring[0]) > glm::length(ring[far] - ring[0])) far = i;
    std::vector<std::size_t> kept{0, far};
    thin(ring, 0, far, tolerance, kept);
    thin(ring, far, ring.size(), tolerance, kept);
    std::sort(kept.begin(), kept.end());
    kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
    return kept;
}

// Area between the line from kept[k] on and its chord, over the chord's length: positive where the line lies to the
// right of the chord (outside, for a counter-clockwise ring).
double belly(Ring const& ring, std::size_t from, std::size_t to) {
    Vec2 const a = ring[from];
    Vec2 const b = ring[to % ring.size()];
    double twice = 0;
    for (std::size_t i = from; i < to; ++i) twice += cross(ring[i] - a, ring[(i + 1) % ring.size()] - a);
    double const chord = glm::length(b - a);
    return chord > 0 ? 0.5 * twice / chord : 0;
}

Ring balanced(Ring const& ring, std::vector<std::size_t> const& kept) {
    std::size_t const n = kept.size();
    std::vector<double> offset(n);
    Ring out(n);
    for (std::size_t k = 0; k < n; ++k)
        offset[k] = belly(ring, kept[k], k + 1 < n ? kept[k + 1] : kept[0] + ring.size());
    for (std::size_t k = 0; k < n; ++k) {
        Vec2 const at = ring[kept[k]];
        Vec2 const before = at - ring[kept[(k + n - 1) % n]];
        Vec2 const after = ring[kept[(k + 1) % n]] - at;
        double const lb = glm::length(before);
        double const la = glm::length(after);
        Vec2 const across = Vec2{before.y / lb + after.y / la, -before.x / lb - after.x / la};
        double const size2 = glm::dot(across, across);
        // Sharp corners keep their place: moving them would blunt or lengthen them.
        if (size2 < 1.0) {
            out[k] = at;
            continue;
        }
        double const mean = (offset[(k + n - 1) % n] * lb + offset[k] * la) / (lb + la);
        out[k] = at + across * (2 * mean / size2);
    }
    return out;
}

double furthest(Ring const& ring, std::vector<std::size_t> const& kept, Ring const& corners) {
    double worst = 0;
    for (std::size_t k = 0; k < kept.size(); ++k) {
        std::size_t const to = k + 1 < kept.size() ? kept[k + 1] : kept[0] + ring.size();
        Vec2 const a = corners[k];
        Vec2 const b = corners[(k + 1) % corners.size()];
        for (std::size_t i = kept[k]; i < to; ++i)
            worst = std::max(worst, distance_to_segment(ring[i % ring.size()], a, b));
    }
    return worst;
}

} // namespace

Ring fair_ring(Ring const& ring, double tolerance) {
    double const step = std::max(tolerance / 3, perimeter(ring) / 40000);
    Ring const even = evenly_spaced(ring, step);
    Ring smooth = smoothed(even, std::max(0.8, 0.6 * tolerance / step));
    for (double part = 0.6; part > 0.05; part *= 0.7) {
        std::vector<std::size_t> const kept = thinned_ring(smooth, part * tolerance);
        if (kept.size() < 4) continue;
        Ring corners = balanced(smooth, kept);
        if (furthest(smooth, kept, corners) <= tolerance && is_simple(corners)) return corners;
    }
    return smooth;
}

} // namespace leafwright
