#include "rows/overlap_crossing.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdint>

namespace leafwright::overlap {

namespace {

std::size_t index(int number) { return static_cast<std::size_t>(number); }

__extension__ using Int128 = __int128;

// Whether a point that stands on the line p, q exactly is to its left once the point is moved a little right, and less
// up.
bool left_after_shift(Vec2 const& p, Vec2 const& q) { return q.y != p.y ? q.y < p.y : q.x > p.x; }

Int128 units_of(double mm) { return static_cast<std::int64_t>(mm * 4294967296.0); }

// The cross product, in units of 2^-64 mm2: no rounding.
Int128 exact_cross(Vec2 const& a, Vec2 const& b) {
    return units_of(a.x) * units_of(b.y) - units_of(a.y) * units_of(b.x);
}

struct Side {
    double twice_area; // of the triangle
    double doubt;      // how far rounding may have led it astray
    bool left;
};

// Which side of p, q is r? `r_shifts`: r belongs to the outline that is thought moved; else p and q do.
inline Side side_of(Vec2 const& p, Vec2 const& q, Vec2 const& r, bool r_shifts) {
    Vec2 const along = q - p;
    Vec2 const to_point = r - p;
    double const left = along.x * to_point.y;
    double const right = along.y * to_point.x;
    double const twice = left - right;
    // Three roundings of at most 1.2e-16 each.
    double const doubt = 4e-16 * (std::abs(left) + std::abs(right));
    if (std::abs(twice) > doubt) return {twice, doubt, twice > 0};
    Int128 const exact = exact_cross(along, to_point);
    return {twice, doubt, exact != 0 ? exact > 0 : left_after_shift(p, q) == r_shifts};
}

// Share of the edge from `first` on one side of p, q to `last` on the other that lies before the line. Where three
// edges all but coincide, a crossing that is off by a little would change places with another on one of them only; so
// the share is right to 1e-13 always.
inline double share_before(Vec2 const& p, Vec2 const& q, Vec2 const& first, Side const& first_side, Vec2 const& last,
                           Side const& last_side) {
    double before = first_side.twice_area;
    double after = last_side.twice_area;
    if (first_side.doubt + last_side.doubt > 1e-13 * std::abs(before - after)) {
        before = static_cast<double>(exact_cross(q - p, first - p));
        after = static_cast<double>(exact_cross(q - p, last - p));
    }
    double const whole = before - after;
    return whole != 0 ? std::clamp(before / whole, 0.0, 1.0) : 0.5;
}

// Kept below 1, so that the whole part of a key is its edge.
inline double key_of(int edge, double share) { return edge + std::clamp(share, 0.0, 1.0 - 0x1p-32); }

inline void test_edges(Outline const& a, int ea, Outline const& b, int eb, std::vector<Crossing>& out) {
    Vec2 const* const pa = a.points.data() + ea;
    Vec2 const* const pb = b.points.data() + eb;
    Side const a0 = side_of(pb[0], pb[1], pa[0], false);
    Side const a1 = side_of(pb[0], pb[1], pa[1], false);
    if (a0.left == a1.left) return;
    if (side_of(pa[0], pa[1], pb[0], true).left == side_of(pa[0], pa[1], pb[1], true).left) return;
    double const share = share_before(pb[0], pb[1], pa[0], a0, pa[1], a1);
    Vec2 const at = pa[0] + share * (pa[1] - pa[0]);
    // Along b by projection: where the edges are nearly parallel the order stays that of the points.
    Vec2 const along_b = pb[1] - pb[0];
    double const share_b = glm::dot(at - pb[0], along_b) / glm::dot(along_b, along_b);
    out.push_back({key_of(ea, share), key_of(eb, share_b), at});
}

void test_blocks(Outline const& a, int block_a, Outline const& b, int block_b, std::vector<Crossing>& out) {
    WideReach const reach_b(reach_of(b.block_boxes[index(block_b)]));
    unsigned edges_a = touching_edges(a.edge_groups.data(), block_a, reach_b);
    for (; edges_a != 0; edges_a &= edges_a - 1) {
        int const ea = block_a * kBlockEdges + std::countr_zero(edges_a);
        WideReach const reach_a(reach_of(a.edge_box(ea)));
        unsigned edges_b = touching_edges(b.edge_groups.data(), block_b, reach_a);
        for (; edges_b != 0; edges_b &= edges_b - 1)
            test_edges(a, ea, b, block_b * kBlockEdges + std::countr_zero(edges_b), out);
    }
}

// Only blocks that reach into the other outline's box can cross it.
void find_crossings(Outline const& a, Outline const& b, std::vector<Crossing>& out) {
    WideReach const reach_b(reach_of(b.box));
    for (std::size_t ga = 0; ga < a.block_groups.size(); ++ga) {
        unsigned blocks_a = touching(a.block_groups[ga], reach_b);
        for (; blocks_a != 0; blocks_a &= blocks_a - 1) {
            int const block_a = static_cast<int>(4 * ga) + std::countr_zero(blocks_a);
            WideReach const reach_a(reach_of(a.block_boxes[index(block_a)]));
            for (std::size_t gb = 0; gb < b.block_groups.size(); ++gb) {
                unsigned blocks_b = touching(b.block_groups[gb], reach_a);
                for (; blocks_b != 0; blocks_b &= blocks_b - 1)
                    test_blocks(a, block_a, b, static_cast<int>(4 * gb) + std::countr_zero(blocks_b), out);
            }
        }
    }
}

// Does a ray from p to the right cross this edge?
inline bool ray_meets(Vec2 const& p, Vec2 const& c, Vec2 const& d, bool point_shifts) {
    bool const c_above = point_shifts ? c.y > p.y : c.y >= p.y;
    bool const d_above = point_shifts ? d.y > p.y : d.y >= p.y;
    return c_above != d_above && side_of(c, d, p, point_shifts).left == d_above;
}

// Even-odd rule with the same shift. `point_shifts`: the point belongs to b.
bool holds(Outline const& outline, Vec2 const& p, bool point_shifts) {
    CullBox ray;
    ray.add(p);
    ray.lows[2] = -3e38F;
    Float4 const reach = reach_of(ray);
    if (!touches(outline.box, reach)) return false;
    bool inside = false;
    WideReach const wide(reach);
    Vec2 const* const points = outline.points.data();
    for (std::size_t group = 0; group < outline.block_groups.size(); ++group) {
        unsigned blocks = touching(outline.block_groups[group], wide);
        for (; blocks != 0; blocks &= blocks - 1) {
            int const block = static_cast<int>(4 * group) + std::countr_zero(blocks);
            unsigned edges = touching_edges(outline.edge_groups.data(), block, wide);
            for (; edges != 0; edges &= edges - 1) {
                int const e = block * kBlockEdges + std::countr_zero(edges);
                if (ray_meets(p, points[e], points[e + 1], point_shifts)) inside = !inside;
            }
        }
    }
    return inside;
}

// What the walk sweeps about `origin` while inside the other outline.
template <double Crossing::*Key>
double swept_inside(Outline const& walk, std::vector<Crossing> const& crossings, bool inside, Vec2 const& origin) {
    Vec2 const lever = 0.5 * (walk.centre - origin);
    double sum = 0;
    int edge = 0;
    Vec2 from = walk.points.front();
    auto const go_to = [&](int to_edge, Vec2 const& to) {
        if (inside) sum += walk.sweep(edge, from, to_edge, to) + cross(lever, to - from);
        edge = to_edge;
        from = to;
    };
    for (Crossing const& c : crossings) {
        go_to(static_cast<int>(c.*Key), c.at);
        inside = !inside;
    }
    go_to(walk.edges(), walk.points.back());
    return sum;
}

// Ties by the point, so that the order never depends on how the crossings were found.
template <double Crossing::*Key> void sort_along(std::vector<Crossing>& crossings) {
    std::ranges::sort(crossings, [](Crossing const& l, Crossing const& r) {
        if (l.*Key != r.*Key) return l.*Key < r.*Key;
        return l.at.x != r.at.x ? l.at.x < r.at.x : l.at.y < r.at.y;
    });
}

} // namespace

void find_shared(Outline const& a, Outline const& b, Shared& out) {
    out.along_a.clear();
    out.along_b.clear();
    out.area_mm2 = 0;
    find_crossings(a, b, out.along_a);
    out.a_starts_in_b = holds(b, a.points.front(), false);
    out.b_starts_in_a = holds(a, b.points.front(), true);
    if (out.nothing()) return;
    out.along_b = out.along_a;
    sort_along<&Crossing::key_a>(out.along_a);
    sort_along<&Crossing::key_b>(out.along_b);
    out.area_mm2 = swept_inside<&Crossing::key_a>(a, out.along_a, out.a_starts_in_b, a.centre) +
                   swept_inside<&Crossing::key_b>(b, out.along_b, out.b_starts_in_a, a.centre);
}

} // namespace leafwright::overlap
