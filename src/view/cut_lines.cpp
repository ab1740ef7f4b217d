#include "view/cut_lines.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kOver_mm = 0.35;
constexpr double kCross_mm = 14; // each arm
constexpr double kTick_mm = 14;
constexpr int kBand = 360; // steps round the band

std::vector<LineVertex> run_of(std::span<Vec2 const> points, double z) {
    std::vector<LineVertex> run;
    for (Vec2 const& p : points) run.push_back({floats({p, z}), {}, 0});
    return run;
}

void add(LineSet& lines, Vec2 const& a, Vec2 const& b, double z) {
    Vec2 const ends[] = {a, b};
    lines.add_run(run_of(ends, z), false);
}

// How far the ring reaches from the origin that way.
double reach(Ring const& ring, Vec2 const& way) {
    double most = 0;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const &a = ring[i], &b = ring[(i + 1) % ring.size()];
        double const ca = cross(way, a), cb = cross(way, b);
        if ((ca <= 0) == (cb <= 0)) continue;
        most = std::max(most, glm::dot(way, a + ca / (ca - cb) * (b - a)));
    }
    return most;
}

// A dart's wedge falls out: there is no rim.
bool in_dart(SlabAnswer const& slab, Vec2 const& at) {
    return std::any_of(slab.cuts.begin(), slab.cuts.end(),
                       [&](SlabCutAnswer const& dart) { return contains(dart.notch_mm, at); });
}

Mesh band_mesh(SlabAnswer const& slab, double z) {
    Ring const &a = slab.sliding_mm, &b = slab.sticking_mm;
    Mesh mesh;
    for (int k = 0; k < kBand; ++k) {
        double const azimuth = kTwoPi * (k + 0.001) / kBand;
        Vec2 const way{std::cos(azimuth), std::sin(azimuth)};
        double const ra = reach(a, way), rb = reach(b, way);
        for (double const r : {std::min(ra, rb), std::max(ra, rb)}) {
            MeshVertex vertex;
            vertex.position = floats({r * way, z});
            vertex.flat = vertex.position;
            vertex.normal = packed({0, 0, 1});
            vertex.flat_normal = vertex.normal;
            vertex.uv = {vertex.position[0], vertex.position[1]};
            mesh.vertices.push_back(vertex);
        }
        if (in_dart(slab, (std::min(ra, rb) + 0.5) * way)) continue;
        auto const i = static_cast<std::uint32_t>(2 * k), n = static_cast<std::uint32_t>(2 * ((k + 1) % kBand));
        for (std::uint32_t const v : {i, i + 1, n + 1, i, n + 1, n}) mesh.indices.push_back(v);
    }
    return mesh;
}

} // namespace

void CutLines::update(SlabAnswer const& slab, double thickness_mm) {
    double const z = thickness_mm + kOver_mm;
    LineSet cut, edges, through, cross_hairs, notches;
    cut.add_run(run_of(slab.outline_mm, z), true);
    edges.add_run(run_of(slab.sliding_mm, z), true);
    edges.add_run(run_of(slab.sticking_mm, z), true);
    for (Vec2 const& way : {Vec2{1, 0}, Vec2{0, 1}}) {
        double const ahead = reach(slab.outline_mm, way), back = reach(slab.outline_mm, -way);
        add(through, -back * way, ahead * way, z);
        add(cross_hairs, -kCross_mm * way, kCross_mm * way, z);
        add(cross_hairs, (ahead - kTick_mm) * way, ahead * way, z);
        add(cross_hairs, -back * way, (kTick_mm - back) * way, z);
    }
    for (SlabCutAnswer const& dart : slab.cuts) notches.add_run(run_of(dart.notch_mm, z), false);
    outline.update(cut);
    rim.update(edges);
    axes.update(through);
    marks.update(cross_hairs);
    darts.update(notches);
    band = GpuMesh(band_mesh(slab, thickness_mm + 0.5 * kOver_mm));
}

} // namespace leafwright
