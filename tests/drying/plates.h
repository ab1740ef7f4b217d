// Flat plates as clay maps, made by hand.
#pragma once

#include "drying/clay_map.h"

namespace leafwright {

// columns x rows cells of cell_mm; thickness of each by a function of its middle.
template <class Thickness> ClayMap plate(int columns, int rows, double cell_mm, Thickness thickness) {
    auto face = std::make_shared<FaceMap>();
    face->cell_mm = cell_mm;
    face->columns = columns;
    face->rows = rows;
    std::size_t const n = face->size();
    face->inside.assign(n, 1.0F);
    face->along_xx.assign(n, 1.0F);
    face->along_xy.assign(n, 0.0F);
    face->along_yy.assign(n, 1.0F);
    face->bend_per_mm.assign(n, 0.0F);
    face->twist_per_mm2.assign(n, 0.0F);
    face->normal.assign(n, Vec3(0, 0, 1));
    ClayMap map;
    for (int row = 0; row < rows; ++row)
        for (int column = 0; column < columns; ++column) {
            Vec2 const p = face->middle(column, row);
            face->position.emplace_back(p.x, p.y, 0);
            map.slab_mm.push_back(static_cast<float>(thickness(p)));
            map.volume_mm3 += cell_mm * cell_mm * thickness(p);
        }
    map.pile_mm.assign(n, 0.0F);
    map.back_mm.assign(n, 0.0F);
    map.open.assign(n, 1.0F);
    map.open_mm2 = cell_mm * cell_mm * static_cast<double>(n);
    map.face = face;
    return map;
}

} // namespace leafwright
