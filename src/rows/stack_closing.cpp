#include "rows/stack_closing.h"

#include <Eigen/Core>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace leafwright {

namespace {

using Index = std::ptrdiff_t;
constexpr int kBlock = 16; // cells worked at once: they stay in registers
using Block = Eigen::Array<float, kBlock, 1>;

enum class Pass { greatest, least };

// Envelope of `taps` shifted lines over kBlock neighbouring cells; the taps lie `step` apart.
template <Pass pass> void envelope(float const* in, Index step, float const* weight, Index taps, float* out) {
    using Line = Eigen::Map<Block const>;
    Block best = pass == Pass::greatest ? Block(Line(in) - weight[0]) : Block(Line(in) + weight[0]);
    for (Index k = 1; k < taps; ++k) {
        if constexpr (pass == Pass::greatest)
            best = best.max(Line(in + k * step) - weight[k]);
        else
            best = best.min(Line(in + k * step) + weight[k]);
    }
    Eigen::Map<Block>{out} = best;
}

Index rounded_up(Index n) { return (n + kBlock - 1) / kBlock * kBlock; }

struct Layout {
    Index columns, rows, reach, stride;
    Index taps() const { return 2 * reach + 1; }
    Index wide() const { return columns + 2 * reach; } // columns of the plane where the paraboloid's apex may lie
};

// Ground with 2 reach empty columns on either side -> greatest along each row, over the wide columns.
void raise_along_rows(Layout const& at, ClosingScratch& s) {
    for (Index row = 0; row < at.rows; ++row)
        for (Index x = 0; x < at.wide(); x += kBlock)
            envelope<Pass::greatest>(&s.ground[static_cast<std::size_t>(row * at.stride + x)], 1, s.weights.data(),
                                     at.taps(), &s.along[static_cast<std::size_t>(row * at.stride + x)]);
}

// Apex row y lies reach rows lower than ground row y.
void raise_along_columns(Layout const& at, ClosingScratch& s) {
    for (Index y = 0; y < at.rows + 2 * at.reach; ++y) {
        Index const first = std::max<Index>(0, 2 * at.reach - y);
        Index const end = std::min(at.taps(), at.rows + 2 * at.reach - y);
        for (Index x = 0; x < at.wide(); x += kBlock)
            envelope<Pass::greatest>(&s.along[static_cast<std::size_t>((y + first - 2 * at.reach) * at.stride + x)],
                                     at.stride, &s.weights[static_cast<std::size_t>(first)], end - first,
                                     &s.raised[static_cast<std::size_t>(y * at.stride + x)]);
    }
}

void lower_along_columns(Layout const& at, ClosingScratch& s) {
    for (Index row = 0; row < at.rows; ++row)
        for (Index x = 0; x < at.wide(); x += kBlock)
            envelope<Pass::least>(&s.raised[static_cast<std::size_t>(row * at.stride + x)], at.stride, s.weights.data(),
                                  at.taps(), &s.along[static_cast<std::size_t>(row * at.stride + x)]);
}

void lower_along_rows(Layout const& at, ClosingScratch& s) {
    for (Index row = 0; row < at.rows; ++row)
        for (Index x = 0; x < at.columns; x += kBlock)
            envelope<Pass::least>(&s.along[static_cast<std::size_t>(row * at.stride + x)], 1, s.weights.data(),
                                  at.taps(), &s.lowered[static_cast<std::size_t>(row * at.stride + x)]);
}

Layout prepare(std::span<float const> ground, Index columns, Index rows, Index reach, ClosingScratch& s) {
    Layout const at{columns, rows, reach, rounded_up(columns + 2 * reach) + 2 * reach};
    std::size_t const cells = static_cast<std::size_t>(at.stride * rows);
    s.ground.assign(cells, kNoGround_mm);
    for (Index row = 0; row < rows; ++row)
        std::copy_n(&ground[static_cast<std::size_t>(row * columns)], columns,
                    &s.ground[static_cast<std::size_t>(row * at.stride + 2 * reach)]);
    s.along.resize(cells);
    s.lowered.resize(cells);
    s.raised.resize(static_cast<std::size_t>(at.stride * (rows + 2 * reach)));
    return at;
}

} // namespace

int closing_reach(double range_mm, double bend_radius_mm, double cell_mm) {
    return static_cast<int>(std::ceil(std::sqrt(2.0 * bend_radius_mm * range_mm) / cell_mm));
}

void close_by_paraboloid(std::span<float const> ground, int columns, int rows, double cell_mm, double bend_radius_mm,
                         std::span<float> closed, ClosingScratch& s) {
    assert(ground.size() == static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows));
    assert(closed.size() == ground.size());
    float least = -kNoGround_mm;
    float most = kNoGround_mm;
    for (float const z : ground) {
        if (z > kNoGround_mm) least = std::min(least, z);
        most = std::max(most, z);
    }
    bool const flat = most <= least || bend_radius_mm <= 0;
    int const reach =
        flat ? 0 : closing_reach(static_cast<double>(most) - static_cast<double>(least), bend_radius_mm, cell_mm);
    s.weights.resize(static_cast<std::size_t>(2 * reach + 1));
    for (int k = -reach; k <= reach; ++k)
        s.weights[static_cast<std::size_t>(k + reach)] =
            flat ? 0.0F : static_cast<float>(k * k * cell_mm * cell_mm / (2.0 * bend_radius_mm));
    Layout const at = prepare(ground, columns, rows, reach, s);
    if (!flat) {
        raise_along_rows(at, s);
        raise_along_columns(at, s);
        lower_along_columns(at, s);
        lower_along_rows(at, s);
    }
    for (Index row = 0; row < rows; ++row)
        for (Index x = 0; x < columns; ++x) {
            std::size_t const i = static_cast<std::size_t>(row * columns + x);
            // Rounding of the four passes must not push the sheet into the ground.
            if (ground[i] > kNoGround_mm)
                closed[i] =
                    flat ? ground[i] : std::max(ground[i], s.lowered[static_cast<std::size_t>(row * at.stride + x)]);
        }
}

} // namespace leafwright
