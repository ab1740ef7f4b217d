// Plane maps of four points (direct linear transform), and what four corners tell of the sheet.
#include "leaf/trace_work.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kUnknowns = 8;
using Rows = std::array<std::array<double, kUnknowns + 1>, kUnknowns>;

// Gauss with row exchange.
std::optional<std::array<double, kUnknowns>> solved(Rows& rows) {
    for (std::size_t k = 0; k < kUnknowns; ++k) {
        std::size_t best = k;
        for (std::size_t r = k + 1; r < kUnknowns; ++r)
            if (std::abs(rows[r][k]) > std::abs(rows[best][k])) best = r;
        std::swap(rows[k], rows[best]);
        if (std::abs(rows[k][k]) < 1e-12) return std::nullopt;
        for (std::size_t r = 0; r < kUnknowns; ++r) {
            if (r == k) continue;
            double const f = rows[r][k] / rows[k][k];
            for (std::size_t c = k; c <= kUnknowns; ++c) rows[r][c] -= f * rows[k][c];
        }
    }
    std::array<double, kUnknowns> x{};
    for (std::size_t k = 0; k < kUnknowns; ++k) x[k] = rows[k][kUnknowns] / rows[k][k];
    return x;
}

struct Axes {
    double ratio = 1;
    double skew = 0; // cosine of the angle between the sheet's sides, seen at this focal length
    double tilt_deg = 0;
};

// map: the unit square to pixels about the picture's middle.
Axes axes_at(Map9 const& map, double focal_px) {
    Vec3 const a{map[0] / focal_px, map[3] / focal_px, map[6]};
    Vec3 const b{map[1] / focal_px, map[4] / focal_px, map[7]};
    double const la = glm::length(a);
    double const lb = glm::length(b);
    Vec3 const n = glm::cross(a, b);
    return {la / lb, glm::dot(a, b) / (la * lb), degrees(std::acos(std::min(1.0, std::abs(n.z) / glm::length(n))))};
}

} // namespace

Vec2 mapped(Map9 const& m, Vec2 const& p) {
    double const w = m[6] * p.x + m[7] * p.y + m[8];
    return {(m[0] * p.x + m[1] * p.y + m[2]) / w, (m[3] * p.x + m[4] * p.y + m[5]) / w};
}

std::optional<Map9> map_of(std::array<Vec2, 4> const& from, std::array<Vec2, 4> const& to) {
    Rows rows{};
    for (std::size_t i = 0; i < 4; ++i) {
        Vec2 const p = from[i];
        Vec2 const q = to[i];
        rows[2 * i] = {p.x, p.y, 1, 0, 0, 0, -q.x * p.x, -q.x * p.y, q.x};
        rows[2 * i + 1] = {0, 0, 0, p.x, p.y, 1, -q.y * p.x, -q.y * p.y, q.y};
    }
    auto const x = solved(rows);
    if (!x) return std::nullopt;
    return Map9{(*x)[0], (*x)[1], (*x)[2], (*x)[3], (*x)[4], (*x)[5], (*x)[6], (*x)[7], 1};
}

std::optional<Map9> inverse_of(Map9 const& m) {
    Map9 a{m[4] * m[8] - m[5] * m[7], m[2] * m[7] - m[1] * m[8], m[1] * m[5] - m[2] * m[4],
           m[5] * m[6] - m[3] * m[8], m[0] * m[8] - m[2] * m[6], m[2] * m[3] - m[0] * m[5],
           m[3] * m[7] - m[4] * m[6], m[1] * m[6] - m[0] * m[7], m[0] * m[4] - m[1] * m[3]};
    double const det = m[0] * a[0] + m[1] * a[3] + m[2] * a[6];
    if (!(std::abs(det) > 1e-300) || !(std::abs(a[8]) > 1e-300)) return std::nullopt;
    double const last = a[8];
    for (double& v : a) v /= last;
    return a;
}

SheetView sheet_view(std::array<Vec2, 4> const& corners, double width_px, double height_px) {
    std::array<Vec2, 4> about = corners;
    for (Vec2& p : about) p -= Vec2{0.5 * width_px, 0.5 * height_px};
    auto const map = map_of({Vec2{0, 0}, Vec2{1, 0}, Vec2{1, 1}, Vec2{0, 1}}, about);
    if (!map) return {};
    double const longest = std::max(width_px, height_px);
    // The focal length at which the sheet's corners are square; a usual one (a telephone's) where any would do.
    Axes best;
    double least = 1e300;
    for (int k = 0; k <= 40; ++k) {
        double const focal = longest * 0.45 * std::pow(8.0, k / 40.0);
        Axes const axes = axes_at(*map, focal);
        double const unusual = std::log(focal / (0.85 * longest));
        double const cost = axes.skew * axes.skew / (0.01 * 0.01) + 0.5 * unusual * unusual;
        if (cost < least) {
            least = cost;
            best = axes;
        }
    }
    return {best.ratio, best.tilt_deg};
}

} // namespace leafwright
