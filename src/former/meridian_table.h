// The offset surface and its skirt as a table of meridians, and everything that is read from it: positions, normals,
// area. Coordinates: azimuth of the point and length along its meridian from the crown.
//
// Inside the rim the points are exact at the nodes, cubic (with exact tangents) along the meridian and cubic round it.
// Beyond the rim the meridian goes straight on, turns level over the fillet, and runs out on the board, which is one
// plane for the whole piece; that part is in closed form.
#pragma once

#include "former/former.h"

namespace leafwright {

struct MeridianPoint {
    double rho = 0, z = 0;
    double tangent_out = 1, tangent_up = 0; // of the meridian, unit
    double normal_round = 0;
    double area = 0;    // integral of the density along the meridian from the crown
    double density = 0; // area element by azimuth and length
};

class MeridianTable {
public:
    // Same answer on any number of threads. Cost: about 40 ms on one core; coarse, for the frames of a moving slider: a
    // tenth of that, places within 0.001 mm on domes and saucers, 0.01 mm on full ones, area within 1e-6.
    static MeridianTable build(Former const& former, double offset_mm, double fillet_mm, bool coarse = false);

    double rim_mm(double azimuth_rad) const;        // length from crown to rim
    double board_from_mm(double azimuth_rad) const; // and to where the board begins
    double board_rho_mm(double azimuth_rad) const;  // distance of that place from the axis
    double board_z_mm() const { return board_z_mm_; }
    double longest_mm() const { return longest_mm_; } // greatest board_from_mm
    double area_mm2() const { return area_mm2_; }     // inside the rim
    int columns() const { return columns_; }

    MeridianPoint at(double azimuth_rad, double length_mm) const;
    // The length at which the area integral is `area`.
    double length_at_area(double azimuth_rad, double area) const;

private:
    // One node: values, and derivatives by the cell of the meridian.
    struct Node {
        double rho, z, area;
        double rho_by_cell, z_by_cell, area_by_cell;
        double normal_round, unused;
    };
    struct Round { // the four meridians round an azimuth and their weights
        int first;
        double weight[4];
    };
    struct Edge {
        double rim, skirt; // lengths crown to rim, rim to board
        double rim_area, skirt_area, board_rho;
    };
    Round round(double azimuth_rad) const;
    Edge edge(Round const& round) const;
    MeridianPoint in_cells(Node const* nodes, int cells, Round const& round, double share, double cell_mm) const;
    double share_at_area(Node const* nodes, int cells, Round const& round, double area) const;
    void fill_column(Former const& former, double offset_mm, int column, class OutlineTable const& outline,
                     bool coarse);
    void fill_skirt(double fillet_mm);
    void wrap_round();

    int columns_ = 0, cells_ = 0;
    std::vector<Node> inside_, skirt_; // meridian by meridian, one spare before the first and two after the last
    std::vector<Edge> edge_;
    double board_z_mm_ = 0, longest_mm_ = 0, area_mm2_ = 0;
};

} // namespace leafwright
