// A triangle mesh as the clay shaders read it, and how it is put together.
#pragma once

#include "base/polygon.h"
#include "former/surface.h"

#include <array>
#include <cstdint>

namespace leafwright {

// 40 bytes. `flat` is the same vertex when the slab is laid flat: chart x, chart y, height above the slab's outer face.
struct MeshVertex {
    std::array<float, 3> position{};
    std::array<float, 3> flat{};
    std::array<std::int8_t, 4> normal{}; // last: 127 open, 0 wholly shut in
    std::array<std::int8_t, 4> flat_normal{};
    std::array<float, 2> uv{}; // mm, in the part's own drawing
};

struct Mesh {
    std::vector<MeshVertex> vertices;
    std::vector<std::uint32_t> indices;
};

std::array<std::int8_t, 4> packed(Vec3 const& unit, double openness = 1);

// Smooth normals for both positions, weighted by the triangles' areas. Openness is kept.
void add_normals(Mesh& mesh);

// A sheet's triangulation in the plane, before it is laid anywhere.
struct FlatMesh {
    std::vector<Vec2> points;           // the outline's points first, ring by ring in the polygon's order
    std::vector<double> edge_mm;        // distance of each point from the nearest outline
    std::vector<std::uint32_t> indices; // counter-clockwise
    std::vector<std::size_t> ring_ends; // one past the last outline point of each ring
};

struct FlatMeshOptions {
    double spacing_mm = 3.5;     // between points inside
    std::vector<double> rims_mm; // distances from the outline at which points are set as well, for rounded edges
    std::vector<Ring> lines;     // closed lines that triangle edges must follow
};

// Constrained Delaunay triangulation of a simple polygon with holes, by CGAL. Cost: about 2 ms for 400 points.
FlatMesh triangulated(Polygon const& polygon, FlatMeshOptions const& options);

// Joins the outline points of `net`, ring by ring, to twins that start at index `foot`, by walls that face outward.
void add_walls(std::vector<std::uint32_t>& indices, FlatMesh const& net, std::uint32_t foot);

// At each outline point, the unit direction away from the sheet.
std::vector<Vec2> outward_at_outline(FlatMesh const& net);

std::array<float, 3> floats(Vec3 const& p);

// The same outline with points closer than least_mm left out and gaps wider than most_mm divided.
Ring resampled(Ring const& ring, double least_mm, double most_mm);

// Distance from the ring's edges.
double distance_to(Ring const& ring, Vec2 const& point);

} // namespace leafwright
