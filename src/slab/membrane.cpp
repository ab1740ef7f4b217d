#include "slab/membrane.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leafwright {

namespace {

// f(e) = e^2 above -c, and a weaker parabola with the same value and slope below.
struct Capped {
    double value, first, second;
};

Capped capped_square(double e, double c, double eta) {
    if (e >= -c) return {e * e, 2 * e, 2};
    double const beyond = e + c;
    return {c * c - 2 * c * beyond + eta * beyond * beyond, -2 * c + 2 * eta * beyond, 2 * eta};
}

// W and its derivatives by a = ln s1 = -e2 and b = ln s2 = -e1.
struct Strain {
    double w, by_a, by_b, aa, ab, bb;
};

Strain strain_energy(DrapeLaw const& law, double a, double b) {
    double const e1 = -b, e2 = -a;
    Capped const y = capped_square(e2 + 0.5 * e1, law.delta, law.eta);
    Capped const m = capped_square(e1, law.delta * (2.0 / 3), law.eta);
    double const sum = e1 + e2, gap = e1 - e2, k = law.bulk, g = law.shear;
    double const first1 = 0.75 * m.first + 0.5 * y.first + 2 * k * sum + 2 * g * gap;
    double const first2 = y.first + 2 * k * sum - 2 * g * gap;
    return {0.75 * m.value + y.value + k * sum * sum + g * gap * gap,
            -first2,
            -first1,
            y.second + 2 * k + 2 * g,
            0.5 * y.second + 2 * k - 2 * g,
            0.75 * m.second + 0.25 * y.second + 2 * k + 2 * g};
}

struct Map { // laid -> flat, in the triangle's frame
    double xx, xy, yx, yy;
    double det() const { return xx * yy - xy * yx; }
};

Map map_of(RestTriangle const& t, std::span<Vec2 const> at) {
    Vec2 const origin = at[static_cast<std::size_t>(t.vertex[0])];
    Vec2 const p = at[static_cast<std::size_t>(t.vertex[1])] - origin;
    Vec2 const q = at[static_cast<std::size_t>(t.vertex[2])] - origin;
    return {p.x * t.b1x + q.x * t.b2x, p.x * t.b1y + q.x * t.b2y, p.y * t.b1x + q.y * t.b2x, p.y * t.b1y + q.y * t.b2y};
}

struct Parts { // the turning and the flipping half of the map
    double e, f, g, h, q, r;
    explicit Parts(Map const& m)
        : e(0.5 * (m.xx + m.yy)),
          f(0.5 * (m.xx - m.yy)),
          g(0.5 * (m.yx + m.xy)),
          h(0.5 * (m.yx - m.xy)),
          q(std::sqrt(e * e + h * h)),
          r(std::sqrt(f * f + g * g)) {}
};

Vec2 times(Vec2 const& a, Vec2 const& b) { return {a.x * b.x - a.y * b.y, a.x * b.y + a.y * b.x}; }

// Square root of a unit complex number, without loss near -1.
Vec2 half_angle(Vec2 const& z) {
    if (z.x >= 0) {
        double const c = std::sqrt(0.5 * (1 + z.x));
        return {c, z.y / (2 * c)};
    }
    double const s = std::sqrt(0.5 * (1 - z.x));
    return {z.y / (2 * s), s};
}

FlatStretch split(Map const& map) {
    Parts const m(map);
    Vec2 const turn = m.q > 0 ? Vec2(m.e, m.h) / m.q : Vec2(1, 0);
    Vec2 const flip = m.r > 1e-14 * m.q ? Vec2(m.f, m.g) / m.r : Vec2(1, 0);
    Vec2 const u = half_angle(times(turn, flip));
    return {m.q + m.r, m.q - m.r, u, times(u, {turn.x, -turn.y})};
}

// Second derivatives by the map in the frame (U, V): a stretching block, and the pair of the two off-diagonal terms.
struct Curvature {
    double h11, h12, h22, same, cross;
};

Curvature positive_part(double h11, double h12, double h22, double flip, double twist) {
    double const mean = 0.5 * (h11 + h22), half = 0.5 * (h11 - h22), root = std::sqrt(half * half + h12 * h12);
    double const low = mean - root;
    flip = std::max(0.0, flip);
    twist = std::max(0.0, twist);
    Curvature c{h11, h12, h22, 0.5 * (flip + twist), 0.5 * (flip - twist)};
    if (low >= 0) return c;
    double const high = std::max(0.0, mean + root);
    // Only the larger eigenvalue stays: high * (n n^T), n its direction.
    double const cos2 = root > 0 ? half / root : 1, sin2 = root > 0 ? h12 / root : 0;
    c.h11 = 0.5 * high * (1 + cos2);
    c.h22 = 0.5 * high * (1 - cos2);
    c.h12 = 0.5 * high * sin2;
    return c;
}

struct Density { // energy by laid area, and its derivatives by s1, s2
    double value, by1, by2, h11, h12, h22;
};

// By laid area. Flat area times W alone falls again once a triangle is drawn out beyond all measure: this keeps it up.
// Begins at a log strain no clay bears, so real slabs never feel it.
struct Guard {
    double value = 0, first = 0, second = 0; // by ln s
};

Guard guard(double log_s) {
    constexpr double kBegin = -0.7, kStiffness = 10;
    double const beyond = log_s - kBegin;
    if (beyond >= 0) return {};
    return {kStiffness * beyond * beyond, 2 * kStiffness * beyond, 2 * kStiffness};
}

double energy_density(DrapeLaw const& law, double s1, double s2) {
    double const a = std::log(s1), b = std::log(s2);
    return s1 * s2 * strain_energy(law, a, b).w + guard(a).value + guard(b).value;
}

Density density(DrapeLaw const& law, double s1, double s2) {
    double const a = std::log(s1), b = std::log(s2);
    Strain const w = strain_energy(law, a, b);
    Guard const g = guard(a), h = guard(b);
    double const ratio = s2 / s1;
    return {s1 * s2 * w.w + g.value + h.value,  s2 * (w.w + w.by_a) + g.first / s1,
            s1 * (w.w + w.by_b) + h.first / s2, ratio * (w.by_a + w.aa) + (g.second - g.first) / (s1 * s1),
            w.w + w.by_a + w.by_b + w.ab,       (w.by_b + w.bb) / ratio + (h.second - h.first) / (s2 * s2)};
}

Curvature curvature(Density const& d, double s1, double s2) {
    double const gap = s1 - s2;
    double const flip = gap > 1e-5 * s1 ? (d.by1 - d.by2) / gap : 0.5 * (d.h11 + d.h22) - d.h12;
    return positive_part(d.h11, d.h12, d.h22, flip, (d.by1 + d.by2) / (s1 + s2));
}

// An arc that turns by k is longer than its chord by k^2/24.
double square_between(DrapeMesh const& mesh, std::int32_t from, std::int32_t to, bool curved) {
    constexpr double kMostTurn2 = 2; // beyond, the mesh is too coarse to tell
    auto const a = static_cast<std::size_t>(from), b = static_cast<std::size_t>(to);
    Vec3 const chord = mesh.place[b] - mesh.place[a];
    double const square = glm::dot(chord, chord);
    if (!curved || mesh.normal.empty()) return square;
    double const turn = glm::dot(mesh.normal[b] - mesh.normal[a], chord);
    double const longer = 1 + std::min(turn * turn / square, kMostTurn2) / 24;
    return square * longer * longer;
}

} // namespace

Membrane::Membrane(DrapeMesh const& mesh, DrapeLaw const& law) : law_(law) {
    triangles_.reserve(mesh.triangles.size());
    for (DrapeTriangle const& t : mesh.triangles) {
        double const a2 = square_between(mesh, t[0], t[1], true), b2 = square_between(mesh, t[0], t[2], true);
        double const c2 = square_between(mesh, t[1], t[2], true);
        if (!add(t, a2, b2, c2))
            add(t, square_between(mesh, t[0], t[1], false), square_between(mesh, t[0], t[2], false),
                square_between(mesh, t[1], t[2], false));
    }
}

// The triangle of these squared edges, first to second, first to third, second to third corner; false when it is none.
bool Membrane::add(DrapeTriangle const& t, double a2, double b2, double c2) {
    double const px = std::sqrt(a2), qx = 0.5 * (a2 + b2 - c2) / px, qy2 = b2 - qx * qx;
    if (!(qy2 > 1e-8 * b2)) return false;
    double const qy = std::sqrt(qy2);
    triangles_.push_back({t, 0.5 * px * qy, 1 / px, -qx / (px * qy), 0, 1 / qy});
    area_mm2_ += triangles_.back().area;
    return true;
}

FlatStretch Membrane::stretch(RestTriangle const& t, std::span<Vec2 const> at) const { return split(map_of(t, at)); }

double Membrane::energy(std::span<Vec2 const> at) const {
    double sum = 0;
    for (RestTriangle const& t : triangles_) {
        Parts const m(map_of(t, at));
        double const s1 = m.q + m.r, s2 = m.q - m.r;
        if (!(s2 > 0)) return std::numeric_limits<double>::infinity();
        sum += t.area * energy_density(law_, s1, s2);
    }
    return sum;
}

bool Membrane::is_upright(std::span<Vec2 const> at) const {
    return std::all_of(triangles_.begin(), triangles_.end(),
                       [&](RestTriangle const& t) { return map_of(t, at).det() > 0; });
}

double Membrane::clear_step(std::span<Vec2 const> at, std::span<Vec2 const> way) const {
    double least = 1;
    for (RestTriangle const& t : triangles_) {
        Map const m = map_of(t, at), d = map_of(t, way);
        double const a = d.det(), b = m.xx * d.yy + d.xx * m.yy - m.xy * d.yx - d.xy * m.yx, c = m.det();
        // First root in (0, least) of a s^2 + b s + c with c > 0, in the form that loses no digits.
        double const inside = b * b - 4 * a * c;
        if (inside < 0) continue;
        double const root = std::sqrt(inside), low = b <= 0 ? 2 * c / (-b + root) : (a < 0 ? (-b - root) / (2 * a) : 2);
        if (low > 0 && low < least) least = low;
    }
    return least;
}

void Membrane::local(RestTriangle const& t, std::span<Vec2 const> at, Local& out) const {
    FlatStretch const s = split(map_of(t, at));
    Density const d = density(law_, s.s1, s.s2);
    Curvature const c = curvature(d, s.s1, s.s2);
    // The corners' gradients, read along V.
    double b[3][2];
    b[1][0] = t.b1x * s.v.x + t.b1y * s.v.y, b[1][1] = -t.b1x * s.v.y + t.b1y * s.v.x;
    b[2][0] = t.b2x * s.v.x + t.b2y * s.v.y, b[2][1] = -t.b2x * s.v.y + t.b2y * s.v.x;
    b[0][0] = -b[1][0] - b[2][0], b[0][1] = -b[1][1] - b[2][1];
    double const area = t.area, ux = s.u.x, uy = s.u.y;
    out.energy = area * d.value;
    double* h = out.hessian;
    for (int i = 0; i < 3; ++i) {
        double const g1 = area * d.by1 * b[i][0], g2 = area * d.by2 * b[i][1];
        out.gradient[2 * i] = ux * g1 - uy * g2;
        out.gradient[2 * i + 1] = uy * g1 + ux * g2;
        double* const row_x = h + i * (2 * i + 1);
        double* const row_y = row_x + 2 * i + 1;
        for (int j = 0; j <= i; ++j) {
            double const p = b[i][0] * b[j][0], q = b[i][1] * b[j][1], pq = b[i][0] * b[j][1], qp = b[i][1] * b[j][0];
            double const k11 = area * (c.h11 * p + c.same * q), k22 = area * (c.h22 * q + c.same * p);
            double const k12 = area * (c.h12 * pq + c.cross * qp), k21 = area * (c.h12 * qp + c.cross * pq);
            // Turned back by U.
            double const a11 = ux * k11 - uy * k21, a12 = ux * k12 - uy * k22;
            double const a21 = uy * k11 + ux * k21, a22 = uy * k12 + ux * k22;
            row_x[2 * j] = a11 * ux - a12 * uy;
            row_y[2 * j] = a21 * ux - a22 * uy;
            row_y[2 * j + 1] = a21 * uy + a22 * ux;
            if (j < i) row_x[2 * j + 1] = a11 * uy + a12 * ux;
        }
    }
}

} // namespace leafwright
