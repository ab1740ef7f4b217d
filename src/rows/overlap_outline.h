// Inside the overlap engine, for no other room: one closed outline, made ready for crossing tests.
#pragma once

#include "base/polygon.h"

namespace leafwright::overlap {

// A box that is never smaller than what it holds, as (low x, low y, -high x, -high y), so that one comparison of four
// numbers tells whether two boxes touch.
using Float4 = float __attribute__((vector_size(16)));

struct alignas(16) CullBox {
    Float4 lows{3e38F, 3e38F, 3e38F, 3e38F};

    void add(Vec2 const& p);
    void add(CullBox const& other);
};

// The far sides of a box, in the order in which the lows of another are compared with them.
inline Float4 reach_of(CullBox const& box) { return -__builtin_shufflevector(box.lows, box.lows, 2, 3, 0, 1); }

inline bool touches(CullBox const& box, Float4 reach) {
    using Long2 = long long __attribute__((vector_size(16)));
    Long2 const within = reinterpret_cast<Long2>(box.lows <= reach);
    return (within[0] & within[1]) == -1;
}

// Consecutive edges are boxed together by so many.
inline constexpr int kBlockEdges = 8;

// All coordinates are multiples of 2^-32 mm (2.3e-10 mm), so that differences are exact in double and the sign of a
// cross product can be had exactly. Holes hang on the outer ring by a bridge there and back, which cancels itself in
// every sum; so any polygon is one closed walk with its inside on the left.
struct Outline {
    std::vector<Vec2> points;        // edge e runs from points[e] to points[e + 1]; the last is the first again
    std::vector<double> swept;       // [e]: area swept about `centre` by the edges before e
    std::vector<CullBox> edge_boxes; // filled up to whole blocks with empty boxes
    std::vector<CullBox> block_boxes;
    CullBox box;
    Vec2 centre{0, 0};

    int edges() const { return points.empty() ? 0 : static_cast<int>(points.size()) - 1; }
    double area_mm2() const { return points.empty() ? 0.0 : swept.back(); }
    // Area swept about `centre` going on along the walk, from a point of edge `from` to a point of edge `to`.
    double sweep(int from, Vec2 const& start, int to, Vec2 const& end) const;

    // Rings may run either way. Fewer than three points, or one that is no number or over 5 m off: an empty outline.
    void assign(Polygon const& polygon);
    void clear();
};

inline double Outline::sweep(int from, Vec2 const& start, int to, Vec2 const& end) const {
    Vec2 const a = start - centre;
    Vec2 const b = end - centre;
    if (from == to) return 0.5 * cross(a, b);
    auto const first = static_cast<std::size_t>(from) + 1;
    auto const last = static_cast<std::size_t>(to);
    return 0.5 * (cross(a, points[first] - centre) + cross(points[last] - centre, b)) + (swept[last] - swept[first]);
}

} // namespace leafwright::overlap
