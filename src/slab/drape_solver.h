// Where every vertex of a slab lies in the flat, by Newton's method on the membrane's energy.
#pragma once

#include "base/task.h"
#include "slab/membrane.h"

#include <memory>

namespace leafwright {

struct DrapeSolve {
    std::vector<Vec2> flat; // by vertex
    double energy_mm2 = 0;  // integral of W over the flat
    int steps = 0;          // Newton steps taken
    bool settled = false;   // the foreseen relative change of energy fell below the tolerance
    bool cancelled = false; // flat is then the best so far
};

// Holds what depends on the mesh's joints alone (order of elimination, pattern of the factor), so that solves while a
// slider moves begin at once. Mirror ends hold their vertices on the line of their azimuth, which must be a multiple of
// a quarter turn; a piece without mirrors is held at the crown and against turning.
class DrapeSolver {
public:
    explicit DrapeSolver(DrapeMesh const& mesh);
    ~DrapeSolver();
    DrapeSolver(DrapeSolver&&) noexcept;
    DrapeSolver& operator=(DrapeSolver&&) noexcept;

    // `start` must be upright. Every step keeps all triangles upright and lowers the energy; the Hessian's negative
    // curvature is left out triangle by triangle. Ends when half the Newton decrement is below tolerance * energy (or
    // below a mean strain of about 1e-7), the last step taken.
    DrapeSolve solve(Membrane const& membrane, std::vector<Vec2> start, double tolerance, Task& task);

private:
    struct Data;
    std::unique_ptr<Data> data_;
};

} // namespace leafwright
