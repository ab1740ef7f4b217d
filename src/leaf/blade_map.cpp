#include "leaf/blade_map.h"

#include <algorithm>

namespace leafwright {

namespace {

constexpr int kCells = 32;

} // namespace

BladeMap::BladeMap(Polygon const& outline) : outline_(outline), box_(bounds(outline.outer)), cells_(kCells * kCells) {
    cell_ = glm::max(box_.size() / static_cast<double>(kCells), Vec2{1e-9, 1e-9});
    auto const add = [&](Ring const& ring) {
        for (std::size_t i = 0; i < ring.size(); ++i) {
            Edge const edge{ring[i], ring[(i + 1) % ring.size()]};
            int const index = static_cast<int>(edges_.size());
            edges_.push_back(edge);
            for (int r = row(std::min(edge.a.y, edge.b.y)); r <= row(std::max(edge.a.y, edge.b.y)); ++r)
                for (int c = column(std::min(edge.a.x, edge.b.x)); c <= column(std::max(edge.a.x, edge.b.x)); ++c)
                    cells_[static_cast<std::size_t>(r * kCells + c)].push_back(index);
        }
    };
    add(outline_.outer);
    for (Ring const& hole : outline_.holes) add(hole);
}

int BladeMap::column(double x) const { return std::clamp(static_cast<int>((x - box_.low.x) / cell_.x), 0, kCells - 1); }

int BladeMap::row(double y) const { return std::clamp(static_cast<int>((y - box_.low.y) / cell_.y), 0, kCells - 1); }

bool BladeMap::clear(Vec2 const& a, Vec2 const& b) const {
    for (int r = row(std::min(a.y, b.y)); r <= row(std::max(a.y, b.y)); ++r)
        for (int c = column(std::min(a.x, b.x)); c <= column(std::max(a.x, b.x)); ++c)
            for (int const index : cells_[static_cast<std::size_t>(r * kCells + c)]) {
                Edge const& edge = edges_[static_cast<std::size_t>(index)];
                if (cross(b - a, edge.a - a) * cross(b - a, edge.b - a) <= 0 &&
                    cross(edge.b - edge.a, a - edge.a) * cross(edge.b - edge.a, b - edge.a) <= 0)
                    return false;
            }
    return true;
}

} // namespace leafwright
