#include "cutting/solid_depth.h"

#include <algorithm>

namespace leafwright {

SolidShape::SolidShape(TurnedShape const& shape) {
    for (Ring const& ring : shape.parts) {
        Box2 const box = bounds(ring);
        Part part{static_cast<float>(box.low.x),          static_cast<float>(box.high.x),
                  static_cast<float>(box.low.y),          static_cast<float>(box.high.y),
                  static_cast<unsigned>(points_.size()),  0,
                  static_cast<unsigned>(normals_.size()), 0};
        for (std::size_t k = 0; k < ring.size(); k += 4) {
            Points four;
            for (std::size_t lane = 0; lane < 4; ++lane) {
                Vec2 const& p = ring[std::min(k + lane, ring.size() - 1)];
                four.x[lane] = static_cast<float>(p.x), four.y[lane] = static_cast<float>(p.y);
            }
            points_.push_back(four);
        }
        for (std::size_t k = 0; k < ring.size(); ++k) {
            Vec2 const edge = ring[(k + 1) % ring.size()] - ring[k];
            double const length = glm::length(edge);
            if (!(length > 0)) continue;
            Vec2 const n = Vec2(edge.y, -edge.x) / length;
            normals_.push_back(
                {static_cast<float>(n.x), static_cast<float>(n.y), static_cast<float>(glm::dot(n, ring[k]))});
        }
        part.end_point = static_cast<unsigned>(points_.size());
        part.end_normal = static_cast<unsigned>(normals_.size());
        parts_.push_back(part);
    }
    std::ranges::stable_sort(parts_, std::greater<>{},
                             [](Part const& p) { return (p.high_x - p.low_x) * (p.high_y - p.low_y); });
}

float SolidShape::way_out(SolidShape const& walls, Part const& wall, SolidShape const& solid, Part const& part, float x,
                          float y, float gap, float floor) {
    float out = 3e38F;
    for (unsigned k = wall.first_normal; k < wall.end_normal; ++k) {
        Normal const& n = walls.normals_[k];
        Four const nx = four(n.x), ny = four(n.y);
        Four nearest = four(3e38F);
        for (unsigned q = part.first_point; q < part.end_point; ++q)
            nearest = least(nearest, nx * solid.points_[q].x + ny * solid.points_[q].y);
        float const d = n.reach + gap - least_of(nearest) - n.x * x - n.y * y;
        if (d <= floor) return floor;
        out = out < d ? out : d;
    }
    return out;
}

float SolidShape::depth(SolidShape const& other, float x, float y, float gap) const {
    float deepest = 0;
    for (Part const& a : parts_)
        for (Part const& b : other.parts_) {
            if (a.low_x + x >= b.high_x + gap || b.low_x >= a.high_x + x + gap || a.low_y + y >= b.high_y + gap ||
                b.low_y >= a.high_y + y + gap)
                continue;
            float const d = way_out(other, b, *this, a, x, y, gap, deepest);
            if (d <= deepest) continue;
            float const e = way_out(*this, a, other, b, -x, -y, gap, deepest);
            deepest = std::max(deepest, std::min(d, e));
        }
    return deepest;
}

} // namespace leafwright
