// What a program over Clipper (whole-number polygon clipping by Vatti's sweep) would do: the peer in the benchmarks.
#pragma once

#include "rows/overlap.h"

namespace leafwright::clipper {

// The same work as geos::Bench.
class Bench {
public:
    explicit Bench(std::span<OverlapLeaf const> leaves);
    ~Bench();
    Bench(Bench const&) = delete;
    Bench& operator=(Bench const&) = delete;

    // Intersections of all pairs whose boxes meet, the union of all leaves, and the area under at least two.
    double from_scratch();
    // One leaf in another place: its parts under each leaf near it, their union, and within it the area under at least
    // k leaves for every k.
    double move(std::size_t which, OverlapLeaf const& leaf);

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace leafwright::clipper
