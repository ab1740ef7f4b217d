// Triangles on the slab's middle surface: rings of equal share of the meridian round the crown, split into sectors by
// spokes (meridians). Ring k has k steps a sector, so triangles are nearly even, a mesh of 2n rings holds every vertex
// of that of n rings, and any spoke can be cut from the rim inward.
//
// A region is the whole piece, or a wedge of it whose ends are free edges or mirrors.
#pragma once

#include "former/meridian_table.h"
#include "former/surface.h"

#include <array>
#include <cstdint>

namespace leafwright {

enum class DrapeEnd { joined, mirror, free };

struct Spoke {
    double azimuth_rad = 0;
    double tip_share = 1; // the meridian is cut from this share of its length to the rim; 1: not cut
    bool operator==(Spoke const&) const = default;
};

struct DrapeRegion {
    // Ascending. Joined ends: the whole piece; the last spoke is the first one again, a full turn on.
    std::vector<Spoke> spokes;
    DrapeEnd first = DrapeEnd::joined, last = DrapeEnd::joined;
    bool operator==(DrapeRegion const&) const = default;
};

using DrapeTriangle = std::array<std::int32_t, 3>;

struct DrapeMesh {
    int rings = 0;
    DrapeRegion region;
    std::vector<double> azimuth, share, length_mm; // by vertex; length along the meridian from the crown
    std::vector<Vec3> place;
    std::vector<Vec3> normal;             // unit; none: triangles count as flat (see Membrane)
    std::vector<DrapeTriangle> triangles; // counter-clockwise seen from outside

    // Counter-clockwise of a cut spoke stands `upper`, clockwise of it `lower`; the same vertex where it is not cut.
    enum class Side { upper, lower };
    int sectors() const { return static_cast<int>(region.spokes.size()) - 1; }
    bool is_joined() const { return region.first == DrapeEnd::joined; }
    int vertices() const { return static_cast<int>(azimuth.size()); }
    // Column 0 to sectors() * ring counts round the ring.
    int vertex(int ring, int column, Side side = Side::upper) const;
    // The last ring on which the spoke is whole.
    int tip_ring(std::size_t spoke) const;
    // Outline vertices from spoke to spoke: the rim of one sector, both ends included, counter-clockwise.
    std::vector<int> rim_of(int sector) const;

    std::vector<std::int32_t> lower_copy; // spoke by spoke, ring by ring; -1 where there is none
};

// `openings` are rings on the middle surface; triangles whose middle lies in one are left out.
DrapeMesh make_drape_mesh(MeridianTable const& middle, DrapeRegion const& region, int rings,
                          std::vector<std::vector<Spot>> const& openings = {});

// The chart that keeps azimuth and length along the meridian: how a slab lies that sticks where it first touches.
std::vector<Vec2> stuck_positions(DrapeMesh const& mesh);

// Triangles as near as may be to `wanted` in the whole piece, in the ladder of nested meshes that starts at about 1300.
int rings_for(DrapeRegion const& whole, int wanted_triangles);

} // namespace leafwright
