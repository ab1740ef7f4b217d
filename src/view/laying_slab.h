// The slab on its way from flat to laid: it touches the crown first, contact spreads outward, and what is still free
// goes straight on from there, hangs a little and throws soft folds where the rim has to shorten.
#pragma once

#include "piece/plan.h"
#include "view/mesh.h"

namespace leafwright {

class LayingSlab {
public:
    LayingSlab() = default;
    // Nothing when the plan's slab has no map. Cost: about 10 ms for 20000 triangles.
    explicit LayingSlab(Plan const& plan);
    bool holds() const { return !points_.empty(); }

    // laid: 0 flat on the crown, 1 laid, the trim resting on the board. `flat` of a vertex is its place in the flat, so
    // that maps of the flat slab fit. Indices are the same at every call. Cost: about 3 ms for 20000 triangles.
    Mesh mesh(double laid) const;
    // Where each vertex of the middle surface is then; the slab map's points come first, in their order.
    std::vector<Vec3> places(double laid) const;

private:
    struct Point {
        Vec2 flat{0, 0};
        Vec3 laid{0, 0, 0};
        double azimuth_rad = 0;
        double share = 0;     // of the meridian
        double beyond_mm = 0; // trim beyond the rim
        double thickness_mm = 0;
    };
    // Where contact ends on one azimuth, and which way the free part goes on.
    struct Front {
        Vec3 place{0, 0, 0}, along{1, 0, 0}, up{0, 0, 1};
    };
    void add_trim(Plan const& plan);
    void find_edges();
    std::vector<Front> fronts(double share) const;
    Vec3 free_place(Point const& p, std::vector<Front> const& fronts, double share) const;

    std::vector<Point> points_;
    std::vector<std::array<std::uint32_t, 3>> triangles_;
    std::vector<std::array<std::uint32_t, 2>> edges_; // of the sheet, the sheet on their left
    std::vector<std::vector<Front>> meridians_;       // by azimuth, then by share
    double board_mm_ = 0, rolled_mm_ = 0;
};

} // namespace leafwright
