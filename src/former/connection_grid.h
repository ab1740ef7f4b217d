// The connection (Christoffel symbols) of the surface on a regular grid, for geodesics.
//
// Coordinates (u, v) = length along the meridian times (cos azimuth, sin azimuth), mm: near the identity at the crown,
// with unit speed along every meridian. The symbols come from the positions at the nodes by five-point differences and
// are read between the nodes by a quadratic spline, 32 bytes a node.
#pragma once

#include "former/meridian_table.h"

#include <algorithm>

namespace leafwright {

struct GeodesicState {
    Vec2 at;       // (u, v)
    Vec2 velocity; // by the length along the geodesic
};

Vec3 position_at(MeridianTable const& table, Vec2 const& uv);

class ConnectionGrid {
public:
    // Same answer on any number of threads. Cost: about 30 ms.
    static ConnectionGrid build(MeridianTable const& table, double board_mm, bool coarse = false);

    bool contains(Vec2 const& at) const { return std::abs(at.x) < reach_mm_ && std::abs(at.y) < reach_mm_; }

    // Four floats serve one component: coefficients of p p, p q, q q. The fourth of u is the step that integrates well
    // from here, mm: short towards the fillet.
    typedef float Quad __attribute__((vector_size(16)));
    struct Symbols {
        Quad for_u, for_v;
    };
    // Outside the grid: as at its edge.
    Symbols read(Vec2 const& at) const;
    // Second derivative of a geodesic with this velocity.
    static Vec2 bend(Symbols const& s, Vec2 const& velocity) {
        double const pp = velocity.x * velocity.x, pq = velocity.x * velocity.y, qq = velocity.y * velocity.y;
        return {-(double(s.for_u[0]) * pp + double(s.for_u[1]) * pq + double(s.for_u[2]) * qq),
                -(double(s.for_v[0]) * pp + double(s.for_v[1]) * pq + double(s.for_v[2]) * qq)};
    }
    static double step_mm(Symbols const& s) { return std::max(3.0, double(s.for_u[3])); }
    double mesh_mm() const { return 1 / per_mm_; }

private:
    int side_ = 0; // nodes a side
    double per_mm_ = 0, reach_mm_ = 0;
    std::vector<Symbols> node_; // spline coefficients, row by row of v
};

} // namespace leafwright
