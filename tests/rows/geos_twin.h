// The same areas by GEOS, a polygon library that shares nothing with ours: it builds every intersection and union.
#pragma once

#include "rows/overlap.h"

namespace leafwright::geos {

struct TwinOptions {
    bool pairs = true;
    bool layers = true; // slow: builds the area under at least k leaves for every k
    bool exposed = true;
    bool zone = true;
};

// Fills the same figures. `lap` and `leaves[].overhang_mm2` are filled with `exposed`.
OverlapFigures twin_figures(CladZone const& zone, std::span<OverlapLeaf const> leaves, TwinOptions const& options);

// What a program over GEOS would do for all pairs, the union and the layers: for the benchmarks.
class Bench {
public:
    explicit Bench(std::span<OverlapLeaf const> leaves);
    ~Bench();
    Bench(Bench const&) = delete;
    Bench& operator=(Bench const&) = delete;

    // Intersections of all pairs whose boxes meet, the union of all leaves (cascaded), and the area under at least two.
    double from_scratch();
    // One leaf in another place, everything else kept: its parts under each leaf near it, what the union gains by it
    // (the leaf less the union of these parts), and within it the area under at least k leaves for every k. The same
    // for its old place would have to be taken off; that is not counted.
    double move(std::size_t which, OverlapLeaf const& leaf);

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace leafwright::geos
