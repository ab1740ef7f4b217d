#include "leaf/outline_ends.h"

#include "base/units.h"
#include "leaf/ring_thinning.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr std::size_t kSamples = 240;
constexpr int kEveryPoint = 4;     // of them: an image is sought for
constexpr double kNarrow = 0.06;   // of the length: as thin as a stalk
constexpr double kShortest = 0.07; // of the length: a shorter one is a tip

std::vector<Vec2> evenly(Ring const& ring, std::size_t count) {
    double const step = perimeter(ring) / static_cast<double>(count);
    std::vector<Vec2> points;
    double next = 0;
    double walked = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const a = ring[i];
        Vec2 const b = ring[(i + 1) % ring.size()];
        double const side = glm::length(b - a);
        for (; next < walked + side && points.size() < count; next += step)
            points.push_back(a + (next - walked) / side * (b - a));
        walked += side;
    }
    return points;
}

// In the frame of an axis: y along it, from the lowest point.
std::vector<Vec2> in_frame(std::span<Vec2 const> points, Vec2 const& up, Vec2 const& about) {
    std::vector<Vec2> turned;
    for (Vec2 const& p : points) turned.emplace_back(cross(p - about, up), glm::dot(p - about, up));
    return turned;
}

double mirror_misfit(std::vector<Vec2> const& points) {
    double sum = 0;
    for (std::size_t i = 0; i < points.size(); i += kEveryPoint) {
        Vec2 const image{-points[i].x, points[i].y};
        double least = 1e300;
        for (Vec2 const& p : points) least = std::min(least, glm::dot(p - image, p - image));
        sum += std::sqrt(least);
    }
    return kEveryPoint * sum / static_cast<double>(points.size());
}

Vec2 best_axis(std::span<Vec2 const> points, Vec2 const& middle) {
    double reach = 0;
    for (Vec2 const& p : points) reach = std::max(reach, glm::length(p - middle));
    Vec2 best{0, 1};
    double least = 1e300;
    double turn = 0;
    auto const look = [&](double deg) {
        double const t = radians(90.0 + deg);
        Vec2 const up{std::cos(t), std::sin(t)};
        std::vector<Vec2> const turned = in_frame(points, up, middle);
        double const length = bounds(turned).size().y;
        double const worth = mirror_misfit(turned) - 0.06 * length;
        if (worth < least - 1e-9 * reach) least = worth, best = up, turn = deg;
    };
    // Upright is tried first, so that it wins a tie.
    for (int deg = 0; deg < 180; deg += 4) look(deg);
    double const about = turn;
    for (double const off : {-2.0, 2.0, -1.0, 1.0}) look(about + off);
    return best.y < 0 ? -best : best;
}

double width_at_height(std::vector<Vec2> const& ring, double y) {
    double low = 1e300;
    double high = -1e300;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const& a = ring[i];
        Vec2 const& b = ring[(i + 1) % ring.size()];
        if ((a.y > y) == (b.y > y)) continue;
        double const x = a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y));
        low = std::min(low, x);
        high = std::max(high, x);
    }
    return high > low ? high - low : 0;
}

// Length of the stalk at the lower end; 0 when it is a tip.
double stalk_run(std::vector<Vec2> const& ring, double low, double length) {
    double run = 0;
    for (double t = 0.005; t < 0.6; t += 0.005) {
        if (width_at_height(ring, low + t * length) > kNarrow * length) break;
        run = t;
    }
    if (run < kShortest) return 0;
    double const near = width_at_height(ring, low + 0.3 * run * length);
    double const far = width_at_height(ring, low + 0.85 * run * length);
    return far < 1.9 * near ? run * length : 0;
}

// The lowest crossing of the axis itself; the lowest point beside it where it crosses nowhere.
Vec2 foot_on_axis(std::vector<Vec2> const& ring) {
    double low = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const& a = ring[i];
        Vec2 const& b = ring[(i + 1) % ring.size()];
        if ((a.x > 0) == (b.x > 0)) continue;
        low = std::min(low, a.y + (b.y - a.y) * (a.x / (a.x - b.x)));
    }
    if (low > 1e299) return *std::ranges::min_element(ring, {}, [](Vec2 const& p) { return p.y; });
    return {0, low};
}

// The very corner of a point, where one stands near that end.
Vec2 corner_near(std::vector<Vec2> const& ring, Vec2 const& foot, double reach) {
    Vec2 best = foot;
    for (Vec2 const& p : ring)
        if (std::abs(p.x) < reach && p.y < best.y) best = p;
    return best;
}

} // namespace

OutlineEnds ends_of(Ring const& outline) {
    if (outline.size() < 3) return {};
    std::vector<Vec2> const points = evenly(outline, kSamples);
    Vec2 const middle = centroid(outline);
    Vec2 up = best_axis(points, middle);
    std::vector<Vec2> ring = in_frame(outline, up, middle);
    Box2 const box = bounds(ring);
    double const length = box.size().y;
    double const below = stalk_run(ring, box.low.y, length);
    std::vector<Vec2> turned = ring;
    for (Vec2& p : turned) p = -p;
    double const above = stalk_run(turned, -box.high.y, length);
    bool const over = above > below; // the stalk is up there
    if (over) {
        ring = turned;
        up = -up;
    }
    std::vector<Vec2> other = ring;
    for (Vec2& p : other) p = -p;
    double const stalk = std::max(above, below);
    auto const lowest = *std::ranges::min_element(ring, {}, [](Vec2 const& p) { return p.y; });
    Vec2 const base = stalk > 0 ? lowest : corner_near(ring, foot_on_axis(ring), 0.03 * length);
    Vec2 const tip = -corner_near(other, foot_on_axis(other), 0.06 * length);
    auto const back = [&](Vec2 const& p) { return middle + p.y * up + p.x * Vec2{up.y, -up.x}; };
    return {back(base), back(tip), stalk};
}

} // namespace leafwright
