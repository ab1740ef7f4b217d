#include "slab/drape_ladder.h"

#include <cmath>

namespace leafwright {

namespace {

constexpr int kCoarsestRings = 16;
constexpr double kStartTolerance = 1e-4; // a coarser mesh is but a start: its own error is larger

std::vector<int> joints_of(DrapeMesh const& mesh) {
    std::vector<int> joints{static_cast<int>(mesh.region.first), static_cast<int>(mesh.region.last)};
    for (std::size_t s = 0; s < mesh.region.spokes.size(); ++s) joints.push_back(mesh.tip_ring(s));
    // Which way a mirror lies decides what it holds.
    joints.push_back(std::abs(std::sin(mesh.region.spokes.front().azimuth_rad)) < 0.5);
    joints.push_back(std::abs(std::sin(mesh.region.spokes.back().azimuth_rad)) < 0.5);
    return joints;
}

// The lattice of one sector: point (ring, i), i from 0 to ring.
class Sector {
public:
    Sector(DrapeMesh const& mesh, int sector, std::span<Vec2 const> value)
        : mesh_(mesh), sector_(sector), value_(value) {}
    bool has(int ring, int i) const { return ring >= 0 && ring <= mesh_.rings && i >= 0 && i <= ring; }
    Vec2 at(int ring, int i) const {
        auto const side = i == ring ? DrapeMesh::Side::lower : DrapeMesh::Side::upper;
        return value_[static_cast<std::size_t>(mesh_.vertex(ring, sector_ * ring + i, side))];
    }
    // Half way between two neighbours.
    Vec2 between(int ring, int i, int by_ring, int by_i) const {
        Vec2 const a = at(ring, i), b = at(ring + by_ring, i + by_i);
        bool const before = has(ring - by_ring, i - by_i), after = has(ring + 2 * by_ring, i + 2 * by_i);
        if (!before && !after) return 0.5 * (a + b);
        Vec2 const p = before ? at(ring - by_ring, i - by_i) : Vec2(0, 0);
        Vec2 const q = after ? at(ring + 2 * by_ring, i + 2 * by_i) : Vec2(0, 0);
        if (before && after) return (9.0 * (a + b) - p - q) / 16.0;
        return before ? (6.0 * a + 3.0 * b - p) / 8.0 : (3.0 * a + 6.0 * b - q) / 8.0;
    }

private:
    DrapeMesh const& mesh_;
    int sector_;
    std::span<Vec2 const> value_;
};

std::vector<Vec2> sum(std::vector<Vec2> a, std::span<Vec2 const> b) {
    for (std::size_t i = 0; i < a.size(); ++i) a[i] += b[i];
    return a;
}

std::vector<Vec2> difference(std::vector<Vec2> a, std::span<Vec2 const> b) {
    for (std::size_t i = 0; i < a.size(); ++i) a[i] -= b[i];
    return a;
}

// On a mirror the finer mesh's new vertices must lie on its line; near a cut's tip cubics swing off it.
void lay_on_mirrors(DrapeMesh const& mesh, std::vector<Vec2>& flat) {
    auto const lay = [&](std::size_t spoke) {
        double const azimuth = mesh.region.spokes[spoke].azimuth_rad;
        Vec2 const line(std::round(std::cos(azimuth)), std::round(std::sin(azimuth))); // of a quarter turn
        for (int ring = 1; ring <= mesh.tip_ring(spoke); ++ring) {
            Vec2& p = flat[static_cast<std::size_t>(mesh.vertex(ring, static_cast<int>(spoke) * ring))];
            p = glm::dot(p, line) * line;
        }
    };
    if (mesh.region.first == DrapeEnd::mirror) lay(0);
    if (mesh.region.last == DrapeEnd::mirror) lay(mesh.region.spokes.size() - 1);
}

std::vector<int> rungs_to(int rings) {
    std::vector<int> rungs{rings};
    while (rungs.back() % 2 == 0 && rungs.back() / 2 >= kCoarsestRings / 2) rungs.push_back(rungs.back() / 2);
    return {rungs.rbegin(), rungs.rend()};
}

} // namespace

std::vector<Vec2> refine(DrapeMesh const& coarse, DrapeMesh const& fine, std::span<Vec2 const> moved) {
    std::vector<Vec2> out(fine.azimuth.size(), moved[0]);
    for (int sector = 0; sector < fine.sectors(); ++sector) {
        Sector const from(coarse, sector, moved);
        for (int ring = 1; ring <= fine.rings; ++ring)
            for (int i = 0; i <= ring; ++i) {
                auto const side = i == ring ? DrapeMesh::Side::lower : DrapeMesh::Side::upper;
                int const k = ring / 2, j = i / 2, odd_ring = ring % 2, odd = i % 2;
                out[static_cast<std::size_t>(fine.vertex(ring, sector * ring + i, side))] =
                    odd_ring || odd ? from.between(k, j, odd_ring, odd) : from.at(k, j);
            }
    }
    return out;
}

// Openings leave out triangles in ways the joints do not tell; such solvers are not kept.
DrapeSolver& DrapeLadder::solver_for(DrapeMesh const& mesh, bool plain) {
    std::vector<int> joints = plain ? joints_of(mesh) : std::vector<int>{};
    for (Rung& rung : rungs_) {
        if (rung.rings != mesh.rings) continue;
        if (!plain || rung.joints != joints) rung = {mesh.rings, joints, std::make_shared<DrapeSolver>(mesh)};
        return *rung.solver;
    }
    rungs_.push_back({mesh.rings, joints, std::make_shared<DrapeSolver>(mesh)});
    return *rungs_.back().solver;
}

LadderResult DrapeLadder::solve(MeridianTable const& middle, DrapeRegion const& region, LadderOptions const& options,
                                Task& task) {
    std::vector<int> const rungs = rungs_to(options.rings);
    LadderResult last;
    int steps = 0;
    std::vector<Vec2> stuck_before;
    for (int rings : rungs) {
        bool const top = rings == rungs.back();
        LadderResult here{make_drape_mesh(middle, region, rings, options.openings), {}, 0, true};
        Membrane const membrane(here.mesh, options.law);
        std::vector<Vec2> const stuck = stuck_positions(here.mesh);
        std::vector<Vec2> start = stuck;
        if (!last.solve.flat.empty()) {
            start = sum(refine(last.mesh, here.mesh, difference(last.solve.flat, stuck_before)), stuck);
            if (!membrane.is_upright(start)) start = stuck;
        }
        lay_on_mirrors(here.mesh, start);
        here.upright = membrane.is_upright(start);
        if (here.upright) {
            DrapeSolver& solver = solver_for(here.mesh, options.openings.empty());
            here.solve = solver.solve(membrane, std::move(start), top ? options.tolerance : kStartTolerance, task);
        } else
            here.solve.flat = stuck;
        steps += here.solve.steps;
        here.steps_in_all = steps;
        last = std::move(here);
        stuck_before = stuck;
        if (last.solve.cancelled) break;
        task.progress(std::pow(static_cast<double>(rings) / options.rings, 2));
    }
    return last;
}

LadderResult DrapeLadder::follow(MeridianTable const& middle, DrapeRegion const& region, LadderOptions const& options,
                                 Task& task) {
    LadderResult here{make_drape_mesh(middle, region, options.rings, options.openings), {}, 0, true};
    Membrane const membrane(here.mesh, options.law);
    std::vector<Vec2> const stuck = stuck_positions(here.mesh);
    std::vector<int> joints = joints_of(here.mesh);
    joints.push_back(options.rings);
    std::vector<Vec2> start = joints == moved_joints_ ? sum(moved_, stuck) : stuck;
    lay_on_mirrors(here.mesh, start);
    if (!membrane.is_upright(start)) start = stuck;
    here.upright = membrane.is_upright(start);
    here.solve.flat = start;
    if (here.upright)
        here.solve =
            solver_for(here.mesh, options.openings.empty()).solve(membrane, std::move(start), options.tolerance, task);
    here.steps_in_all = here.solve.steps;
    moved_ = difference(here.solve.flat, stuck);
    moved_joints_ = std::move(joints);
    return here;
}

} // namespace leafwright
