#include "view/feature_mesh.h"

#include "view/slab_mesh.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kOverSlab_mm = 0.3;     // a skin of clay, where the mound has hollows down to the slab
constexpr double kDeepIntoSlab_mm = 0.8; // so that no slit shows beneath

Mesh lifted(ClaySurface const& face, Feature const& feature, FlatMesh const& net) {
    Mesh mesh;
    std::vector<double> heights;
    std::vector<LaidPoint> const laid = lay_feature_points(face, feature, net.points);
    auto const add = [&](std::size_t i, double height_mm, Vec2 const& uv) {
        MeshVertex vertex;
        vertex.position = floats(laid[i].position + height_mm * laid[i].normal);
        vertex.flat = floats({laid[i].chart, height_mm});
        vertex.normal = packed({0, 0, 1}, 1);
        vertex.uv = {static_cast<float>(uv.x), static_cast<float>(uv.y)};
        mesh.vertices.push_back(vertex);
    };
    for (std::size_t i = 0; i < laid.size(); ++i) {
        // On the outline itself the height may jump; a hair inside it does not.
        Vec2 const inside = i < net.ring_ends.front() ? 0.998 * net.points[i] : net.points[i];
        heights.push_back(std::max(kOverSlab_mm, feature_height_mm(feature, inside)));
        add(i, heights.back(), net.points[i]);
    }
    std::vector<Vec2> const outward = outward_at_outline(net);
    for (std::size_t i = 0; i < outward.size(); ++i)
        add(i, -kDeepIntoSlab_mm, net.points[i] + (heights[i] + kDeepIntoSlab_mm) * outward[i]);
    return mesh;
}

} // namespace

Mesh feature_mesh(ClaySurface const& face, Feature const& feature) {
    Polygon outline{resampled(feature_footprint(feature), 0.8, 3), {}};
    if (Ring hole = opening_edge(feature); !hole.empty()) {
        std::reverse(hole.begin(), hole.end());
        outline.holes.push_back(std::move(hole));
    }
    FlatMeshOptions options;
    options.spacing_mm = std::clamp(std::sqrt(feature.width_mm * feature.height_mm) / 26, 1.2, 4.0);
    options.rims_mm = {0.6, 1.6, 3.2};
    FlatMesh const net = triangulated(outline, options);
    Mesh mesh = lifted(face, feature, net);
    mesh.indices = net.indices;
    add_walls(mesh.indices, net, static_cast<std::uint32_t>(net.points.size()));
    add_normals(mesh);
    return mesh;
}

} // namespace leafwright
