#include "view/mesh.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

Vec3 vec(std::array<float, 3> const& p) { return {p[0], p[1], p[2]}; }

void add_face(std::vector<Vec3>& sums, std::uint32_t a, std::uint32_t b, std::uint32_t c, Vec3 const& pa,
              Vec3 const& pb, Vec3 const& pc) {
    Vec3 const twice_area = glm::cross(pb - pa, pc - pa);
    sums[a] += twice_area;
    sums[b] += twice_area;
    sums[c] += twice_area;
}

Vec3 unit_or_up(Vec3 const& v) {
    double const length = glm::length(v);
    return length > 1e-12 ? v / length : Vec3{0, 0, 1};
}

} // namespace

std::array<std::int8_t, 4> packed(Vec3 const& unit, double openness) {
    auto const snorm = [](double x) { return static_cast<std::int8_t>(std::lround(std::clamp(x, -1.0, 1.0) * 127)); };
    return {snorm(unit.x), snorm(unit.y), snorm(unit.z), snorm(openness)};
}

void add_normals(Mesh& mesh) {
    std::vector<Vec3> laid(mesh.vertices.size(), Vec3{0});
    std::vector<Vec3> flat(mesh.vertices.size(), Vec3{0});
    for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3) {
        std::uint32_t const a = mesh.indices[i], b = mesh.indices[i + 1], c = mesh.indices[i + 2];
        MeshVertex const &va = mesh.vertices[a], &vb = mesh.vertices[b], &vc = mesh.vertices[c];
        add_face(laid, a, b, c, vec(va.position), vec(vb.position), vec(vc.position));
        add_face(flat, a, b, c, vec(va.flat), vec(vb.flat), vec(vc.flat));
    }
    for (std::size_t i = 0; i < mesh.vertices.size(); ++i) {
        MeshVertex& vertex = mesh.vertices[i];
        std::int8_t const openness = vertex.normal[3];
        vertex.normal = packed(unit_or_up(laid[i]));
        vertex.flat_normal = packed(unit_or_up(flat[i]));
        vertex.normal[3] = openness;
        vertex.flat_normal[3] = openness;
    }
}

void add_walls(std::vector<std::uint32_t>& indices, FlatMesh const& net, std::uint32_t foot) {
    std::size_t begin = 0;
    for (std::size_t const end : net.ring_ends) {
        for (std::size_t k = begin; k < end; ++k) {
            auto const i = static_cast<std::uint32_t>(k);
            auto const j = static_cast<std::uint32_t>(k + 1 < end ? k + 1 : begin);
            for (std::uint32_t const v : {i, foot + i, foot + j, i, foot + j, j}) indices.push_back(v);
        }
        begin = end;
    }
}

std::vector<Vec2> outward_at_outline(FlatMesh const& net) {
    std::vector<Vec2> outward;
    std::size_t begin = 0;
    for (std::size_t const end : net.ring_ends) {
        std::size_t const count = end - begin;
        for (std::size_t k = 0; k < count; ++k) {
            Vec2 const along = net.points[begin + (k + 1) % count] - net.points[begin + (k + count - 1) % count];
            double const length = glm::length(along);
            outward.push_back(length > 0 ? Vec2{along.y, -along.x} / length : Vec2{1, 0});
        }
        begin = end;
    }
    return outward;
}

std::array<float, 3> floats(Vec3 const& p) {
    return {static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)};
}

Ring resampled(Ring const& ring, double least_mm, double most_mm) {
    Ring kept;
    for (Vec2 const& p : ring)
        if (kept.empty() || glm::distance(kept.back(), p) >= least_mm) kept.push_back(p);
    while (kept.size() > 3 && glm::distance(kept.back(), kept.front()) < least_mm) kept.pop_back();
    Ring out;
    for (std::size_t i = 0; i < kept.size(); ++i) {
        Vec2 const a = kept[i], b = kept[(i + 1) % kept.size()];
        int const parts = std::max(1, static_cast<int>(std::ceil(glm::distance(a, b) / most_mm)));
        for (int k = 0; k < parts; ++k) out.push_back(a + (b - a) * (static_cast<double>(k) / parts));
    }
    return out;
}

double distance_to(Ring const& ring, Vec2 const& point) {
    double least = 1e300;
    for (std::size_t i = 0, n = ring.size(); i < n; ++i) {
        Vec2 const a = ring[i], ab = ring[(i + 1) % n] - a, ap = point - a;
        double const length2 = glm::dot(ab, ab);
        double const t = length2 > 0 ? std::clamp(glm::dot(ap, ab) / length2, 0.0, 1.0) : 0.0;
        Vec2 const away = ap - t * ab;
        least = std::min(least, glm::dot(away, away));
    }
    return std::sqrt(least);
}

} // namespace leafwright
