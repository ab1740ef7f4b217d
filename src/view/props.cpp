#include "view/props.h"

#include "base/units.h"
#include "view/noise.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

MeshVertex plain_vertex(Vec3 const& p, Vec2 const& uv, double openness = 1) {
    MeshVertex vertex;
    vertex.position = floats(p);
    vertex.flat = floats(p);
    vertex.normal = packed({0, 0, 1}, openness);
    vertex.uv = {static_cast<float>(uv.x), static_cast<float>(uv.y)};
    return vertex;
}

// Grid of `across` by `down` vertices, closed in the first direction when `round`.
void add_grid(Mesh& mesh, std::uint32_t first, std::uint32_t across, std::uint32_t down, bool round) {
    std::uint32_t const columns = round ? across : across - 1;
    for (std::uint32_t j = 0; j + 1 < down; ++j)
        for (std::uint32_t i = 0; i < columns; ++i) {
            std::uint32_t const a = first + j * across + i, b = first + j * across + (i + 1) % across;
            for (std::uint32_t const v : {a, b, b + across, a, b + across, a + across}) mesh.indices.push_back(v);
        }
}

double volume_of(Mesh const& mesh) {
    double sum = 0;
    auto const at = [&](std::uint32_t i) {
        auto const& p = mesh.vertices[i].position;
        return Vec3{p[0], p[1], p[2]};
    };
    for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3)
        sum += glm::dot(at(mesh.indices[i]), glm::cross(at(mesh.indices[i + 1]), at(mesh.indices[i + 2]))) / 6;
    return sum;
}

double power(double x, double e) { return std::copysign(std::pow(std::abs(x), e), x); }

// A point of the loaf: a rounded block with hollows where the palms pressed.
Vec3 loaf_point(double round, double up) {
    constexpr double kBlunt = 0.72;
    double const c = power(std::cos(up), kBlunt);
    Vec3 p{1.30 * c * power(std::cos(round), kBlunt), 0.92 * c * power(std::sin(round), kBlunt),
           0.78 * power(std::sin(up), 0.8)};
    auto const bump = [&](double size, std::uint32_t seed) {
        auto const x = static_cast<float>((p.x + 0.6 * p.z) * size + 20),
                   y = static_cast<float>((p.y - 0.5 * p.z) * size + 20);
        return static_cast<double>(smooth_noise(x, y, seed)) - 0.5;
    };
    // A fold that the wedging left runs over the top.
    double const fold = std::exp(-std::pow((p.x * 0.35 - p.y + 0.12) / 0.07, 2)) * std::max(0.0, p.z);
    double const grown = 1 + 0.15 * bump(1.5, 61) + 0.07 * bump(3.6, 62) + 0.02 * bump(9, 63) - 0.06 * fold;
    p *= grown;
    p.z = std::max(p.z, -0.5) + 0.5; // it sits on its weight
    return p;
}

Vec3 unit_box_corner(int face, int k) {
    static constexpr int kCorners[6][4] = {{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4},
                                           {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}};
    int const c = kCorners[face][k];
    return {(c & 1) ? 1 : -1, (c & 2) ? 1 : -1, (c & 4) ? 1 : -1};
}

void add_box(Mesh& mesh, Vec3 const& centre, Vec3 const& half, double tone_shift) {
    for (int face = 0; face < 6; ++face) {
        auto const first = static_cast<std::uint32_t>(mesh.vertices.size());
        for (int k = 0; k < 4; ++k) {
            Vec3 const p = centre + half * unit_box_corner(face, k);
            mesh.vertices.push_back(plain_vertex(p, {(p.x + p.z) / 500 + tone_shift, p.y / 500}));
        }
        for (std::uint32_t const v : {0u, 1u, 2u, 0u, 2u, 3u}) mesh.indices.push_back(first + v);
    }
}

// Radius of the pin along its length, -1 to 1: body, shoulder, handle, knob.
double pin_radius(double t, double radius) {
    double const a = std::abs(t);
    if (a < 0.74) return radius;
    if (a < 0.76) return radius * (1 - 0.55 * (a - 0.74) / 0.02);
    double const handle = (a - 0.76) / 0.24;
    return radius * (0.36 + 0.12 * std::sin(kPi * std::min(1.0, handle * 1.15))) *
           std::sqrt(std::max(0.0, 1 - std::pow(handle, 12)));
}

void add_pin(Mesh& mesh, Vec3 const& centre, double half_length, double radius) {
    constexpr std::uint32_t kRound = 40, kLong = 96;
    auto const first = static_cast<std::uint32_t>(mesh.vertices.size());
    for (std::uint32_t j = 0; j <= kLong; ++j)
        for (std::uint32_t i = 0; i < kRound; ++i) {
            double const t = 2.0 * j / kLong - 1, angle = kTwoPi * i / kRound, r = pin_radius(t, radius);
            Vec3 const p = centre + Vec3{t * half_length, r * std::cos(angle), r * std::sin(angle)};
            mesh.vertices.push_back(plain_vertex(p, {angle * radius / 700 + 0.31, p.x / 500}));
        }
    add_grid(mesh, first, kRound, kLong + 1, true);
}

} // namespace

Mesh lump_mesh() {
    constexpr std::uint32_t kRound = 128, kUp = 64;
    Mesh mesh;
    for (std::uint32_t j = 0; j <= kUp; ++j)
        for (std::uint32_t i = 0; i < kRound; ++i) {
            Vec3 const p = loaf_point(kTwoPi * i / kRound, kPi * (static_cast<double>(j) / kUp - 0.5));
            mesh.vertices.push_back(plain_vertex(p, {p.x * 90, p.y * 90 + p.z * 60}));
        }
    add_grid(mesh, 0, kRound, kUp + 1, true);
    double const shrink = 1 / std::cbrt(volume_of(mesh));
    for (MeshVertex& vertex : mesh.vertices) {
        for (float& x : vertex.position) x *= static_cast<float>(shrink);
        double const rise = std::min(1.0, 0.35 + 3.0 * static_cast<double>(vertex.position[2]));
        vertex.normal = packed({0, 0, 1}, rise); // darker towards the board
        vertex.flat = vertex.position;
    }
    add_normals(mesh);
    return mesh;
}

Mesh rolling_mesh(Vec2 const& slab_half_mm, double thickness_mm) {
    constexpr double kGuideHalf_mm = 14, kGap_mm = 12, kPinRadius_mm = 27;
    Mesh mesh;
    double const x = slab_half_mm.x + kGap_mm + kGuideHalf_mm, half_y = slab_half_mm.y + 58;
    for (double const side : {-1.0, 1.0})
        add_box(mesh, {side * x, 0, thickness_mm / 2}, {kGuideHalf_mm, half_y, thickness_mm / 2}, 0.2 * side + 0.5);
    add_pin(mesh, {0, slab_half_mm.y + 36, thickness_mm + kPinRadius_mm}, (x + 32) / 0.74, kPinRadius_mm);
    add_normals(mesh);
    return mesh;
}

Mesh board_mesh(Vec2 const& half_mm, double thickness_mm) {
    constexpr std::uint32_t kPerCorner = 8;
    constexpr double kCorner_mm = 14;
    struct Level {
        double inset, z, open;
    };
    constexpr Level kLevels[] = {{2.5, 0, 1}, {0.7, -0.7, 1}, {0, -2.5, 1}};
    Mesh mesh;
    auto const uv_of = [&](Vec3 const& p) { return Vec2{p.x / (2 * half_mm.x) + 0.5, p.y / (2 * half_mm.y) + 0.5}; };
    auto const add_ring = [&](Level const& level) {
        for (std::uint32_t k = 0; k < 4 * (kPerCorner + 1); ++k) {
            std::uint32_t const corner = k / (kPerCorner + 1);
            double const angle = kPi / 2 * (corner + static_cast<double>(k % (kPerCorner + 1)) / kPerCorner);
            Vec2 const sign{corner == 0 || corner == 3 ? 1.0 : -1.0, corner < 2 ? 1.0 : -1.0};
            Vec2 const p =
                sign * (half_mm - kCorner_mm) + (kCorner_mm - level.inset) * Vec2{std::cos(angle), std::sin(angle)};
            Vec3 const q{p, level.z};
            mesh.vertices.push_back(plain_vertex(q, uv_of(q), level.open));
        }
    };
    constexpr std::uint32_t kRing = 4 * (kPerCorner + 1);
    for (Level const& level : kLevels) add_ring(level);
    add_ring({0, -thickness_mm, 0.5});
    for (std::uint32_t i = 2; i < kRing; ++i)
        for (std::uint32_t const v : {0u, i - 1, i}) mesh.indices.push_back(v);
    for (std::uint32_t j = 0; j < 3; ++j)
        for (std::uint32_t i = 0; i < kRing; ++i) {
            std::uint32_t const a = j * kRing + i, b = j * kRing + (i + 1) % kRing;
            for (std::uint32_t const v : {a, a + kRing, b + kRing, a, b + kRing, b}) mesh.indices.push_back(v);
        }
    add_normals(mesh);
    return mesh;
}

Mesh plane_mesh(double half_mm, double z_mm) {
    Mesh mesh;
    for (int k = 0; k < 4; ++k) {
        Vec3 const p{(k & 1) ? half_mm : -half_mm, (k & 2) ? half_mm : -half_mm, z_mm};
        mesh.vertices.push_back(plain_vertex(p, {p.x, p.y}));
    }
    mesh.indices = {0, 1, 3, 0, 3, 2};
    add_normals(mesh);
    return mesh;
}

} // namespace leafwright
