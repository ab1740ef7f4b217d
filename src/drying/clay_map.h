// The clay of the piece over the equal-area chart: how thick, which way the surface stretches there, where it is in
// space. Drying, hanging and finish all read it.
//
// Square cells counted from the chart's origin, as those of the stack: cell (i, j) has its middle at ((i + 1/2) cell,
// (j + 1/2) cell). A cell's chart area is its true area on the slab's outer face.
#pragma once

#include "rows/stack.h"

namespace leafwright {

// What depends on the outer face alone; keep it while only leaves move.
struct FaceMap {
    double cell_mm = 2;
    int left = 0; // cell (left, low) is the first
    int low = 0;
    int columns = 0;
    int rows = 0;
    // A value per cell, row by row.
    std::vector<float> inside;  // share of the cell inside the rim, 0 to 1
    std::vector<Vec3> position; // of its middle, mm
    std::vector<Vec3> normal;
    // The inverse of the surface's metric in the chart, determinant 1: diffusion in the chart is div(T grad). On a dome
    // the clay is shorter along the meridian and longer round it than the chart shows, so T is not round.
    std::vector<float> along_xx, along_xy, along_yy;
    // Area at height s along the normal, over that at 0: 1 + bend s + twist s^2 (Steiner; twice the mean curvature and
    // the Gauss curvature); 0 beyond the rim.
    std::vector<float> bend_per_mm, twist_per_mm2;

    std::size_t size() const { return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows); }
    std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) + static_cast<std::size_t>(column);
    }
    Vec2 middle(int column, int row) const { return {(left + column + 0.5) * cell_mm, (low + row + 0.5) * cell_mm}; }
    // Cells that lie within the other's.
    bool covers(FaceMap const& other) const;
};

// Over the rim's rectangle and that of `also` (a stack's field; may be empty), grown to whole blocks of 16 cells so
// that small changes keep it. Positions are exact; metric and curvature by differences over two cells.
// Cost: 1 us a cell and thread.
std::shared_ptr<FaceMap const> face_map(ClaySurface const& face, Ring const& rim, HeightPatch const& also,
                                        double cell_mm);

// A lump on the back: a lug.
struct BackLump {
    Vec2 chart{0, 0};
    double radius_mm = 15;
    double thick_mm = 20; // mean over its disc
};

struct ClayMap {
    std::shared_ptr<FaceMap const> face;
    std::vector<float> slab_mm; // a value per cell; mean over the cell, so that a cell half inside the rim has half
    std::vector<float> pile_mm; // leaves and features above it, likewise; volume over cell area
    std::vector<float> back_mm; // lumps behind it
    std::vector<float> open;    // share of the cell whose front is open to the air
    double slab_thickness_mm = 0;
    double volume_mm3 = 0; // slab with its curvature, pile, lumps
    double open_mm2 = 0;

    // Slab, pile and lumps, as volume over cell area.
    float clay_mm(std::size_t cell) const { return slab_mm[cell] + pile_mm[cell] + back_mm[cell]; }
    // Thickness where there is clay at all.
    double thickness_mm(std::size_t cell) const {
        return open[cell] > 0 ? static_cast<double>(clay_mm(cell) / open[cell]) : 0;
    }
};

// Clay of leaves and features over each cell of the stack's grid, without the hollows that its heights bridge.
HeightPatch pile_clay(StackField const& stack);

// `pile` as pile_clay() gives it. cell_mm of the face map must be a whole multiple of the stack's (else the nearest one
// is read). `holes`: rings of the chart without slab (openings).
ClayMap clay_map(std::shared_ptr<FaceMap const> face, double slab_thickness_mm, HeightPatch const& pile,
                 std::span<Ring const> holes, std::span<BackLump const> lumps);

// The hole of an opening in the chart: an ellipse of its width and height.
Ring opening_hole(ClaySurface const& surface, Feature const& opening);

// Share of each cell that lies inside the ring, by exact spans on four lines a cell; error below 1 % of a cell.
std::vector<float> covered_share(Ring const& ring, double cell_mm, int left, int low, int columns, int rows);

} // namespace leafwright
