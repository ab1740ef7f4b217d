#include "rows/stack_mound.h"

#include <array>
#include <cassert>

namespace leafwright {

namespace {

struct Corner {
    Vec2 at;
    double height_mm = 0;
};

void raster_triangle(std::array<Corner, 3> const& t, double cell_mm, MoundRaster& raster) {
    double const twice = cross(t[1].at - t[0].at, t[2].at - t[0].at);
    if (twice == 0) return;
    Box2 box;
    for (Corner const& corner : t) box.add(corner.at);
    CellBox const cells = cells_of(box, cell_mm, 0);
    constexpr double kEdge = -1e-9; // neighbours both count a middle on their common edge
    for (int j = cells.low; j < cells.low + cells.rows; ++j)
        for (int i = cells.left; i < cells.left + cells.columns; ++i) {
            Vec2 const p = cell_middle(i, j, cell_mm);
            double const b = cross(p - t[0].at, t[2].at - t[0].at) / twice;
            double const c = cross(t[1].at - t[0].at, p - t[0].at) / twice;
            if (b < kEdge || c < kEdge || 1.0 - b - c < kEdge) continue;
            float const height =
                static_cast<float>((1.0 - b - c) * t[0].height_mm + b * t[1].height_mm + c * t[2].height_mm);
            float& cell = raster.height_mm[raster.box.index(i, j)];
            cell = std::max(cell, height);
        }
}

} // namespace

MoundRaster raster_mound(FeatureMound const& mound, double cell_mm) {
    assert(mound.chart.size() == mound.height_mm.size());
    assert(mound.chart.size() == static_cast<std::size_t>(mound.columns) * static_cast<std::size_t>(mound.rows));
    MoundRaster raster{cells_of(bounds(mound.chart), cell_mm, 0), {}};
    raster.height_mm.assign(raster.box.size(), 0.0F);
    auto const corner = [&](int column, int row) {
        std::size_t const k = static_cast<std::size_t>(row * mound.columns + column);
        return Corner{mound.chart[k], static_cast<double>(mound.height_mm[k])};
    };
    for (int row = 0; row + 1 < mound.rows; ++row)
        for (int column = 0; column + 1 < mound.columns; ++column) {
            Corner const a = corner(column, row), b = corner(column + 1, row);
            Corner const c = corner(column + 1, row + 1), d = corner(column, row + 1);
            if (a.height_mm == 0 && b.height_mm == 0 && c.height_mm == 0 && d.height_mm == 0) continue;
            raster_triangle({a, b, c}, cell_mm, raster);
            raster_triangle({a, c, d}, cell_mm, raster);
        }
    return raster;
}

} // namespace leafwright
