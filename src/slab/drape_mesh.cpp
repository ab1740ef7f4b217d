#include "slab/drape_mesh.h"

#include "base/polygon.h"
#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kCoarsestTriangles = 1350;

void add_vertex(DrapeMesh& mesh, MeridianTable const& middle, double azimuth, double share) {
    double const length = share * middle.rim_mm(azimuth);
    MeridianPoint const point = middle.at(azimuth, length);
    mesh.azimuth.push_back(azimuth);
    mesh.share.push_back(share);
    mesh.length_mm.push_back(length);
    double const c = std::cos(azimuth), s = std::sin(azimuth);
    mesh.place.push_back({point.rho * c, point.rho * s, point.z});
    double const upright = std::sqrt(std::max(0.0, 1 - point.normal_round * point.normal_round));
    double const out = -upright * point.tangent_up, round = point.normal_round;
    bool const crown = share == 0;
    mesh.normal.push_back(crown ? Vec3(0, 0, 1)
                                : Vec3(out * c - round * s, out * s + round * c, upright * point.tangent_out));
}

void add_rings(DrapeMesh& mesh, MeridianTable const& middle) {
    std::vector<Spoke> const& spokes = mesh.region.spokes;
    add_vertex(mesh, middle, spokes.front().azimuth_rad, 0);
    for (int ring = 1; ring <= mesh.rings; ++ring) {
        int const columns = mesh.sectors() * ring + (mesh.is_joined() ? 0 : 1);
        for (int column = 0; column < columns; ++column) {
            auto const sector = static_cast<std::size_t>(std::min(column / ring, mesh.sectors() - 1));
            double const part = static_cast<double>(column) / ring - static_cast<double>(sector);
            double const a = spokes[sector].azimuth_rad, b = spokes[sector + 1].azimuth_rad;
            add_vertex(mesh, middle, a + part * (b - a), static_cast<double>(ring) / mesh.rings);
        }
    }
}

// The ends of a wedge have one side only; the last spoke of the whole piece is the first.
void add_lower_copies(DrapeMesh& mesh, MeridianTable const& middle) {
    std::size_t const stride = static_cast<std::size_t>(mesh.rings) + 1;
    mesh.lower_copy.assign(stride * mesh.region.spokes.size(), -1);
    for (int spoke = mesh.is_joined() ? 0 : 1; spoke < mesh.sectors(); ++spoke) {
        auto const s = static_cast<std::size_t>(spoke);
        for (int ring = mesh.tip_ring(s) + 1; ring <= mesh.rings; ++ring) {
            mesh.lower_copy[s * stride + static_cast<std::size_t>(ring)] = mesh.vertices();
            add_vertex(mesh, middle, mesh.region.spokes[s].azimuth_rad, static_cast<double>(ring) / mesh.rings);
        }
    }
}

class OpeningTest {
public:
    explicit OpeningTest(std::vector<std::vector<Spot>> const& openings) {
        for (auto const& opening : openings) {
            Ring ring;
            for (Spot const& s : opening) ring.push_back(spread(s.azimuth_rad, s.from_crown_mm));
            rings_.push_back(std::move(ring));
        }
    }
    bool holds(DrapeMesh const& mesh, DrapeTriangle const& t) const {
        if (rings_.empty()) return false;
        Vec2 middle(0, 0);
        for (int v : t) middle += spread(mesh.azimuth[std::size_t(v)], mesh.length_mm[std::size_t(v)]) / 3.0;
        return std::any_of(rings_.begin(), rings_.end(), [&](Ring const& ring) { return contains(ring, middle); });
    }

private:
    static Vec2 spread(double azimuth, double length) {
        return {length * std::cos(azimuth), length * std::sin(azimuth)};
    }
    std::vector<Ring> rings_;
};

void add_triangles(DrapeMesh& mesh, OpeningTest const& opening) {
    using Side = DrapeMesh::Side;
    auto const add = [&](DrapeTriangle const& t) {
        if (!opening.holds(mesh, t)) mesh.triangles.push_back(t);
    };
    for (int ring = 0; ring < mesh.rings; ++ring)
        for (int sector = 0; sector < mesh.sectors(); ++sector)
            for (int i = 0; i <= ring; ++i) {
                // Seen from this sector its first spoke is the upper side of a cut, its last the lower.
                auto const inner = [&](int k) {
                    return mesh.vertex(ring, sector * ring + k, k == ring && ring > 0 ? Side::lower : Side::upper);
                };
                auto const outer = [&](int k) {
                    return mesh.vertex(ring + 1, sector * (ring + 1) + k, k == ring + 1 ? Side::lower : Side::upper);
                };
                add({outer(i), outer(i + 1), inner(i)});
                if (i < ring) add({inner(i), outer(i + 1), inner(i + 1)});
            }
}

} // namespace

int DrapeMesh::tip_ring(std::size_t spoke) const {
    return std::clamp(static_cast<int>(std::ceil(region.spokes[spoke].tip_share * rings - 1e-9)), 1, rings);
}

int DrapeMesh::vertex(int ring, int column, Side side) const {
    if (ring == 0) return 0;
    int const whole = sectors() * ring;
    if (is_joined() && column >= whole) column -= whole;
    if (side == Side::lower && column % ring == 0) {
        auto const spoke = static_cast<std::size_t>(column / ring);
        std::int32_t const copy = lower_copy[spoke * static_cast<std::size_t>(rings + 1) + std::size_t(ring)];
        if (copy >= 0) return copy;
    }
    return 1 + sectors() * ring * (ring - 1) / 2 + (is_joined() ? 0 : ring - 1) + column;
}

std::vector<int> DrapeMesh::rim_of(int sector) const {
    std::vector<int> rim;
    for (int i = 0; i <= rings; ++i)
        rim.push_back(vertex(rings, sector * rings + i, i == rings ? Side::lower : Side::upper));
    return rim;
}

DrapeMesh make_drape_mesh(MeridianTable const& middle, DrapeRegion const& region, int rings,
                          std::vector<std::vector<Spot>> const& openings) {
    DrapeMesh mesh;
    mesh.rings = rings;
    mesh.region = region;
    add_rings(mesh, middle);
    add_lower_copies(mesh, middle);
    add_triangles(mesh, OpeningTest(openings));
    return mesh;
}

std::vector<Vec2> stuck_positions(DrapeMesh const& mesh) {
    std::vector<Vec2> at(mesh.azimuth.size());
    for (std::size_t v = 0; v < at.size(); ++v)
        at[v] = mesh.length_mm[v] * Vec2(std::cos(mesh.azimuth[v]), std::sin(mesh.azimuth[v]));
    return at;
}

int rings_for(DrapeRegion const& whole, int wanted_triangles) {
    double const sectors = static_cast<double>(whole.spokes.size() - 1);
    int const coarsest = std::max(4, static_cast<int>(std::lround(std::sqrt(kCoarsestTriangles / sectors))));
    double const doublings = std::log2(std::sqrt(wanted_triangles / sectors) / coarsest);
    return coarsest << std::max(0, static_cast<int>(std::lround(doublings)));
}

} // namespace leafwright
