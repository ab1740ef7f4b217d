#include "rows/row_adjust.h"

#include "base/units.h"
#include "rows/lay_field.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kOnAxis_mm = 0.5;
constexpr double kBreak = 2.2; // of the usual step between neighbours: more is a break in the row

// A leaf as it stands in its row.
struct InRow {
    LeafPlacement leaf;
    std::size_t order = 0; // in the row's laying order
    double share = 0;      // of the way round, from straight down, counter-clockwise
    double depth_mm = 0;   // of its middle
    double lean_rad = 0;   // its turn against straight out of the row
};

Spot middle_of(LeafPlacement const& leaf) { return {radians(leaf.azimuth_deg), leaf.from_crown_mm}; }

InRow in_row(RowField const& field, LeafPlacement const& leaf, std::size_t order) {
    Spot const spot = middle_of(leaf);
    InRow made{leaf, order, 0, field.depth_mm(spot), radians(leaf.turn_deg) - field.outward_turn(spot)};
    RowLine const line = field.line(made.depth_mm);
    made.share = line.along_at(spot.azimuth_rad) / line.run_mm();
    return made;
}

LeafPlacement placed(RowField const& field, InRow const& at) {
    LeafPlacement leaf = at.leaf;
    RowLine const line = field.line(at.depth_mm);
    double const azimuth = line.azimuth_at(at.share * line.run_mm());
    Spot const spot{azimuth, field.from_crown_mm(azimuth, at.depth_mm)};
    double const whole = std::remainder(degrees(azimuth), 360.0);
    leaf.azimuth_deg = whole < 0 ? whole + 360.0 : whole;
    leaf.from_crown_mm = spot.from_crown_mm;
    leaf.turn_deg = std::remainder(degrees(at.lean_rad + field.outward_turn(spot)), 360.0);
    return leaf;
}

std::vector<LeafPlacement> leaves_of_row(std::span<LeafPlacement const> leaves, int row) {
    std::vector<LeafPlacement> found;
    for (LeafPlacement const& leaf : leaves)
        if (leaf.row == row) found.push_back(leaf);
    return found;
}

double mixed(double a, double b, double share) { return a + share * (b - a); }

// The place at `t` on the way from leaf to leaf, counted in leaves.
InRow between(std::vector<InRow> const& arc, double t, bool closed) {
    auto const n = arc.size();
    double const floor = std::floor(t);
    auto const wrapped = [&](double k) {
        auto const whole = static_cast<double>(n);
        return static_cast<std::size_t>(closed ? k - whole * std::floor(k / whole) : std::clamp(k, 0.0, whole - 1));
    };
    InRow const& a = arc[wrapped(floor)];
    InRow const& b = arc[wrapped(floor + 1)];
    double const step = b.share - a.share;
    double const f = t - floor;
    InRow made = f < 0.5 ? a : b; // kind, size, which side up
    made.share = a.share + f * (closed ? step - std::floor(step) : step);
    if (closed && n == 1) made.share = a.share;
    made.depth_mm = mixed(a.depth_mm, b.depth_mm, f);
    return made;
}

// Neighbours round the row until a break; one closed arc when there is none.
std::vector<std::vector<InRow>> arcs_of(std::vector<InRow> const& row, bool& closed) {
    std::vector<double> steps;
    for (std::size_t k = 0; k < row.size(); ++k) {
        double const step = row[(k + 1) % row.size()].share - row[k].share;
        steps.push_back(step - std::floor(step));
    }
    std::vector<double> sorted = steps;
    std::ranges::sort(sorted);
    double const most = kBreak * sorted[sorted.size() / 2];
    auto const first = std::ranges::find_if(steps, [&](double step) { return step > most; });
    closed = first == steps.end();
    if (closed) return {row};
    std::vector<std::vector<InRow>> arcs;
    auto const start = static_cast<std::size_t>(first - steps.begin()) + 1;
    double turned = 0;
    for (std::size_t k = 0; k < row.size(); ++k) {
        std::size_t const at = (start + k) % row.size();
        if (k == 0 || steps[(at + row.size() - 1) % row.size()] > most) arcs.emplace_back();
        if (at < start && turned == 0 && k > 0 && at == 0) turned = 1; // past straight down
        arcs.back().push_back(row[at]);
        arcs.back().back().share += turned;
    }
    return arcs;
}

} // namespace

std::vector<LeafPlacement> slid_row(ClaySurface const& surface, std::span<LeafPlacement const> leaves, int row,
                                    double by_mm, bool mirror) {
    RowField const field(surface);
    std::vector<LeafPlacement> result = leaves_of_row(leaves, row);
    for (std::size_t k = 0; k < result.size(); ++k) {
        LeafPlacement& leaf = result[k];
        double const x = std::cos(radians(leaf.azimuth_deg)) * leaf.from_crown_mm;
        if (leaf.pinned || (mirror && std::abs(x) < kOnAxis_mm)) continue;
        InRow at = in_row(field, leaf, k);
        at.share += (mirror && x < 0 ? -by_mm : by_mm) / field.line(at.depth_mm).run_mm();
        leaf = placed(field, at);
    }
    return result;
}

std::vector<LeafPlacement> respaced_row(ClaySurface const& surface, std::span<LeafPlacement const> leaves, int row,
                                        int count) {
    RowField const field(surface);
    std::vector<LeafPlacement> before = leaves_of_row(leaves, row);
    std::vector<InRow> loose;
    std::vector<InRow> result;
    for (std::size_t k = 0; k < before.size(); ++k)
        (before[k].pinned ? result : loose).push_back(in_row(field, before[k], k));
    if (loose.empty() || count < 1) return before;
    std::ranges::stable_sort(loose, {}, &InRow::share);
    bool closed = false;
    std::vector<std::vector<InRow>> const arcs = arcs_of(loose, closed);
    double const factor = static_cast<double>(count) / static_cast<double>(loose.size());
    std::vector<char> used(before.size(), 0);
    for (std::vector<InRow> const& arc : arcs) {
        auto const n = static_cast<double>(arc.size());
        auto const m = static_cast<int>(std::max(1.0, std::round(n * factor)));
        // No leaf stands straight down: none shall, and halves that are alike stay so.
        bool const straddles = closed && std::abs(arc.front().share - (1 - arc.back().share)) < 1e-4;
        for (int j = 0; j < m; ++j) {
            double t = closed ? j * n / m : (m > 1 ? j * (n - 1) / (m - 1) : 0.5 * (n - 1));
            if (straddles) t = (j + 0.5) * n / m - 0.5;
            InRow made = between(arc, t, closed);
            if (used[made.order] != 0) made.leaf.id = 0;
            used[made.order] = 1;
            result.push_back(std::move(made));
        }
    }
    std::ranges::stable_sort(result, {}, &InRow::order);
    std::vector<LeafPlacement> placements;
    for (InRow const& at : result) placements.push_back(at.leaf.pinned ? at.leaf : placed(field, at));
    return placements;
}

std::vector<LeafPlacement> row_of_kind(std::span<LeafPlacement const> leaves, int row, std::string const& kind) {
    std::vector<LeafPlacement> result = leaves_of_row(leaves, row);
    for (LeafPlacement& leaf : result)
        if (!leaf.pinned) leaf.kind = kind;
    return result;
}

int loose_leaves_in_row(std::span<LeafPlacement const> leaves, int row) {
    return static_cast<int>(
        std::ranges::count_if(leaves, [&](LeafPlacement const& leaf) { return leaf.row == row && !leaf.pinned; }));
}

} // namespace leafwright
