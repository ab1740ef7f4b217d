// The same areas by CGAL's booleans in exact arithmetic: no rounding anywhere until an area is told.
#pragma once

#include "rows/overlap.h"

namespace leafwright::cgal {

// Fills area, union, zone, bare, overhang, pairs and each leaf's exposed area and overhang; no layers. Rings must be
// simple.
OverlapFigures twin_figures(CladZone const& zone, std::span<OverlapLeaf const> leaves);

// The same work as geos::Bench::move without the layers.
class Bench {
public:
    explicit Bench(std::span<OverlapLeaf const> leaves);
    ~Bench();
    Bench(Bench const&) = delete;
    Bench& operator=(Bench const&) = delete;
    double move(std::size_t which, OverlapLeaf const& leaf);

private:
    struct State;
    std::unique_ptr<State> state_;
};

} // namespace leafwright::cgal
