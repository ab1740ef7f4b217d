// The cells of the stack's grid, counted from the chart's origin, so that a leaf's cells do not depend on what lies
// round it. Cell (i, j) has its middle at ((i + 1/2) cell, (j + 1/2) cell): left and right halves are mirror images.
#pragma once

#include "base/polygon.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace leafwright {

struct CellBox {
    int left = 0;
    int low = 0;
    int columns = 0;
    int rows = 0;

    bool empty() const { return columns <= 0 || rows <= 0; }
    std::size_t size() const { return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows); }
    // Place of cell (i, j) in an array row by row; the cell must lie in the box.
    std::size_t index(int i, int j) const {
        return static_cast<std::size_t>(j - low) * static_cast<std::size_t>(columns) +
               static_cast<std::size_t>(i - left);
    }
    bool contains(int i, int j) const { return i >= left && j >= low && i < left + columns && j < low + rows; }
    bool operator==(CellBox const&) const = default;
};

inline Vec2 cell_middle(int i, int j, double cell_mm) { return {(i + 0.5) * cell_mm, (j + 0.5) * cell_mm}; }

// All cells that the box touches and `margin` more on each side; an empty box gives none.
inline CellBox cells_of(Box2 const& box, double cell_mm, int margin) {
    if (!(box.low.x <= box.high.x && box.low.y <= box.high.y)) return {};
    auto const floor_of = [&](double x) { return static_cast<int>(std::floor(x / cell_mm)); };
    int const left = floor_of(box.low.x) - margin;
    int const low = floor_of(box.low.y) - margin;
    return {left, low, floor_of(box.high.x) + margin + 1 - left, floor_of(box.high.y) + margin + 1 - low};
}

inline CellBox united(CellBox const& a, CellBox const& b) {
    if (a.empty()) return b;
    if (b.empty()) return a;
    int const left = std::min(a.left, b.left);
    int const low = std::min(a.low, b.low);
    return {left, low, std::max(a.left + a.columns, b.left + b.columns) - left,
            std::max(a.low + a.rows, b.low + b.rows) - low};
}

// What both have; empty() when they lie apart.
inline CellBox common(CellBox const& a, CellBox const& b) {
    int const left = std::max(a.left, b.left);
    int const low = std::max(a.low, b.low);
    return {left, low, std::min(a.left + a.columns, b.left + b.columns) - left,
            std::min(a.low + a.rows, b.low + b.rows) - low};
}

} // namespace leafwright
