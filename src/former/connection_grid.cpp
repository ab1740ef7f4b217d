#include "former/connection_grid.h"

#include <algorithm>
#include <cmath>
#include <oneapi/tbb/parallel_for.h>

namespace leafwright {

Vec3 position_at(MeridianTable const& table, Vec2 const& uv) {
    double const length = std::sqrt(uv.x * uv.x + uv.y * uv.y);
    MeridianPoint const p = table.at(std::atan2(uv.y, uv.x), length);
    Vec2 const out = length > 0 ? uv / length : Vec2(1, 0);
    return {p.rho * out.x, p.rho * out.y, p.z};
}

namespace {

using Quad = ConnectionGrid::Quad;
using Symbols = ConnectionGrid::Symbols;

constexpr double kMesh_mm = 2.5;
constexpr int kMostNodes = 420; // a side; larger pieces have a wider mesh
constexpr int kMargin = 2;      // nodes without a full difference
// Where the surface turns over the fillet, differences over the mesh would smear it over the last rows of leaves.
constexpr double kFineDifference_mm = 0.4;
constexpr double kLongestStep_mm = 10, kFilletStep_mm = 3.5;

// Five-point differences at a node of the positions, whose rows are `side` apart. Unit: one mesh.
struct Differences {
    Vec3 u, v, uu, uv, vv;
};

Differences differences(Vec3 const* x, std::ptrdiff_t side) {
    auto const first = [](Vec3 const* p, std::ptrdiff_t d) {
        return (8.0 * (p[d] - p[-d]) - (p[2 * d] - p[-2 * d])) / 12.0;
    };
    auto const second = [](Vec3 const* p, std::ptrdiff_t d) {
        return (16.0 * (p[d] + p[-d]) - 30.0 * p[0] - (p[2 * d] + p[-2 * d])) / 12.0;
    };
    Vec3 const mixed =
        (8.0 * (first(x + side, 1) - first(x - side, 1)) - (first(x + 2 * side, 1) - first(x - 2 * side, 1))) / 12.0;
    return {first(x, 1), first(x, side), second(x, 1), mixed, second(x, side)};
}

// Three-point differences over `mesh` round any place.
Differences fine_differences(MeridianTable const& table, Vec2 const& uv, double mesh) {
    Vec3 x[3][3];
    for (int j = 0; j < 3; ++j)
        for (int i = 0; i < 3; ++i) x[j][i] = position_at(table, uv + mesh * Vec2(i - 1, j - 1));
    return {0.5 * (x[1][2] - x[1][0]), 0.5 * (x[2][1] - x[0][1]), x[1][2] - 2.0 * x[1][1] + x[1][0],
            0.25 * (x[2][2] - x[2][0] - x[0][2] + x[0][0]), x[2][1] - 2.0 * x[1][1] + x[0][1]};
}

// How far a place is from the turn over the fillet, along the meridian; 0 upon it.
double distance_to_fillet(MeridianTable const& table, Vec2 const& uv) {
    double const azimuth = std::atan2(uv.y, uv.x), length = glm::length(uv);
    return std::max({0.0, table.rim_mm(azimuth) - length, length - table.board_from_mm(azimuth)});
}

Symbols symbols(Differences const& d, double mesh) {
    double const e = glm::dot(d.u, d.u), f = glm::dot(d.u, d.v), g = glm::dot(d.v, d.v);
    double const scale = 1 / ((e * g - f * f) * mesh);
    auto const solve = [&](Vec3 const& bend) {
        double const p = glm::dot(d.u, bend), q = glm::dot(d.v, bend);
        return Vec2(g * p - f * q, e * q - f * p) * scale;
    };
    Vec2 const uu = solve(d.uu), uv = solve(d.uv), vv = solve(d.vv);
    auto const quad = [](double a, double b, double c) {
        return Quad{static_cast<float>(a), static_cast<float>(b), static_cast<float>(c), 0};
    };
    return {quad(uu.x, 2 * uv.x, vv.x), quad(uu.y, 2 * uv.y, vv.y)};
}

// Coefficients of the quadratic spline from values, one line: local, exact for quadratics.
void to_spline(Symbols* line, int count, std::ptrdiff_t stride) {
    Symbols before = line[0];
    for (int i = 1; i + 1 < count; ++i) {
        Symbols& here = line[i * stride];
        Symbols const& after = line[(i + 1) * stride];
        Symbols const old = here;
        here.for_u = 1.25f * old.for_u - 0.125f * (before.for_u + after.for_u);
        here.for_v = 1.25f * old.for_v - 0.125f * (before.for_v + after.for_v);
        before = old;
    }
}

} // namespace

ConnectionGrid ConnectionGrid::build(MeridianTable const& table, double board_mm, bool coarse) {
    ConnectionGrid grid;
    double const reach = table.longest_mm() + board_mm;
    double const mesh = std::max(coarse ? 4 * kMesh_mm : kMesh_mm, 2 * reach / (kMostNodes - 2 * kMargin - 4));
    int const half = static_cast<int>(std::ceil(reach / mesh)) + kMargin + 2, side = 2 * half + 1;
    grid.side_ = side;
    grid.per_mm_ = 1 / mesh;
    grid.reach_mm_ = (half - kMargin - 1) * mesh;
    std::size_t const count = static_cast<std::size_t>(side) * static_cast<std::size_t>(side);
    std::vector<Vec3> position(count);
    grid.node_.assign(count, Symbols{Quad{0, 0, 0, 0}, Quad{0, 0, 0, 0}});
    auto const row = [&](int v) { return static_cast<std::ptrdiff_t>(v) * side; };
    oneapi::tbb::parallel_for(0, side, [&](int v) {
        for (int u = 0; u < side; ++u)
            position[static_cast<std::size_t>(row(v) + u)] = position_at(table, mesh * Vec2(u - half, v - half));
    });
    auto const symbols_at = [&](int u, int v) {
        Vec2 const uv = mesh * Vec2(u - half, v - half);
        double const distance = distance_to_fillet(table, uv);
        Symbols node = distance < 3 * mesh
                           ? symbols(fine_differences(table, uv, kFineDifference_mm), kFineDifference_mm)
                           : symbols(differences(&position[static_cast<std::size_t>(row(v) + u)], side), mesh);
        node.for_u[3] = static_cast<float>(std::clamp(distance, kFilletStep_mm, kLongestStep_mm));
        return node;
    };
    oneapi::tbb::parallel_for(kMargin, side - kMargin, [&](int v) {
        for (int u = kMargin; u < side - kMargin; ++u)
            grid.node_[static_cast<std::size_t>(row(v) + u)] = symbols_at(u, v);
        to_spline(&grid.node_[static_cast<std::size_t>(row(v) + kMargin)], side - 2 * kMargin, 1);
    });
    oneapi::tbb::parallel_for(kMargin, side - kMargin, [&](int u) {
        to_spline(&grid.node_[static_cast<std::size_t>(row(kMargin) + u)], side - 2 * kMargin, side);
    });
    return grid;
}

Symbols ConnectionGrid::read(Vec2 const& at) const {
    double const half = 0.5 * (side_ - 1), low = kMargin + 1, high = side_ - kMargin - 2;
    double const x = std::clamp(at.x * per_mm_ + half, low, high), y = std::clamp(at.y * per_mm_ + half, low, high);
    // Both are positive, and this is the fastest. NOLINTNEXTLINE(bugprone-incorrect-roundings)
    int const i = static_cast<int>(x + 0.5), j = static_cast<int>(y + 0.5);
    float const s = static_cast<float>(x - i), t = static_cast<float>(y - j);
    float const p[3] = {0.5f * (0.5f - s) * (0.5f - s), 0.75f - s * s, 0.5f * (0.5f + s) * (0.5f + s)};
    float const q[3] = {0.5f * (0.5f - t) * (0.5f - t), 0.75f - t * t, 0.5f * (0.5f + t) * (0.5f + t)};
    Symbols const* line =
        &node_[static_cast<std::size_t>(j - 1) * static_cast<std::size_t>(side_) + static_cast<std::size_t>(i - 1)];
    Symbols sum{Quad{0, 0, 0, 0}, Quad{0, 0, 0, 0}};
    for (int k = 0; k < 3; ++k, line += side_) {
        sum.for_u += q[k] * (p[0] * line[0].for_u + p[1] * line[1].for_u + p[2] * line[2].for_u);
        sum.for_v += q[k] * (p[0] * line[0].for_v + p[1] * line[1].for_v + p[2] * line[2].for_v);
    }
    return sum;
}

} // namespace leafwright
