#include "former/meridian_table.h"

#include "base/units.h"
#include "former/offset_meridian.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <oneapi/tbb/parallel_for.h>

namespace leafwright {

namespace {

constexpr int kSkirtCells = 24;

int columns_for(Outline const& outline) {
    double least = 1e300, most = 0;
    for (int i = 0; i < 360; ++i) {
        double const r = outline.radius(kTwoPi * i / 360).r;
        least = std::min(least, r);
        most = std::max(most, r);
    }
    return most < 2.5 * least ? 512 : (most < 5 * least ? 1024 : 2048);
}

double longest_meridian_guess(Former const& former) {
    Vec2 const size = former.outline().size_mm();
    return 0.5 * std::max(size.x, size.y) + former.spec().profile.crown_mm;
}

// The skirt's section from the rim: straight on, then round the fillet.
struct SkirtSection {
    double fall, straight, fillet;
    double length() const { return straight + fillet * fall; }
    double fall_at(double s) const { return s <= straight ? fall : std::max(0.0, fall - (s - straight) / fillet); }
    double out(double s) const {
        return std::min(s, straight) * std::cos(fall) + fillet * (std::sin(fall) - std::sin(fall_at(s)));
    }
    double down(double s) const {
        return std::min(s, straight) * std::sin(fall) + fillet * (std::cos(fall_at(s)) - std::cos(fall));
    }
};

} // namespace

MeridianTable MeridianTable::build(Former const& former, double offset_mm, double fillet_mm, bool coarse) {
    constexpr int kCoarser = 4; // both ways
    MeridianTable table;
    table.columns_ = columns_for(former.outline());
    table.cells_ = std::clamp(static_cast<int>(longest_meridian_guess(former)), 200, 400);
    if (coarse) table.columns_ /= kCoarser, table.cells_ /= kCoarser;
    std::size_t const wide = static_cast<std::size_t>(table.columns_) + 3;
    table.inside_.resize(wide * static_cast<std::size_t>(table.cells_ + 1));
    table.skirt_.resize(wide * (kSkirtCells + 1));
    table.edge_.resize(wide);
    OutlineTable const outline(former.outline(), 4 * table.columns_);
    oneapi::tbb::parallel_for(0, table.columns_,
                              [&](int column) { table.fill_column(former, offset_mm, column, outline, coarse); });
    table.fill_skirt(fillet_mm);
    table.wrap_round();
    for (int j = 0; j < table.columns_; ++j) {
        Edge const& edge = table.edge_[static_cast<std::size_t>(j) + 1];
        table.area_mm2_ += kTwoPi / table.columns_ * edge.rim_area;
        table.longest_mm_ = std::max(table.longest_mm_, edge.rim + edge.skirt);
    }
    return table;
}

void MeridianTable::fill_column(Former const& former, double offset_mm, int column, OutlineTable const& outline,
                                bool coarse) {
    std::vector<MeridianSample> const samples =
        offset_meridian(former, outline, kTwoPi * column / columns_, offset_mm, cells_, coarse);
    double const cell = samples.back().length / cells_;
    Node* node = &inside_[(static_cast<std::size_t>(column) + 1) * (static_cast<std::size_t>(cells_) + 1)];
    for (MeridianSample const& s : samples)
        *node++ = {s.rho,          s.z, s.area, cell * std::cos(s.fall), -cell * std::sin(s.fall), cell * s.density,
                   s.normal_round, 0};
    Edge& edge = edge_[static_cast<std::size_t>(column) + 1];
    edge.rim = samples.back().length;
    edge.rim_area = samples.back().area;
}

void MeridianTable::fill_skirt(double fillet) {
    std::size_t const n = static_cast<std::size_t>(columns_), stride = kSkirtCells + 1;
    auto const rim = [&](std::size_t j) -> Node const& {
        return inside_[(j + 2) * (static_cast<std::size_t>(cells_) + 1) - 1];
    };
    std::vector<SkirtSection> section(n);
    board_z_mm_ = 1e300;
    for (std::size_t j = 0; j < n; ++j) {
        double const fall = std::atan2(-rim(j).z_by_cell, rim(j).rho_by_cell);
        section[j] = {fall, 0, fillet};
        board_z_mm_ = std::min(board_z_mm_, rim(j).z - fillet * (1 - std::cos(fall)));
    }
    for (std::size_t j = 0; j < n; ++j) {
        double const level = rim(j).z - fillet * (1 - std::cos(section[j].fall));
        section[j].straight = (level - board_z_mm_) / std::max(std::sin(section[j].fall), 1e-3);
    }
    auto const place = [&](std::size_t j, std::size_t k) {
        double const s = section[j].length() * static_cast<double>(k) / kSkirtCells;
        return Vec2(rim(j).rho + section[j].out(s), rim(j).z - section[j].down(s));
    };
    for (std::size_t j = 0; j < n; ++j) {
        double const length = section[j].length(), cell = length / kSkirtCells;
        std::vector<double> at(stride), density(stride);
        Node* const nodes = &skirt_[(j + 1) * stride];
        for (std::size_t k = 0; k < stride; ++k) {
            // Round the piece, by the five-point difference of the neighbouring meridians.
            Vec2 const round = (8.0 * (place((j + 1) % n, k) - place((j + n - 1) % n, k)) -
                                (place((j + 2) % n, k) - place((j + n - 2) % n, k))) *
                               (static_cast<double>(n) / (12 * kTwoPi));
            at[k] = cell * static_cast<double>(k);
            double const fall = section[j].fall_at(at[k]);
            double const lift = round.x * std::sin(fall) + round.y * std::cos(fall);
            Vec2 const here = place(j, k);
            density[k] = std::hypot(here.x, lift);
            nodes[k] = {
                here.x, here.y, 0, cell * std::cos(fall), -cell * std::sin(fall), cell * density[k], -lift / density[k],
                0};
        }
        std::vector<double> const area = running_integral(at, density);
        Edge& edge = edge_[j + 1];
        for (std::size_t k = 0; k < stride; ++k) nodes[k].area = edge.rim_area + area[k];
        edge.skirt = length;
        edge.skirt_area = nodes[kSkirtCells].area;
        edge.board_rho = nodes[kSkirtCells].rho;
    }
}

// Copies the last meridian before the first, and the first two after the last.
void MeridianTable::wrap_round() {
    std::size_t const n = static_cast<std::size_t>(columns_);
    auto const copy = [&](std::vector<Node>& nodes, std::size_t stride, std::size_t from, std::size_t to) {
        std::copy_n(nodes.begin() + static_cast<std::ptrdiff_t>(from * stride), stride,
                    nodes.begin() + static_cast<std::ptrdiff_t>(to * stride));
    };
    std::array<std::array<std::size_t, 2>, 3> const spare{{{n, 0}, {1, n + 1}, {2, n + 2}}};
    for (auto const& [from, to] : spare) {
        copy(inside_, static_cast<std::size_t>(cells_) + 1, from, to);
        copy(skirt_, kSkirtCells + 1, from, to);
        edge_[to] = edge_[from];
    }
}

MeridianTable::Round MeridianTable::round(double azimuth_rad) const {
    double const turn = azimuth_rad * (1 / kTwoPi);
    double const at = (turn - std::floor(turn)) * columns_;
    int const j = std::min(static_cast<int>(at), columns_ - 1);
    double const t = at - j;
    return {j,
            {-t * (t - 1) * (t - 2) / 6, (t + 1) * (t - 1) * (t - 2) / 2, -(t + 1) * t * (t - 2) / 2,
             (t + 1) * t * (t - 1) / 6}};
}

MeridianTable::Edge MeridianTable::edge(Round const& round) const {
    Edge sum{0, 0, 0, 0, 0};
    for (int i = 0; i < 4; ++i) {
        Edge const& e = edge_[static_cast<std::size_t>(round.first) + static_cast<std::size_t>(i)];
        double const w = round.weight[i];
        sum.rim += w * e.rim;
        sum.skirt += w * e.skirt;
        sum.rim_area += w * e.rim_area;
        sum.skirt_area += w * e.skirt_area;
        sum.board_rho += w * e.board_rho;
    }
    return sum;
}

double MeridianTable::rim_mm(double azimuth_rad) const { return edge(round(azimuth_rad)).rim; }

double MeridianTable::board_from_mm(double azimuth_rad) const {
    Edge const e = edge(round(azimuth_rad));
    return e.rim + e.skirt;
}

double MeridianTable::board_rho_mm(double azimuth_rad) const { return edge(round(azimuth_rad)).board_rho; }

MeridianPoint MeridianTable::in_cells(Node const* nodes, int cells, Round const& round, double share,
                                      double cell_mm) const {
    int const k = std::clamp(static_cast<int>(share), 0, cells - 1);
    double const t = share - k, u = 1 - t;
    double const h00 = (1 + 2 * t) * u * u, h10 = t * u * u, h01 = t * t * (3 - 2 * t), h11 = -t * t * u;
    double const d00 = -6 * t * u, d10 = u * (1 - 3 * t), d11 = t * (3 * t - 2);
    double rho = 0, z = 0, area = 0, rho_d = 0, z_d = 0, area_d = 0, normal = 0;
    Node const* node = nodes + static_cast<std::ptrdiff_t>(round.first) * (cells + 1) + k;
    for (int i = 0; i < 4; ++i, node += cells + 1) {
        Node const &a = node[0], &b = node[1];
        double const w = round.weight[i];
        rho += w * (h00 * a.rho + h10 * a.rho_by_cell + h01 * b.rho + h11 * b.rho_by_cell);
        z += w * (h00 * a.z + h10 * a.z_by_cell + h01 * b.z + h11 * b.z_by_cell);
        area += w * (h00 * a.area + h10 * a.area_by_cell + h01 * b.area + h11 * b.area_by_cell);
        rho_d += w * (d00 * (a.rho - b.rho) + d10 * a.rho_by_cell + d11 * b.rho_by_cell);
        z_d += w * (d00 * (a.z - b.z) + d10 * a.z_by_cell + d11 * b.z_by_cell);
        area_d += w * (d00 * (a.area - b.area) + d10 * a.area_by_cell + d11 * b.area_by_cell);
        normal += w * (u * a.normal_round + t * b.normal_round);
    }
    double const speed = std::sqrt(rho_d * rho_d + z_d * z_d);
    return {rho, z, rho_d / speed, z_d / speed, normal, area, area_d / cell_mm};
}

MeridianPoint MeridianTable::at(double azimuth_rad, double length_mm) const {
    Round const around = round(azimuth_rad);
    Edge const e = edge(around);
    if (length_mm <= e.rim) {
        double const cell = e.rim / cells_;
        return in_cells(inside_.data(), cells_, around, std::max(0.0, length_mm) / cell, cell);
    }
    double const beyond = length_mm - e.rim;
    if (beyond <= e.skirt) {
        double const cell = e.skirt / kSkirtCells;
        return in_cells(skirt_.data(), kSkirtCells, around, beyond / cell, cell);
    }
    double const on_board = beyond - e.skirt, rho = e.board_rho + on_board;
    return {rho, board_z_mm_, 1, 0, 0, e.skirt_area + on_board * (e.board_rho + 0.5 * on_board), rho};
}

// Newton on sqrt(area), which is nearly straight, kept inside a shrinking bracket.
double MeridianTable::share_at_area(Node const* nodes, int cells, Round const& round, double area) const {
    double low = 0, high = cells;
    auto const read = [&](double share) { return in_cells(nodes, cells, round, share, 1); };
    double const first = read(0).area, last = read(cells).area;
    double const root = std::sqrt(area), root_first = std::sqrt(std::max(0.0, first));
    double share = cells * (root - root_first) / (std::sqrt(last) - root_first);
    for (int step = 0; step < 60; ++step) {
        share = std::clamp(share, low, high);
        MeridianPoint const p = read(share);
        (p.area < area ? low : high) = share;
        double const here = std::sqrt(std::max(p.area, 0.0));
        double next = p.density > 0 ? share + (root - here) * 2 * here / p.density : 0.5 * (low + high);
        if (!(next >= low && next <= high)) next = 0.5 * (low + high);
        double const moved = std::abs(next - share);
        share = next;
        if (moved < 1e-10 * cells) break;
    }
    return share;
}

double MeridianTable::length_at_area(double azimuth_rad, double area) const {
    if (area <= 0) return 0;
    Round const around = round(azimuth_rad);
    Edge const e = edge(around);
    if (area <= e.rim_area) return e.rim / cells_ * share_at_area(inside_.data(), cells_, around, area);
    if (area <= e.skirt_area)
        return e.rim + e.skirt / kSkirtCells * share_at_area(skirt_.data(), kSkirtCells, around, area);
    double const more = area - e.skirt_area;
    return e.rim + e.skirt + 2 * more / (e.board_rho + std::sqrt(e.board_rho * e.board_rho + 2 * more));
}

} // namespace leafwright
