#include "view/mesh.h"

#include <CGAL/Constrained_Delaunay_triangulation_2.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Triangulation_vertex_base_with_info_2.h>

#include <cmath>

namespace leafwright {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
// A vertex's place in the list of points, counted from 1; 0 for one that is not in it yet.
struct Place {
    std::uint32_t number = 0;
};
using VertexBase = CGAL::Triangulation_vertex_base_with_info_2<Place, Kernel>;
using FaceBase = CGAL::Constrained_triangulation_face_base_2<Kernel>;
using Structure = CGAL::Triangulation_data_structure_2<VertexBase, FaceBase>;
// Lines that cross each other are split where they meet.
using Triangulation = CGAL::Constrained_Delaunay_triangulation_2<Kernel, Structure, CGAL::Exact_predicates_tag>;

double edge_distance(Polygon const& polygon, Vec2 const& p) {
    double least = distance_to(polygon.outer, p);
    for (Ring const& hole : polygon.holes) least = std::min(least, distance_to(hole, p));
    return least;
}

// A coarse grid that tells whether a point has a neighbour closer than the spacing.
class Sieve {
public:
    Sieve(Box2 const& box, double spacing_mm)
        : low_(box.low),
          cell_mm_(spacing_mm),
          columns_(1 + static_cast<int>(box.size().x / spacing_mm)),
          cells_(static_cast<std::size_t>(columns_) * (1 + static_cast<std::size_t>(box.size().y / spacing_mm))) {}

    bool has_near(Vec2 const& p, double distance_mm) const {
        auto const [column, row] = cell_of(p);
        int const rows = static_cast<int>(cells_.size()) / columns_;
        for (int j = std::max(0, row - 1); j <= std::min(rows - 1, row + 1); ++j)
            for (int i = std::max(0, column - 1); i <= std::min(columns_ - 1, column + 1); ++i)
                for (Vec2 const& q : cells_[static_cast<std::size_t>(j) * columns_ + i])
                    if (glm::distance(p, q) < distance_mm) return true;
        return false;
    }
    void add(Vec2 const& p) {
        auto const [column, row] = cell_of(p);
        std::size_t const at = static_cast<std::size_t>(row) * columns_ + column;
        if (at < cells_.size()) cells_[at].push_back(p);
    }

private:
    std::pair<int, int> cell_of(Vec2 const& p) const {
        return {std::clamp(static_cast<int>((p.x - low_.x) / cell_mm_), 0, columns_ - 1),
                std::max(0, static_cast<int>((p.y - low_.y) / cell_mm_))};
    }
    Vec2 low_;
    double cell_mm_;
    int columns_;
    std::vector<std::vector<Vec2>> cells_;
};

struct Builder {
    Polygon const& polygon;
    FlatMeshOptions const& options;
    FlatMesh out;
    Sieve sieve;
    Triangulation net;

    Builder(Polygon const& shape, FlatMeshOptions const& wanted)
        : polygon(shape), options(wanted), sieve(bounds(shape.outer), wanted.spacing_mm) {}

    Triangulation::Vertex_handle add_point(Vec2 const& p, double edge_mm) {
        auto const vertex = net.insert({p.x, p.y});
        if (vertex->info().number != 0) return vertex; // there already
        out.points.push_back(p);
        out.edge_mm.push_back(edge_mm);
        sieve.add(p);
        vertex->info().number = static_cast<std::uint32_t>(out.points.size());
        return vertex;
    }

    void add_ring(Ring const& ring, bool outline) {
        std::vector<Triangulation::Vertex_handle> handles;
        for (Vec2 const& p : ring) handles.push_back(add_point(p, outline ? 0.0 : edge_distance(polygon, p)));
        for (std::size_t i = 0; i < handles.size(); ++i) {
            auto const a = handles[i], b = handles[(i + 1) % handles.size()];
            if (a != b) net.insert_constraint(a, b);
        }
    }

    void add_inside(Vec2 const& p, double apart_mm, double edge_least_mm) {
        if (!contains(polygon, p) || sieve.has_near(p, apart_mm)) return;
        double const edge = edge_distance(polygon, p);
        if (edge >= edge_least_mm) add_point(p, edge);
    }

    // Points at a distance within the outline, for edges that are rounded off.
    void add_rim(Ring const& ring, double depth_mm) {
        for (std::size_t i = 0, n = ring.size(); i < n; ++i) {
            Vec2 const along = ring[(i + 1) % n] - ring[(i + n - 1) % n];
            double const length = glm::length(along);
            if (length < 1e-9) continue;
            Vec2 const inward = Vec2{-along.y, along.x} / length;
            add_inside(ring[i] + depth_mm * inward, 0.7 * depth_mm, 0.75 * depth_mm);
        }
    }

    void add_grid() {
        Box2 const box = bounds(polygon.outer);
        double const s = options.spacing_mm, row_mm = s * std::sqrt(0.75);
        double const clear = options.rims_mm.empty() ? 0.5 * s : options.rims_mm.back() + 0.3 * s;
        int row = 0;
        for (double y = box.low.y + 0.4 * row_mm; y < box.high.y; y += row_mm, ++row)
            for (double x = box.low.x + (row & 1 ? 0.75 : 0.25) * s; x < box.high.x; x += s)
                add_inside({x, y}, 0.6 * s, clear);
    }

    void gather_triangles() {
        for (auto face = net.finite_faces_begin(); face != net.finite_faces_end(); ++face) {
            Vec2 middle{0, 0};
            for (int k = 0; k < 3; ++k) {
                auto const vertex = face->vertex(k);
                if (vertex->info().number == 0) add_crossing(vertex);
                middle += out.points[vertex->info().number - 1] / 3.0;
            }
            if (!contains(polygon, middle)) continue;
            for (int k = 0; k < 3; ++k) out.indices.push_back(face->vertex(k)->info().number - 1);
        }
    }

    void add_crossing(Triangulation::Vertex_handle vertex) {
        Vec2 const p{vertex->point().x(), vertex->point().y()};
        out.points.push_back(p);
        out.edge_mm.push_back(edge_distance(polygon, p));
        vertex->info().number = static_cast<std::uint32_t>(out.points.size());
    }
};

} // namespace

FlatMesh triangulated(Polygon const& polygon, FlatMeshOptions const& options) {
    Builder builder(polygon, options);
    builder.add_ring(polygon.outer, true);
    builder.out.ring_ends.push_back(builder.out.points.size());
    for (Ring const& hole : polygon.holes) {
        builder.add_ring(hole, true);
        builder.out.ring_ends.push_back(builder.out.points.size());
    }
    for (Ring const& line : options.lines) builder.add_ring(line, false);
    for (double const depth : options.rims_mm) {
        builder.add_rim(polygon.outer, depth);
        for (Ring const& hole : polygon.holes) builder.add_rim(hole, depth);
    }
    builder.add_grid();
    builder.gather_triangles();
    return std::move(builder.out);
}

} // namespace leafwright
