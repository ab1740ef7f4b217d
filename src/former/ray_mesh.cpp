#include "former/ray_mesh.h"

#include "base/units.h"
#include "former/connection_grid.h"

#include <cmath>

namespace leafwright {

namespace {

constexpr int kAround = 96, kDown = 36, kSkirt = 4;

Vec2 uv_of(double azimuth, double length) { return length * Vec2(std::cos(azimuth), std::sin(azimuth)); }

struct Guess {
    Vec2 uv;
    double along;
};

// Newton for position(u, v) = from + along * direction; the derivatives by differences.
Guess refine(MeridianTable const& table, Vec3 const& from, Vec3 const& direction, Guess guess) {
    constexpr double kStep_mm = 0.05;
    for (int step = 0; step < 6; ++step) {
        Vec3 const here = position_at(table, guess.uv);
        Vec3 const by_u =
            (position_at(table, guess.uv + Vec2(kStep_mm, 0)) - position_at(table, guess.uv - Vec2(kStep_mm, 0))) /
            (2 * kStep_mm);
        Vec3 const by_v =
            (position_at(table, guess.uv + Vec2(0, kStep_mm)) - position_at(table, guess.uv - Vec2(0, kStep_mm))) /
            (2 * kStep_mm);
        Vec3 const miss = from + guess.along * direction - here, normal = glm::cross(by_u, by_v);
        double const facing = glm::dot(normal, direction);
        if (std::abs(facing) < 1e-6 * glm::length(direction)) return guess; // grazing: the net's answer stands
        double const on = -glm::dot(normal, miss) / facing;
        Vec3 const move = miss + on * direction;
        double const area = glm::dot(normal, normal);
        Vec2 const change(glm::dot(glm::cross(move, by_v), normal) / area,
                          glm::dot(glm::cross(by_u, move), normal) / area);
        if (glm::length(change) > 20) return guess;
        guess.uv += change;
        guess.along += on;
        if (glm::length(change) < 1e-9) break;
    }
    return guess;
}

} // namespace

RayMesh RayMesh::build(MeridianTable const& table) {
    auto const node = [&](int around, int down) {
        double const azimuth = kTwoPi * around / kAround, rim = table.rim_mm(azimuth);
        if (down <= kDown) return uv_of(azimuth, rim * down / kDown);
        return uv_of(azimuth, rim + (table.board_from_mm(azimuth) - rim) * (down - kDown) / kSkirt);
    };
    RayMesh mesh;
    auto const add = [&](Vec2 const& a, Vec2 const& b, Vec2 const& c) {
        Vec3 const corner = position_at(table, a);
        mesh.triangles_.push_back(
            {corner, position_at(table, b) - corner, position_at(table, c) - corner, a, b - a, c - a});
    };
    for (int i = 0; i < kAround; ++i)
        for (int k = 0; k < kDown + kSkirt; ++k) {
            Vec2 const a = node(i, k), b = node(i, k + 1), c = node(i + 1, k + 1), d = node(i + 1, k);
            add(a, b, c);
            if (k > 0) add(a, c, d);
        }
    return mesh;
}

std::optional<RayHit> RayMesh::hit(MeridianTable const& table, Vec3 const& from, Vec3 const& direction) const {
    double nearest = 1e300;
    Guess guess{};
    // Moeller and Trumbore's test (J. Graphics Tools 2 (1997) 21).
    for (Triangle const& t : triangles_) {
        Vec3 const p = glm::cross(direction, t.side_b);
        double const det = glm::dot(t.side_a, p);
        if (det == 0) continue;
        Vec3 const to = from - t.corner;
        double const a = glm::dot(to, p) / det;
        if (a < -1e-9 || a > 1 + 1e-9) continue;
        Vec3 const q = glm::cross(to, t.side_a);
        double const b = glm::dot(direction, q) / det;
        if (b < -1e-9 || a + b > 1 + 1e-9) continue;
        double const along = glm::dot(t.side_b, q) / det;
        if (along < 0 || along >= nearest) continue;
        nearest = along;
        guess = {t.uv + a * t.uv_a + b * t.uv_b, along};
    }
    std::optional<RayHit> found;
    if (nearest < 1e300) {
        guess = refine(table, from, direction, guess);
        found = RayHit{std::atan2(guess.uv.y, guess.uv.x), glm::length(guess.uv), guess.along};
    }
    if (direction.z == 0) return found;
    double const along = (table.board_z_mm() - from.z) / direction.z;
    if (along < 0 || (found && found->along <= along)) return found;
    Vec3 const on_board = from + along * direction;
    double const azimuth = std::atan2(on_board.y, on_board.x);
    double const beyond = std::hypot(on_board.x, on_board.y) - table.board_rho_mm(azimuth);
    if (beyond < 0) return found;
    return RayHit{azimuth, table.board_from_mm(azimuth) + beyond, along};
}

} // namespace leafwright
