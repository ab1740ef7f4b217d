#include "rows/stack_coverage.h"

#include <Eigen/Core>

#include <cassert>

namespace leafwright {

namespace {

// Signed area to the right of every edge, as differences along each row: the running sum is the covered share.
class AreaTable {
public:
    explicit AreaTable(CellBox const& box) : box_(box), step_(box.size()) {}

    void add_ring(std::span<Vec2 const> ring, double cell_mm, double sign) {
        Vec2 const corner{box_.left * cell_mm, box_.low * cell_mm};
        for (std::size_t i = 0; i < ring.size(); ++i)
            add_edge((ring[i] - corner) / cell_mm, (ring[(i + 1) % ring.size()] - corner) / cell_mm, sign);
    }

    std::vector<float> shares() const {
        std::vector<float> result(step_.size());
        for (int row = 0; row < box_.rows; ++row) {
            double sum = 0;
            std::size_t const start = static_cast<std::size_t>(row) * static_cast<std::size_t>(box_.columns);
            for (std::size_t i = start; i < start + static_cast<std::size_t>(box_.columns); ++i) {
                sum += step_[i];
                // What is left of a sum that should be 0 must not make a cell of the leaf.
                result[i] = sum < 1e-9 ? 0.0F : static_cast<float>(std::min(sum, 1.0));
            }
        }
        return result;
    }

private:
    void add_edge(Vec2 const& a, Vec2 const& b, double sign) {
        if (a.y == b.y) return;
        // Downward edges open the inside of a counter-clockwise ring.
        double const way = a.y < b.y ? -sign : sign;
        Vec2 const& low = a.y < b.y ? a : b;
        Vec2 const& high = a.y < b.y ? b : a;
        double const slope = (high.x - low.x) / (high.y - low.y);
        double const least = std::min(a.x, b.x);
        double const most = std::max(a.x, b.x);
        double x0 = low.x;
        for (int row = static_cast<int>(low.y); row < high.y; ++row) {
            double const y0 = std::max(low.y, static_cast<double>(row));
            double const y1 = std::min(high.y, row + 1.0);
            double const x1 = std::clamp(low.x + (y1 - low.y) * slope, least, most);
            add_piece(row, std::min(x0, x1), std::max(x0, x1), way * (y1 - y0));
            x0 = x1;
        }
    }

    // A piece of an edge within one row, from x0 to x1 >= x0, of signed height `rise`.
    void add_piece(int row, double x0, double x1, double rise) {
        int const first = static_cast<int>(x0);
        if (x1 <= first + 1.0) return add_in_cell(row, first, 0.5 * (x0 + x1) - first, rise);
        double const rise_per_cell = rise / (x1 - x0);
        for (int i = first; i < x1; ++i) {
            double const from = std::max(x0, static_cast<double>(i));
            double const to = std::min(x1, i + 1.0);
            add_in_cell(row, i, 0.5 * (from + to) - i, rise_per_cell * (to - from));
        }
    }

    void add_in_cell(int row, int column, double middle, double rise) {
        double* at = &step_[static_cast<std::size_t>(row) * static_cast<std::size_t>(box_.columns) +
                            static_cast<std::size_t>(column)];
        at[0] += rise * (1.0 - middle);
        at[1] += rise * middle;
    }

    CellBox box_;
    std::vector<double> step_;
};

} // namespace

Coverage cover(Polygon const& polygon, double cell_mm, int margin) {
    assert(margin >= 1 && cell_mm > 0);
    Coverage result{cells_of(bounds(polygon.outer), cell_mm, margin), {}};
    if (result.box.empty()) return result;
    auto const way = [](Ring const& ring) { return signed_area(ring) < 0 ? -1.0 : 1.0; };
    AreaTable table(result.box);
    table.add_ring(polygon.outer, cell_mm, way(polygon.outer));
    for (Ring const& hole : polygon.holes) table.add_ring(hole, cell_mm, -way(hole));
    result.share = table.shares();
    return result;
}

std::vector<float> tent_weights(double half_width_mm, double cell_mm) {
    int const reach = std::max(0, static_cast<int>(std::ceil(half_width_mm / cell_mm)) - 1);
    auto const height = [&](int k) { return 1.0 - std::abs(k) * cell_mm / half_width_mm; };
    double sum = 0;
    for (int k = -reach; k <= reach; ++k) sum += reach == 0 ? 1.0 : height(k);
    std::vector<float> weights;
    for (int k = -reach; k <= reach; ++k) weights.push_back(static_cast<float>((reach == 0 ? 1.0 : height(k)) / sum));
    return weights;
}

namespace {

using Index = std::ptrdiff_t;
constexpr int kBlock = 16; // cells worked at once: they stay in registers
using Block = Eigen::Array<float, kBlock, 1>;

// Weighted mean of `taps` lines that lie `step` apart, over `count` cells; lines and out are read and written up to the
// next full block.
void mean_of_lines(float const* in, Index step, float const* weights, Index taps, float* out, Index count) {
    for (Index x = 0; x < count; x += kBlock) {
        Block sum = Eigen::Map<Block const>(in + x) * weights[0];
        for (Index k = 1; k < taps; ++k) sum += Eigen::Map<Block const>(in + x + k * step) * weights[k];
        Eigen::Map<Block>{out + x} = sum;
    }
}

} // namespace

void blur(std::vector<float>& field, int columns, int rows, std::vector<float> const& weights,
          std::vector<float>& scratch) {
    Index const taps = std::ssize(weights);
    if (taps == 1) return;
    Index const reach = taps / 2;
    Index const stride = (columns + kBlock - 1) / kBlock * kBlock + 2 * reach;
    // Below the rows of means along y lie one row to read from, with its empty ends, and one to write to.
    scratch.assign(static_cast<std::size_t>(stride * (rows + 2)), 0.0F);
    float* const means = scratch.data();
    for (Index row = 0; row < rows; ++row)
        std::copy_n(&field[static_cast<std::size_t>(row * columns)], columns, means + row * stride);
    float* const padded = means + rows * stride;
    float* const out = padded + stride;
    for (Index row = 0; row < rows; ++row) {
        Index const first = std::max<Index>(0, reach - row);
        Index const end = std::min(taps, rows + reach - row);
        mean_of_lines(means + (row + first - reach) * stride, stride, &weights[static_cast<std::size_t>(first)],
                      end - first, padded + reach, columns);
        std::fill_n(padded + reach + columns, stride - reach - columns, 0.0F);
        mean_of_lines(padded, 1, weights.data(), taps, out, columns);
        std::copy_n(out, columns, &field[static_cast<std::size_t>(row * columns)]);
    }
}

double sum_of(std::span<float const> values) {
    constexpr std::size_t kLanes = 8; // summed apart, so that they can run side by side
    double lane[kLanes] = {};
    std::size_t i = 0;
    for (; i + kLanes <= values.size(); i += kLanes)
        for (std::size_t k = 0; k < kLanes; ++k) lane[k] += static_cast<double>(values[i + k]);
    for (; i < values.size(); ++i) lane[0] += static_cast<double>(values[i]);
    return ((lane[0] + lane[1]) + (lane[2] + lane[3])) + ((lane[4] + lane[5]) + (lane[6] + lane[7]));
}

} // namespace leafwright
