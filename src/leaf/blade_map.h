// An outline prepared for many questions: is the way clear, how far is it to the edge.
#pragma once

#include "base/polygon.h"

namespace leafwright {

class BladeMap {
public:
    explicit BladeMap(Polygon const& outline);
    bool holds(Vec2 const& p) const { return contains(outline_, p); }
    // No edge is met on the straight way; so when one end lies inside, both do.
    bool clear(Vec2 const& a, Vec2 const& b) const;
    Box2 const& box() const { return box_; }
    Polygon const& outline() const { return outline_; }

private:
    struct Edge {
        Vec2 a;
        Vec2 b;
    };
    int column(double x) const;
    int row(double y) const;
    Polygon outline_;
    Box2 box_;
    Vec2 cell_{1, 1};
    std::vector<Edge> edges_;
    std::vector<std::vector<int>> cells_;
};

} // namespace leafwright
