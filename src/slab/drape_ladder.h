// A slab solved on nested meshes, from the coarsest to the one that is wanted.
#pragma once

#include "slab/drape_solver.h"

#include <optional>

namespace leafwright {

struct LadderOptions {
    int rings = 52;
    double tolerance = 1e-6;
    DrapeLaw law;
    std::vector<std::vector<Spot>> openings; // rings on the middle surface
};

struct LadderResult {
    DrapeMesh mesh;
    DrapeSolve solve;
    int steps_in_all = 0;
    bool upright = true; // false: even the slab laid as it first touches is folded on this mesh; flat is that one
};

// Keeps the solvers of the last region, so that the next one of the same joints starts at once. The answer is the same
// with a new ladder.
class DrapeLadder {
public:
    LadderResult solve(MeridianTable const& middle, DrapeRegion const& region, LadderOptions const& options,
                       Task& task);
    // One mesh alone, from wherever the last such call ended when the joints are the same: for the next frame.
    LadderResult follow(MeridianTable const& middle, DrapeRegion const& region, LadderOptions const& options,
                        Task& task);

private:
    struct Rung { // a solver and the joints it is for
        int rings = 0;
        std::vector<int> joints;
        std::shared_ptr<DrapeSolver> solver;
    };
    DrapeSolver& solver_for(DrapeMesh const& mesh, bool plain);
    std::vector<Rung> rungs_;
    std::vector<Vec2> moved_; // the last followed answer, less the stuck slab
    std::vector<int> moved_joints_;
};

// Displacements on a mesh of twice the rings, by cubics along the three lines of the lattice, never across a spoke.
std::vector<Vec2> refine(DrapeMesh const& coarse, DrapeMesh const& fine, std::span<Vec2 const> moved);

} // namespace leafwright
