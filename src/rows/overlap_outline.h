// Inside the overlap engine, for no other room: one closed outline, made ready for crossing tests.
#pragma once

#include "base/polygon.h"

namespace leafwright::overlap {

// Boxes that are never smaller than what they hold, as (low x, low y, -high x, -high y): they touch when each of these
// is at most the negative of the other's opposite one.
using Float4 = float __attribute__((vector_size(16)));

inline constexpr float kNowhere = 3e38F;

struct alignas(16) CullBox {
    Float4 lows{kNowhere, kNowhere, kNowhere, kNowhere};

    void add(CullBox const& other) { lows = lows < other.lows ? lows : other.lows; }
    void add(Vec2 const& p) {
        Float4 const at{static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(-p.x),
                        static_cast<float>(-p.y)};
        // Rounding to float may fall short by half a unit in the last place; this is more.
        Float4 const size = at < 0 ? -at : at;
        add(CullBox{at - size * 2.4e-7F});
    }
};

// The far sides of a box, in the order in which the lows of another are compared with them.
inline Float4 reach_of(CullBox const& box) { return -__builtin_shufflevector(box.lows, box.lows, 2, 3, 0, 1); }

inline bool touches(CullBox const& box, Float4 reach) {
    using Long2 = long long __attribute__((vector_size(16)));
    Long2 const within = reinterpret_cast<Long2>(box.lows <= reach);
    return (within[0] & within[1]) == -1;
}

// Four boxes, tested at once.
struct alignas(16) BoxGroup {
    Float4 lows[4]; // low x of the four, low y, -high x, -high y
};

struct alignas(16) WideReach {
    explicit WideReach(Float4 reach)
        : sides{__builtin_shufflevector(reach, reach, 0, 0, 0, 0), __builtin_shufflevector(reach, reach, 1, 1, 1, 1),
                __builtin_shufflevector(reach, reach, 2, 2, 2, 2), __builtin_shufflevector(reach, reach, 3, 3, 3, 3)} {}
    Float4 sides[4];
};

// Bit k: the k-th of the four touches.
inline unsigned touching(BoxGroup const& group, WideReach const& reach) {
    using Int4 = int __attribute__((vector_size(16)));
    using Long2 = long long __attribute__((vector_size(16)));
    Int4 const within = (group.lows[0] <= reach.sides[0]) & (group.lows[1] <= reach.sides[1]) &
                        (group.lows[2] <= reach.sides[2]) & (group.lows[3] <= reach.sides[3]);
    Long2 const bits = reinterpret_cast<Long2>(within & Int4{1, 2, 4, 8});
    auto const folded = static_cast<unsigned long long>(bits[0] | bits[1]);
    return static_cast<unsigned>(folded | (folded >> 32)) & 15U;
}

// Consecutive edges are boxed together by so many: two groups.
inline constexpr int kBlockEdges = 8;

inline unsigned touching_edges(BoxGroup const* groups, int block, WideReach const& reach) {
    BoxGroup const* const pair = groups + 2 * static_cast<std::ptrdiff_t>(block);
    return touching(pair[0], reach) | (touching(pair[1], reach) << 4);
}

// All coordinates are multiples of 2^-32 mm (2.3e-10 mm), so that differences are exact in double and the sign of a
// cross product can be had exactly. Holes hang on the outer ring by a bridge there and back, which cancels itself in
// every sum; so any polygon is one closed walk with its inside on the left.
struct Outline {
    std::vector<Vec2> points;  // edge e runs from points[e] to points[e + 1]; the last is the first again
    std::vector<double> swept; // [e]: area swept about `centre` by the edges before e
    std::vector<CullBox> block_boxes;
    std::vector<BoxGroup> edge_groups; // boxes of four edges each, filled up to whole blocks with empty ones
    std::vector<BoxGroup> block_groups;
    CullBox box;
    Vec2 centre{0, 0};

    int edges() const { return points.empty() ? 0 : static_cast<int>(points.size()) - 1; }
    CullBox edge_box(int edge) const {
        CullBox edge_box;
        edge_box.add(points[static_cast<std::size_t>(edge)]);
        edge_box.add(points[static_cast<std::size_t>(edge) + 1]);
        return edge_box;
    }
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
