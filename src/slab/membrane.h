// The energy of a sheet of clay laid from the flat over fixed triangles, with its gradient and a positive Hessian.
//
// Unknown: the flat place of every vertex. s1 >= s2: singular values of the map laid -> flat; stretches flat -> laid
// l1 = 1/s2 >= l2 = 1/s1; log strains e = ln l; thickness rolled * s1 s2. Energy = sum of flat areas times
//   W = 3/4 e1^2 + (e2 + e1/2)^2 + bulk (e1 + e2)^2 + shear (e1 - e2)^2
// (Hencky's strain energy of an incompressible sheet). Compression is capped: where y = e2 + e1/2 < -delta clay pleats,
// y^2 goes on as delta^2 - 2 delta (y + delta) + eta (y + delta)^2, and e1^2 likewise below -2/3 delta, so that W stays
// smooth and alike in both directions when both are pushed together.
#pragma once

#include "slab/drape_mesh.h"

#include <span>

namespace leafwright {

struct DrapeLaw {
    double delta = 0.05; // log strain at which clay begins to pleat; a default, no source
    double eta = 0.05;   // what is left of its stiffness then; keeps the solution unique
    double bulk = 0;     // large: the map of equal area; for checks
    double shear = 0;    // large: the conformal map; for checks
    bool operator==(DrapeLaw const&) const = default;
};

// Singular values and directions: map = U diag(s1, s2) V^T with U, V turns by the angles of `u` and `v` (unit vectors).
struct FlatStretch {
    double s1 = 1, s2 = 1; // s2 < 0: turned over
    Vec2 u{1, 0}, v{1, 0};
};

struct RestTriangle {
    DrapeTriangle vertex;
    double area = 0;
    // Gradients of the second and third corner's share in the triangle's own frame.
    double b1x = 0, b1y = 0, b2x = 0, b2y = 0;
};

class Membrane {
public:
    Membrane() = default;
    // A triangle's rest shape has the lengths of the curved surface along its edges (chord and the turn of the
    // normals), not of the chords: the outline's error falls to about a tenth.
    Membrane(DrapeMesh const& mesh, DrapeLaw const& law);

    std::span<RestTriangle const> triangles() const { return triangles_; }
    double area_mm2() const { return area_mm2_; }
    FlatStretch stretch(RestTriangle const& t, std::span<Vec2 const> at) const;

    // Infinite when a triangle is turned over.
    double energy(std::span<Vec2 const> at) const;
    bool is_upright(std::span<Vec2 const> at) const;
    // The largest step along `way`, at most 1, before which no triangle collapses.
    double clear_step(std::span<Vec2 const> at, std::span<Vec2 const> way) const;

    // Gradient by corner (x, y) and lower half of the 6 x 6 Hessian, eigenvalues raised to 0: rows by corner, x before
    // y, row after row (21 values).
    struct Local {
        double energy;
        double gradient[6];
        double hessian[21];
    };
    void local(RestTriangle const& t, std::span<Vec2 const> at, Local& out) const;

private:
    bool add(DrapeTriangle const& t, double a2, double b2, double c2);
    DrapeLaw law_;
    std::vector<RestTriangle> triangles_;
    double area_mm2_ = 0;
};

} // namespace leafwright
