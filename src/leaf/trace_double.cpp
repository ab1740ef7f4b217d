// Whether an outline is that of leaves that lie on each other.
//
// Where two outlines cross, a sharp corner points inward. A cut or two between such corners then leaves parts that are
// whole leaves, bulging all round; from a lobed leaf it leaves lobes and a rest that is lobed still. A bite's corners
// point outward; a bent leaf bends smoothly.
#include "leaf/segment.h"
#include "leaf/trace_work.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kPoints = 360;
constexpr double kTooth = 0.012; // of the outline's size
constexpr double kArm = 0.035;   // of the outline's size: how far to both sides a corner is looked at
constexpr double kDeep = 0.03;   // of its size, below the hull
constexpr double kSharp_deg = 32;
constexpr std::size_t kMostCorners = 6; // more are lobes
constexpr double kBulging = 0.93;       // of the hull's area
constexpr double kLeastPart = 0.10;     // of the whole

bool bulges(Ring const& ring) {
    return std::abs(signed_area(ring)) > kBulging * std::abs(signed_area(convex_hull(ring)));
}

Ring even_ring(Ring const& outer) {
    Ring closed = counter_clockwise(outer);
    closed.push_back(closed.front());
    Ring ring = evenly_spaced(closed, length_along(closed) / kPoints);
    ring.pop_back();
    return ring;
}

// Teeth have corners too: they are smoothed away.
Ring toothless(Ring ring, double reach) {
    std::size_t const n = ring.size();
    auto const half =
        std::max<std::size_t>(1, static_cast<std::size_t>(reach / perimeter(ring) * static_cast<double>(n)));
    for (int pass = 0; pass < 3; ++pass) {
        Ring mean(n);
        for (std::size_t k = 0; k < n; ++k) {
            Vec2 sum{0, 0};
            for (std::size_t j = 0; j <= 2 * half; ++j) sum += ring[(k + n + j - half) % n];
            mean[k] = sum / static_cast<double>(2 * half + 1);
        }
        ring = std::move(mean);
    }
    return ring;
}

std::vector<std::size_t> corners_of(Ring const& ring, double size) {
    Ring const hull = convex_hull(ring);
    auto const n = static_cast<int>(ring.size());
    double const step = perimeter(ring) / n;
    int const arm = std::max(2, static_cast<int>(std::lround(kArm * size / step)));
    auto const at = [&](int k) { return ring[static_cast<std::size_t>((k % n + n) % n)]; };
    auto const turn = [&](int k) {
        Vec2 const in = at(k) - at(k - arm);
        Vec2 const out = at(k + arm) - at(k);
        return degrees(std::atan2(cross(in, out), glm::dot(in, out)));
    };
    std::vector<std::size_t> corners;
    for (int k = 0; k < n; ++k) {
        if (turn(k) > -kSharp_deg || distance_to_ring(hull, at(k)) < kDeep * size) continue;
        bool sharpest = true;
        for (int j = 1; j <= arm; ++j) sharpest = sharpest && turn(k) <= turn(k - j) && turn(k) < turn(k + j);
        if (sharpest) corners.push_back(static_cast<std::size_t>(k));
    }
    return corners;
}

Ring part_of(Ring const& ring, std::size_t from, std::size_t to) {
    Ring part;
    for (std::size_t k = from; k != to; k = (k + 1) % ring.size()) part.push_back(ring[k]);
    part.push_back(ring[to]);
    return part;
}

bool runs_inside(Ring const& ring, Vec2 const& a, Vec2 const& b) {
    for (double const t : {0.2, 0.5, 0.8})
        if (!contains(ring, a + t * (b - a))) return false;
    return true;
}

// Cuts between the corners, or from one to the outline across: do they leave bulging parts alone?
bool parts_bulge(Ring const& ring, double whole, int cuts) {
    if (bulges(ring)) return true;
    if (cuts == 0) return false;
    std::vector<std::size_t> const corners = corners_of(ring, glm::length(bounds(ring).size()));
    if (corners.empty() || corners.size() > kMostCorners) return false;
    std::size_t const n = ring.size();
    auto const good = [&](std::size_t a, std::size_t b) {
        if (!runs_inside(ring, ring[a], ring[b])) return false;
        Ring const one = part_of(ring, a, b);
        Ring const other = part_of(ring, b, a);
        if (std::min(std::abs(signed_area(one)), std::abs(signed_area(other))) < kLeastPart * whole) return false;
        if (bulges(one)) return parts_bulge(other, whole, cuts - 1);
        return bulges(other) && parts_bulge(one, whole, cuts - 1);
    };
    for (std::size_t i = 0; i < corners.size(); ++i) {
        for (std::size_t k = i + 1; k < corners.size(); ++k)
            if (good(corners[i], corners[k])) return true;
        for (std::size_t k = n / 8; k < n - n / 8; k += n / 60 + 1)
            if (corners.size() == 1 && good(corners[i], (corners[i] + k) % n)) return true;
    }
    return false;
}

} // namespace

bool lie_on_each_other(Ring const& outer) {
    Ring const ring = toothless(even_ring(outer), kTooth * glm::length(bounds(outer).size()));
    if (ring.size() < 40 || bulges(ring)) return false;
    return parts_bulge(ring, std::abs(signed_area(ring)), 2);
}

} // namespace leafwright
