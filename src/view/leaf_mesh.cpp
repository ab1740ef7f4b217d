#include "view/leaf_mesh.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kSpacing_mm = 3.8;
constexpr double kLeastEdge_mm = 1.1; // of the outline: teeth finer than this are lost in clay too
constexpr double kOpenAtFoot = 0.8;

MeshVertex vertex_at(LaidPoint const& laid, double height_mm, Vec2 const& uv, double openness) {
    MeshVertex vertex;
    vertex.position = floats(laid.position + height_mm * laid.normal);
    vertex.flat = floats({laid.chart, height_mm});
    vertex.normal = packed({0, 0, 1}, openness);
    vertex.uv = {static_cast<float>(uv.x), static_cast<float>(uv.y)};
    return vertex;
}

} // namespace

double edge_drop_mm(double edge_mm, double radius_mm) {
    if (edge_mm >= radius_mm) return 0;
    double const in = 1 - edge_mm / radius_mm;
    return 0.8 * radius_mm * (1 - std::sqrt(std::max(0.0, 1 - in * in)));
}

LeafNet make_leaf_net(LeafPattern const& pattern) {
    LeafNet net;
    net.edge_radius_mm = std::min(0.5 * pattern.spec.thickness_mm, 2.4);
    Polygon outline{resampled(pattern.shape.outline_mm.outer, kLeastEdge_mm, kSpacing_mm), {}};
    for (Ring const& hole : pattern.shape.outline_mm.holes)
        outline.holes.push_back(resampled(hole, kLeastEdge_mm, kSpacing_mm));
    FlatMeshOptions options;
    options.spacing_mm = kSpacing_mm;
    options.rims_mm = {0.35 * net.edge_radius_mm, net.edge_radius_mm};
    net.top = triangulated(outline, options);
    net.outline = net.top.ring_ends.back();
    net.outward = outward_at_outline(net.top);
    net.indices = net.top.indices;
    add_walls(net.indices, net.top, static_cast<std::uint32_t>(net.top.points.size()));
    net.flipped_indices = net.indices;
    for (std::size_t i = 0; i + 2 < net.indices.size(); i += 3)
        std::swap(net.flipped_indices[i + 1], net.flipped_indices[i + 2]);
    return net;
}

std::vector<LaidPoint> lay_net(ClaySurface const& surface, LeafPattern const& pattern, LaidLeaf const& leaf,
                               LeafNet const& net) {
    return lay_points(surface, pattern, leaf.placement, net.top.points);
}

Mesh leaf_mesh(LeafNet const& net, std::span<LaidPoint const> laid, LaidLeaf const& leaf, LeafRelief const* relief) {
    Mesh mesh;
    mesh.vertices.reserve(laid.size() + net.outline);
    std::vector<double> rim_mm(net.outline);
    for (std::size_t i = 0; i < laid.size(); ++i) {
        double const top = relief ? relief->top.at(laid[i].chart) : leaf.thickness_mm;
        double const drop = edge_drop_mm(net.top.edge_mm[i] * leaf.placement.scale, net.edge_radius_mm);
        if (i < net.outline) rim_mm[i] = top - drop;
        mesh.vertices.push_back(vertex_at(laid[i], top - drop, net.top.points[i], 1));
    }
    for (std::size_t i = 0; i < net.outline; ++i) {
        double const under = relief ? relief->bottom.at(laid[i].chart) : 0.0;
        double const foot = std::min(under - 0.4, rim_mm[i]);
        // The drawing goes on down the wall, so that grain there is not drawn out.
        Vec2 const uv = net.top.points[i] + (rim_mm[i] - foot) * net.outward[i];
        mesh.vertices.push_back(vertex_at(laid[i], foot, uv, kOpenAtFoot));
    }
    mesh.indices = leaf.placement.flipped ? net.flipped_indices : net.indices;
    add_normals(mesh);
    return mesh;
}

} // namespace leafwright
