#include "drying/column.h"

#include <cassert>
#include <cmath>
#include <numeric>

namespace leafwright {

namespace {

constexpr double kGamma = 1 - 0.70710678118654752440; // of the SDIRK scheme

// From the middle of the last cell to the outside: half a cell and the exchange, one after the other.
double in_series(double half_cell, double exchange) {
    return exchange >= kHeld ? half_cell : half_cell * exchange / (half_cell + exchange);
}

ColumnFace between(ColumnFace const& a, ColumnFace const& b, double t) {
    return {b.exchange, a.outside + t * (b.outside - a.outside), a.inflow + t * (b.inflow - a.inflow)};
}

double face_value(double u, double half_cell, ColumnFace const& face) {
    double const flow = in_series(half_cell, face.exchange) * (face.outside - u);
    return u + (flow + face.inflow) / half_cell;
}

} // namespace

Column::Column(int cells, double length, double cell_capacity, double cell_conductivity, double start)
    : dx_(length / cells) {
    assert(cells >= 2 && length > 0);
    auto const n = static_cast<std::size_t>(cells);
    capacity.assign(n, cell_capacity);
    conductivity.assign(n, cell_conductivity);
    u_.assign(n, start);
    for (auto* v : {&lower_, &diagonal_, &upper_, &scratch_, &first_, &second_}) v->assign(n, 0.0);
}

void Column::assemble(double weight, double left_exchange, double right_exchange) {
    std::size_t const n = u_.size();
    for (std::size_t i = 0; i < n; ++i) diagonal_[i] = capacity[i] * dx_;
    for (std::size_t i = 0; i + 1 < n; ++i) {
        double const link = 2 / dx_ / (1 / conductivity[i] + 1 / conductivity[i + 1]) * weight;
        upper_[i] = lower_[i + 1] = -link;
        diagonal_[i] += link;
        diagonal_[i + 1] += link;
    }
    diagonal_[0] += weight * in_series(2 * conductivity[0] / dx_, left_exchange);
    diagonal_[n - 1] += weight * in_series(2 * conductivity[n - 1] / dx_, right_exchange);
}

void Column::solve(std::vector<double>& rhs) {
    std::size_t const n = rhs.size();
    double pivot = diagonal_[0];
    rhs[0] /= pivot;
    for (std::size_t i = 1; i < n; ++i) {
        scratch_[i] = upper_[i - 1] / pivot;
        pivot = diagonal_[i] - lower_[i] * scratch_[i];
        rhs[i] = (rhs[i] - lower_[i] * rhs[i - 1]) / pivot;
    }
    for (std::size_t i = n - 1; i > 0; --i) rhs[i - 1] -= scratch_[i] * rhs[i];
}

void Column::step(double dt, ColumnFace const& left_before, ColumnFace const& left_after,
                  ColumnFace const& right_before, ColumnFace const& right_after) {
    std::size_t const n = u_.size();
    double const weight = kGamma * dt;
    assemble(weight, left_after.exchange, right_after.exchange);
    auto add_faces = [&](std::vector<double>& rhs, double t) {
        ColumnFace const left = between(left_before, left_after, t);
        ColumnFace const right = between(right_before, right_after, t);
        rhs[0] += weight * (in_series(2 * conductivity[0] / dx_, left.exchange) * left.outside + left.inflow);
        rhs[n - 1] +=
            weight * (in_series(2 * conductivity[n - 1] / dx_, right.exchange) * right.outside + right.inflow);
    };
    for (std::size_t i = 0; i < n; ++i) first_[i] = capacity[i] * dx_ * u_[i];
    add_faces(first_, kGamma);
    solve(first_);
    for (std::size_t i = 0; i < n; ++i)
        second_[i] = capacity[i] * dx_ * (u_[i] + (1 - kGamma) / kGamma * (first_[i] - u_[i]));
    add_faces(second_, 1);
    solve(second_);
    u_.swap(second_);
}

double Column::mean() const { return std::accumulate(u_.begin(), u_.end(), 0.0) / static_cast<double>(u_.size()); }

double Column::left_value(ColumnFace const& face) const {
    return face_value(u_.front(), 2 * conductivity.front() / dx_, face);
}

double Column::right_value(ColumnFace const& face) const {
    return face_value(u_.back(), 2 * conductivity.back() / dx_, face);
}

} // namespace leafwright
