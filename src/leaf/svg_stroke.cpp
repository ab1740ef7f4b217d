#include "leaf/svg_stroke.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

Vec2 left_of(Vec2 const& v) { return {-v.y, v.x}; }

// Points of a circle about `at`, from at + from on, by that angle.
void add_arc(Ring& ring, Vec2 const& at, Vec2 const& from, double by, double tolerance) {
    double const share = std::clamp(1 - tolerance / std::max(glm::length(from), tolerance), -1.0, 1.0);
    double const step = 2 * std::max(0.01, std::acos(share));
    int const n = std::clamp(static_cast<int>(std::ceil(std::abs(by) / step)), 1, 400);
    for (int i = 0; i <= n; ++i)
        ring.push_back(at + std::cos(by * i / n) * from + std::sin(by * i / n) * left_of(from));
}

struct Pen {
    double half = 0.5;
    SvgStyle const& style;
    double tolerance;
    std::vector<Ring>& rings;

    void segment(Vec2 const& a, Vec2 const& b) const {
        Vec2 const side = half * left_of(glm::normalize(b - a));
        rings.push_back(counter_clockwise({a + side, a - side, b - side, b + side}));
    }
    // Between two segments with these directions: what the outer side lacks.
    void join(Vec2 const& at, Vec2 const& before, Vec2 const& after) const {
        double const bend = cross(before, after);
        double const along = glm::dot(before, after);
        if (std::abs(bend) < 1e-12 && along > 0) return;
        double const out = bend > 0 ? -half : half;
        Vec2 const p = at + out * left_of(before);
        Vec2 const q = at + out * left_of(after);
        Ring corner{at, p, q};
        // Miter length over width is 1 / sin(half the angle between the segments).
        double const sine = std::sqrt(std::max(0.0, 0.5 * (1 + along)));
        if (style.join == LineJoin::round) {
            corner = {at};
            add_arc(corner, at, p - at, std::atan2(bend, along), tolerance);
        } else if (style.join == LineJoin::miter && sine > 1e-9 && 1 / sine <= style.miter_limit) {
            Vec2 const way = glm::normalize(p + q - 2.0 * at);
            corner = {at, p, at + half / sine * way, q};
        }
        rings.push_back(counter_clockwise(std::move(corner)));
    }
    void cap(Vec2 const& at, Vec2 const& outward) const {
        if (style.cap == LineCap::square) segment(at, at + half * outward);
        if (style.cap != LineCap::round) return;
        Ring end;
        add_arc(end, at, -half * left_of(outward), kPi, tolerance);
        rings.push_back(counter_clockwise(std::move(end)));
    }
};

} // namespace

std::vector<Ring> stroke_rings(FlatPath const& path, double width, SvgStyle const& style, double tolerance) {
    std::vector<Ring> rings;
    if (!(width > 0) || path.points.empty()) return rings;
    Pen const pen{0.5 * width, style, tolerance, rings};
    std::vector<Vec2> line;
    for (Vec2 const& p : path.points)
        if (line.empty() || line.back() != p) line.push_back(p);
    if (path.closed && line.size() > 1 && line.front() == line.back()) line.pop_back();
    std::size_t const n = line.size();
    if (n < 2) { // a dot
        pen.cap(line[0], {1, 0});
        pen.cap(line[0], {-1, 0});
        return rings;
    }
    bool const round_about = path.closed && n > 2;
    std::size_t const segments = round_about ? n : n - 1;
    std::vector<Vec2> ways;
    for (std::size_t i = 0; i < segments; ++i) {
        ways.push_back(glm::normalize(line[(i + 1) % n] - line[i]));
        pen.segment(line[i], line[(i + 1) % n]);
        if (i > 0) pen.join(line[i], ways[i - 1], ways[i]);
    }
    if (round_about) {
        pen.join(line[0], ways.back(), ways.front());
    } else {
        pen.cap(line.front(), -ways.front());
        pen.cap(line.back(), ways.back());
    }
    return rings;
}

} // namespace leafwright
