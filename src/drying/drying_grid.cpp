#include "drying/drying_grid.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kLeastClay_mm = 0.3;

// What a block of map cells adds up to.
struct Block {
    double clay_mm = 0; // sums over the cells
    double open = 0;
    double slab_mm = 0;
    double xx = 0, xy = 0, yy = 0;
    int cells = 0;
};

Block block_of(ClayMap const& clay, int column, int row, int block) {
    FaceMap const& face = *clay.face;
    Block sum;
    for (int y = row * block; y < std::min((row + 1) * block, face.rows); ++y)
        for (int x = column * block; x < std::min((column + 1) * block, face.columns); ++x) {
            std::size_t const i = face.index(x, y);
            if (!(clay.open[i] > 0)) continue;
            sum.clay_mm += static_cast<double>(clay.clay_mm(i));
            sum.slab_mm += static_cast<double>(clay.slab_mm[i]);
            sum.open += static_cast<double>(clay.open[i]);
            sum.xx += static_cast<double>(face.along_xx[i]);
            sum.xy += static_cast<double>(face.along_xy[i]);
            sum.yy += static_cast<double>(face.along_yy[i]);
            ++sum.cells;
        }
    return sum;
}

struct Tensor {
    float xx = 1, xy = 0, yy = 1;
};

// Links from the thinner to the thicker: two half cells one after the other.
float joined(float a, float b) { return a > 0 && b > 0 ? 2 * a * b / (a + b) : 0.0F; }

void set_links(DryingGrid& grid, std::vector<Tensor> const& tensor, double conductance, double cell_mm2) {
    auto const c = static_cast<float>(conductance);
    auto const per_area = static_cast<float>(1 / cell_mm2);
    std::size_t const s = grid.stride;
    auto link = [&](std::size_t i, std::size_t j, auto weight) {
        float const thick = joined(grid.thick_mm[i], grid.thick_mm[j]);
        float const wide = std::min(grid.open_mm2[i], grid.open_mm2[j]) * per_area; // cells that the rim cuts
        return thick > 0 ? c * thick * wide * 0.5F * (weight(tensor[i]) + weight(tensor[j])) : 0.0F;
    };
    auto slant = [](Tensor const& t) { return std::clamp(t.xy, -std::min(t.xx, t.yy), std::min(t.xx, t.yy)); };
    for (int row = 1; row + 1 < grid.rows; ++row)
        for (int column = 1; column + 1 < grid.columns; ++column) {
            std::size_t const i = grid.index(column, row);
            grid.east[i] = link(i, i + 1, [&](Tensor const& t) { return t.xx - std::abs(slant(t)); });
            grid.north[i] = link(i, i + s, [&](Tensor const& t) { return t.yy - std::abs(slant(t)); });
            grid.north_east[i] = link(i, i + s + 1, [&](Tensor const& t) { return std::max(0.0F, slant(t)); });
            grid.north_west[i] = link(i, i + s - 1, [&](Tensor const& t) { return std::max(0.0F, -slant(t)); });
        }
}

// Sums in eight lanes: fast, and the same on every machine. term(i) may also do the row's work.
template <class Term> double lane_sum(std::size_t from, std::size_t to, Term term) {
    float lanes[8] = {};
    std::size_t i = from;
    for (; i + 8 <= to; i += 8)
        for (std::size_t k = 0; k < 8; ++k) lanes[k] += term(i + k);
    for (std::size_t k = 0; i < to; ++i, ++k) lanes[k] += term(i);
    double total = 0;
    for (float lane : lanes) total += static_cast<double>(lane);
    return total;
}

template <class Work> void each_row(DryingGrid const& grid, Work work) {
    for (int row = 1; row + 1 < grid.rows; ++row) {
        auto const r = static_cast<std::size_t>(row);
        if (grid.first[r] < grid.last[r]) work(grid.index(grid.first[r], row), grid.index(grid.last[r], row));
    }
}

// One row of q = A p. The pointers do not overlap, so that the compiler may work on four cells at once.
void multiply_row(std::size_t count, std::size_t s, float const* __restrict e, float const* __restrict n,
                  float const* __restrict ne, float const* __restrict nw, float const* __restrict d,
                  float const* __restrict v, float* __restrict out) {
    float const *const below = v - s, *const above = v + s;
    float const *const n_below = n - s, *const ne_below = ne - s - 1, *const nw_below = nw - s + 1;
    auto const end = static_cast<std::ptrdiff_t>(count);
    for (std::ptrdiff_t i = 0; i < end; ++i) // signed: the first cell looks back at what lies before the row
        out[i] = d[i] * v[i] - e[i] * v[i + 1] - e[i - 1] * v[i - 1] - n[i] * above[i] - n_below[i] * below[i] -
                 ne[i] * above[i + 1] - ne_below[i] * below[i - 1] - nw[i] * above[i - 1] - nw_below[i] * below[i + 1];
}

// x += alpha p, r -= alpha q; gives r z with z = r/diagonal.
double advance_row(std::size_t count, float alpha, float const* __restrict p, float const* __restrict q,
                   float const* __restrict inverse, float* __restrict x, float* __restrict r) {
    for (std::size_t i = 0; i < count; ++i) {
        x[i] += alpha * p[i];
        r[i] -= alpha * q[i];
    }
    return lane_sum(0, count, [=](std::size_t i) { return r[i] * r[i] * inverse[i]; });
}

void turn_row(std::size_t count, float beta, float const* __restrict r, float const* __restrict inverse,
              float* __restrict p) {
    for (std::size_t i = 0; i < count; ++i) p[i] = r[i] * inverse[i] + beta * p[i];
}

} // namespace

Sorption::Sorption() {
    auto const at = [](int i) {
        return std::exp(-(static_cast<double>(kLow) + i / static_cast<double>(kPerWater)) / kSorptionWater);
    };
    for (int i = 0; i <= kLast; ++i) {
        value_.push_back(static_cast<float>(at(i)));
        slope_.push_back(static_cast<float>((at(i + 1) - at(i)) * static_cast<double>(kPerWater)));
    }
}

double DryingGrid::links_of(std::size_t i) const {
    std::size_t const s = stride;
    return static_cast<double>(east[i] + east[i - 1] + north[i] + north[i - s] + north_east[i] + north_east[i - s - 1] +
                               north_west[i] + north_west[i - s + 1]);
}

DryingGrid drying_grid(ClayMap const& clay, double dry_g_cm3, double diffusivity_mm2_h, int block) {
    FaceMap const& face = *clay.face;
    DryingGrid grid;
    grid.columns = (face.columns + block - 1) / block + 2;
    grid.rows = (face.rows + block - 1) / block + 2;
    grid.stride = static_cast<std::size_t>(grid.columns);
    std::size_t const n = grid.stride * static_cast<std::size_t>(grid.rows);
    for (auto* v :
         {&grid.dry_g, &grid.open_mm2, &grid.thick_mm, &grid.east, &grid.north, &grid.north_east, &grid.north_west})
        v->assign(n, 0.0F);
    grid.free.assign(n, 0);
    grid.first.assign(static_cast<std::size_t>(grid.rows), grid.columns);
    grid.last.assign(static_cast<std::size_t>(grid.rows), 0);
    std::vector<Tensor> tensor(n);
    double const area = face.cell_mm * face.cell_mm;
    double const rho = dry_g_cm3 * 1e-3; // g/mm3
    for (int row = 1; row + 1 < grid.rows; ++row)
        for (int column = 1; column + 1 < grid.columns; ++column) {
            Block const sum = block_of(clay, column - 1, row - 1, block);
            if (sum.cells == 0 || sum.clay_mm < kLeastClay_mm * sum.open) continue;
            std::size_t const i = grid.index(column, row);
            grid.dry_g[i] = static_cast<float>(rho * area * sum.clay_mm);
            grid.open_mm2[i] = static_cast<float>(area * sum.open);
            grid.thick_mm[i] = static_cast<float>(sum.clay_mm / sum.open);
            grid.free[i] = sum.slab_mm < 0.1 * sum.clay_mm;
            tensor[i] = {static_cast<float>(sum.xx / sum.cells), static_cast<float>(sum.xy / sum.cells),
                         static_cast<float>(sum.yy / sum.cells)};
            auto const r = static_cast<std::size_t>(row);
            grid.first[r] = std::min(grid.first[r], column);
            grid.last[r] = std::max(grid.last[r], column + 1);
            grid.dry_total_g += static_cast<double>(grid.dry_g[i]);
            grid.open_total_mm2 += static_cast<double>(grid.open_mm2[i]);
        }
    for (std::size_t r = 0; r < grid.first.size(); ++r) // a row of clay starts where it starts, else nowhere
        if (grid.first[r] >= grid.last[r]) grid.first[r] = grid.last[r] = 1;
    set_links(grid, tensor, rho * diffusivity_mm2_h, area * block * block);
    return grid;
}

DryingStepper::DryingStepper(DryingGrid const& grid, double diffusivity_mm2_h, double dry_g_cm3, double start_water)
    : grid_(&grid), resistance_(1 / (3 * dry_g_cm3 * 1e-3 * diffusivity_mm2_h)) {
    std::size_t const n = grid.size();
    x_.assign(n, 0.0);
    for (std::size_t i = 0; i < n; ++i)
        if (grid.dry_g[i] > 0) x_[i] = start_water;
    old_ = before_ = x_;
    s_.assign(x_.begin(), x_.end());
    for (auto* v : {&flux_, &slope_, &links_, &residual_, &delta_, &p_, &q_, &inverse_}) v->assign(n, 0.0F);
    diagonal_.assign(n, 1.0F);
    each_row(grid, [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i) links_[i] = static_cast<float>(grid.links_of(i));
    });
}

void DryingStepper::set_water(std::vector<double> const& water) {
    assert(water.size() == x_.size());
    x_ = old_ = before_ = water;
    s_.assign(x_.begin(), x_.end());
    last_hours_ = 0;
}

double DryingStepper::faces_of(std::size_t i, DryingAir const& air) const { return grid_->free[i] ? 2.0 : air.faces; }

// The surface that goes with X: (X - s)/r = k (1 - E(s) - RH), by a step of Newton from the last surface; then the
// flux of the cell, g/h, and how it grows with X.
void DryingStepper::set_flux(DryingAir const& air) {
    auto const k = static_cast<float>(air.exchange_g_mm2h);
    auto const dryness = static_cast<float>(1 - air.humidity);
    auto const per_face = static_cast<float>(resistance_);
    each_row(*grid_, [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i) {
            if (!(grid_->dry_g[i] > 0)) continue;
            auto const faces = static_cast<float>(faces_of(i, air));
            float const rk = per_face * grid_->thick_mm[i] / faces * k;
            auto const x = static_cast<float>(x_[i]);
            float s = std::min(s_[i], x + rk * (1 - dryness));
            float e = 0;
            float slope = 0;
            sorption_.read(s, e, slope);
            s -= (s - x + rk * (dryness - e)) / (1 - rk * slope);
            sorption_.read(s, e, slope);
            s_[i] = s;
            float const open = grid_->open_mm2[i] * faces * k;
            flux_[i] = open * (dryness - e);
            slope_[i] = -open * slope / (1 - rk * slope);
        }
    });
}

void DryingStepper::assemble(double hours, DryingAir const& air) {
    set_flux(air);
    auto const per_hour = static_cast<float>(1 / hours);
    each_row(*grid_, [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i) {
            float const mass = grid_->dry_g[i] * per_hour;
            double const flow = grid_->outflow(x_.data(), i);
            residual_[i] = -static_cast<float>(static_cast<double>(mass) * (x_[i] - old_[i]) + flow +
                                               static_cast<double>(flux_[i]));
            diagonal_[i] = mass > 0 ? mass + links_[i] + slope_[i] : 1.0F;
            inverse_[i] = 1 / diagonal_[i];
        }
    });
}

// q = A p; gives p q.
double DryingStepper::multiply() {
    DryingGrid const& g = *grid_;
    double total = 0;
    each_row(g, [&](std::size_t i, std::size_t to) {
        multiply_row(to - i, g.stride, &g.east[i], &g.north[i], &g.north_east[i], &g.north_west[i], &diagonal_[i],
                     &p_[i], &q_[i]);
        float const *const p = &p_[i], *const q = &q_[i];
        total += lane_sum(0, to - i, [=](std::size_t k) { return p[k] * q[k]; });
    });
    return total;
}

// Conjugate gradients with the diagonal as preconditioner: delta from residual, which it uses up.
void DryingStepper::solve() {
    constexpr double kDrop = 1e-2;
    constexpr int kMostRounds = 200;
    DryingGrid const& g = *grid_;
    double rz = 0;
    each_row(g, [&](std::size_t from, std::size_t to) {
        float *const x = delta_.data(), *const p = p_.data();
        float const *const r = residual_.data(), *const inverse = inverse_.data();
        rz += lane_sum(from, to, [=](std::size_t i) {
            x[i] = 0;
            p[i] = r[i] * inverse[i];
            return r[i] * p[i];
        });
    });
    double const enough = kDrop * kDrop * rz;
    for (int round = 0; round < kMostRounds && rz > enough && rz > 0; ++round) {
        auto const alpha = static_cast<float>(rz / multiply());
        double next = 0;
        each_row(g, [&](std::size_t i, std::size_t to) {
            next += advance_row(to - i, alpha, &p_[i], &q_[i], &inverse_[i], &delta_[i], &residual_[i]);
        });
        auto const beta = static_cast<float>(next / rz);
        rz = next;
        each_row(g,
                 [&](std::size_t i, std::size_t to) { turn_row(to - i, beta, &residual_[i], &inverse_[i], &p_[i]); });
    }
}

double DryingStepper::step(double hours, DryingAir const& air) {
    constexpr float kClose = 2e-4F; // what is left of it after a round is a hundredth
    constexpr int kMostRounds = 6;
    DryingGrid const& g = *grid_;
    old_.swap(x_);
    // Start from where the last step points to.
    double const ahead = last_hours_ > 0 ? hours / last_hours_ : 0;
    for (std::size_t i = 0; i < x_.size(); ++i) x_[i] = old_[i] + ahead * (old_[i] - before_[i]);
    for (int round = 0; round < kMostRounds; ++round) {
        assemble(hours, air);
        solve();
        float most = 0;
        each_row(g, [&](std::size_t from, std::size_t to) {
            for (std::size_t i = from; i < to; ++i) {
                x_[i] += static_cast<double>(delta_[i]);
                most = std::max(most, std::abs(delta_[i]));
            }
        });
        if (most < kClose) break;
    }
    last_hours_ = hours;
    return close_balance(hours);
}

// The flux of the last round is taken as what left. The equations hold to a millionth, and what they miss over the
// whole piece is laid evenly on it, so that no water is lost or made.
double DryingStepper::close_balance(double hours) {
    DryingGrid const& g = *grid_;
    double left = 0;
    double gained = 0;
    each_row(g, [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i) {
            left += static_cast<double>(flux_[i] + slope_[i] * delta_[i]);
            gained += static_cast<double>(g.dry_g[i]) * (x_[i] - old_[i]);
        }
    });
    left *= hours;
    double const shift = (gained + left) / g.dry_total_g;
    each_row(g, [&](std::size_t from, std::size_t to) {
        for (std::size_t i = from; i < to; ++i)
            if (g.dry_g[i] > 0) x_[i] -= shift;
    });
    before_ = old_;
    return left;
}

double DryingStepper::water_g() const {
    double sum = 0;
    for (std::size_t i = 0; i < x_.size(); ++i) sum += static_cast<double>(grid_->dry_g[i]) * x_[i];
    return sum;
}

} // namespace leafwright
