#include "view/slab_mesh.h"

#include "base/units.h"
#include "view/leaf_mesh.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr int kRimPoints = 180;
constexpr double kSlabSpacing_mm = 9;
constexpr double kEdgeRadius_mm = 2;

MeshVertex slab_vertex(Vec3 const& position, Vec3 const& flat, double openness) {
    MeshVertex vertex;
    vertex.position = floats(position);
    vertex.flat = floats(flat);
    vertex.normal = packed({0, 0, 1}, openness);
    vertex.uv = {static_cast<float>(flat.x), static_cast<float>(flat.y)};
    return vertex;
}

Polygon slab_in_chart(ClaySurface const& face, std::span<LaidFeature const> features) {
    Polygon slab{face.rim_chart(kRimPoints), {}};
    for (LaidFeature const& laid : features) {
        Ring const edge = opening_edge(laid.feature);
        if (edge.empty()) continue;
        Ring hole;
        for (LaidPoint const& point : lay_feature_points(face, laid.feature, edge)) hole.push_back(point.chart);
        std::reverse(hole.begin(), hole.end());
        slab.holes.push_back(std::move(hole));
    }
    return slab;
}

// Triangles whose middle lies under no feature come first.
std::size_t zone_first(FlatMesh& net, std::span<LaidFeature const> features) {
    std::vector<std::uint32_t> zone, rest;
    for (std::size_t i = 0; i + 2 < net.indices.size(); i += 3) {
        Vec2 middle{0, 0};
        for (std::size_t k = 0; k < 3; ++k) middle += net.points[net.indices[i + k]] / 3.0;
        bool const under = std::any_of(features.begin(), features.end(),
                                       [&](LaidFeature const& laid) { return contains(laid.chart, middle); });
        auto& to = under ? rest : zone;
        to.insert(to.end(), net.indices.begin() + static_cast<std::ptrdiff_t>(i),
                  net.indices.begin() + static_cast<std::ptrdiff_t>(i + 3));
    }
    std::size_t const count = zone.size();
    zone.insert(zone.end(), rest.begin(), rest.end());
    net.indices = std::move(zone);
    return count;
}

// Lets the drawing go on down the walls, whose lower points start at index `foot`.
void stretch_wall_drawing(Mesh& mesh, FlatMesh const& net, double deep_mm, std::size_t foot) {
    std::vector<Vec2> const outward = outward_at_outline(net);
    for (std::size_t i = 0; i < outward.size(); ++i) {
        mesh.vertices[foot + i].uv[0] += static_cast<float>(deep_mm * outward[i].x);
        mesh.vertices[foot + i].uv[1] += static_cast<float>(deep_mm * outward[i].y);
    }
}

// The inner face with its own vertices: the fold at the walls' foot stays sharp.
void add_inner_face(Mesh& mesh, FlatMesh const& net, std::span<LaidPoint const> laid, double thickness_mm) {
    auto const first = static_cast<std::uint32_t>(mesh.vertices.size());
    for (LaidPoint const& point : laid)
        mesh.vertices.push_back(
            slab_vertex(point.position - thickness_mm * point.normal, {point.chart, -thickness_mm}, 0.5));
    for (std::size_t i = 0; i + 2 < net.indices.size(); i += 3)
        for (std::size_t const k : {0u, 2u, 1u}) mesh.indices.push_back(first + net.indices[i + k]);
}

} // namespace

Ring opening_edge(Feature const& feature) {
    if (feature.kind != FeatureKind::opening) return {};
    constexpr int kPoints = 72;
    Ring edge;
    for (int k = 0; k < kPoints; ++k) {
        double const angle = kTwoPi * k / kPoints;
        edge.push_back({0.5 * feature.width_mm * std::cos(angle), 0.5 * feature.height_mm * std::sin(angle)});
    }
    return edge;
}

SlabMesh slab_mesh(ClaySurface const& face, std::span<LaidFeature const> features, double board_z_mm) {
    FlatMeshOptions options;
    options.spacing_mm = kSlabSpacing_mm;
    options.rims_mm = {0.4 * kEdgeRadius_mm, kEdgeRadius_mm};
    for (LaidFeature const& laid : features) options.lines.push_back(laid.chart);
    FlatMesh net = triangulated(slab_in_chart(face, features), options);

    SlabMesh out;
    out.zone_indices = zone_first(net, features);
    out.mesh.indices = net.indices;
    double const thickness = face.options().offset_mm;
    std::vector<LaidPoint> laid;
    for (Vec2 const& p : net.points) laid.push_back(face.at_chart(p));
    for (std::size_t i = 0; i < laid.size(); ++i) {
        double const height = -edge_drop_mm(net.edge_mm[i], std::min(kEdgeRadius_mm, 0.4 * thickness));
        out.mesh.vertices.push_back(
            slab_vertex(laid[i].position + height * laid[i].normal, {laid[i].chart, height}, 1));
    }
    auto const foot = static_cast<std::uint32_t>(laid.size());
    for (std::size_t i = 0; i < net.ring_ends.back(); ++i) {
        Vec3 under = laid[i].position - thickness * laid[i].normal;
        // At the rim the slab is trimmed straight down to the board.
        if (i < net.ring_ends.front()) under = {laid[i].position.x, laid[i].position.y, board_z_mm};
        out.mesh.vertices.push_back(slab_vertex(under, {laid[i].chart, -thickness}, 0.85));
    }
    stretch_wall_drawing(out.mesh, net, thickness, foot);
    add_walls(out.mesh.indices, net, foot);
    out.outside_indices = out.mesh.indices.size();
    add_inner_face(out.mesh, net, laid, thickness);
    add_normals(out.mesh);
    return out;
}

Mesh flat_slab_mesh(Ring const& outline_mm, double thickness_mm) {
    FlatMeshOptions options;
    options.spacing_mm = 14;
    options.rims_mm = {1, 2.5};
    Polygon const slab{resampled(counter_clockwise(outline_mm), 2, 8), {}};
    FlatMesh const net = triangulated(slab, options);
    Mesh mesh;
    auto const add = [&](Vec2 const& p, double z, double openness) {
        mesh.vertices.push_back(slab_vertex({p, z}, {p, z - thickness_mm}, openness));
    };
    for (std::size_t i = 0; i < net.points.size(); ++i)
        add(net.points[i], thickness_mm - edge_drop_mm(net.edge_mm[i], std::min(2.5, 0.4 * thickness_mm)), 1);
    auto const foot = static_cast<std::uint32_t>(net.points.size());
    for (std::size_t i = 0; i < net.ring_ends.back(); ++i) add(net.points[i], 0, 0.85);
    stretch_wall_drawing(mesh, net, thickness_mm, foot);
    mesh.indices = net.indices;
    add_walls(mesh.indices, net, foot);
    add_normals(mesh);
    return mesh;
}

Mesh former_mesh(Former const& former) {
    constexpr std::uint32_t kRound = 120, kOut = 40;
    constexpr double kClear = 0.996;
    Mesh mesh;
    for (std::uint32_t j = 0; j <= kOut; ++j)
        for (std::uint32_t i = 0; i < kRound; ++i) {
            Vec3 const p = kClear * former.at(kTwoPi * i / kRound, static_cast<double>(j) / kOut).position;
            MeshVertex vertex = slab_vertex(p, p, 0.92);
            mesh.vertices.push_back(vertex);
        }
    for (std::uint32_t j = 0; j < kOut; ++j)
        for (std::uint32_t i = 0; i < kRound; ++i) {
            std::uint32_t const a = j * kRound + i, b = j * kRound + (i + 1) % kRound;
            for (std::uint32_t const v : {a, a + kRound, b + kRound, a, b + kRound, b}) mesh.indices.push_back(v);
        }
    add_normals(mesh);
    return mesh;
}

} // namespace leafwright
