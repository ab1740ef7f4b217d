// All figures of the overlap engine, beside Clipper, GEOS and CGAL's exact booleans in the same program.
//
// What the peer does: `from_scratch` intersects every pair whose boxes meet, unites all leaves (cascaded), and unites
// the intersections (the area under at least two leaves). `move` works round the moved leaf only, see geos_twin.h (CGAL
// leaves the layers out). Ours
// gives besides each leaf's exposed area, bare clay, overhang, every layer; so the peer does less. A move is one step
// of a drag: one leaf goes to and fro by a few millimetres, after 16 steps it is another's turn. Layouts: "cover"
// leaves lie 2.2 deep whatever their number; "crowd" leaves lie on one piece of 220 mm radius.
#include "cgal_twin.h"
#include "clipper_twin.h"
#include "geos_twin.h"
#include "overlap_layouts.h"

#include <benchmark/benchmark.h>

using namespace leafwright;
using namespace leafwright::layouts;

namespace {

enum Kind { cover, crowd };

Layout layout_of(benchmark::State const& state) {
    int const count = static_cast<int>(state.range(0));
    return state.range(1) == cover ? scattered(count, 77) : crowded(count, 77);
}

struct Drag {
    explicit Drag(Layout const& layout) : random(5) {
        for (OverlapLeaf const& old : layout.leaves) {
            Vec2 const by{random.between(-4, 4), random.between(-4, 4)};
            Polygon moved = *old.chart;
            for (Vec2& p : moved.outer) p += by;
            for (Ring& hole : moved.holes)
                for (Vec2& p : hole) p += by;
            spare.push_back(as_leaf(old.id, std::move(moved)));
        }
    }
    std::size_t next() {
        if (steps++ % 16 == 0) leaf = random.below(static_cast<std::uint32_t>(spare.size()));
        return leaf;
    }

    Random random;
    std::size_t leaf = 0;
    int steps = 0;
    std::vector<OverlapLeaf> spare; // every leaf's other place
};

void overlap_move(benchmark::State& state) {
    Layout layout = layout_of(state);
    Drag drag(layout);
    OverlapEngine engine;
    engine.update(layout.zone, layout.leaves);
    for (auto _ : state) {
        std::size_t const which = drag.next();
        std::swap(layout.leaves[which].chart, drag.spare[which].chart);
        benchmark::DoNotOptimize(engine.update(layout.zone, layout.leaves).union_mm2);
    }
}

void overlap_from_scratch(benchmark::State& state) {
    Layout const layout = layout_of(state);
    for (auto _ : state) {
        OverlapEngine engine;
        benchmark::DoNotOptimize(engine.update(layout.zone, layout.leaves).union_mm2);
    }
}

template <class Peer> void peer_move(benchmark::State& state) {
    Layout layout = layout_of(state);
    Drag drag(layout);
    Peer peer(layout.leaves);
    for (auto _ : state) {
        std::size_t const which = drag.next();
        std::swap(layout.leaves[which].chart, drag.spare[which].chart);
        benchmark::DoNotOptimize(peer.move(which, layout.leaves[which]));
    }
}

template <class Peer> void peer_from_scratch(benchmark::State& state) {
    Peer peer(layout_of(state).leaves);
    for (auto _ : state) benchmark::DoNotOptimize(peer.from_scratch());
}

void sizes(benchmark::internal::Benchmark* b) {
    b->ArgNames({"leaves", "crowd"});
    for (int const kind : {cover, crowd})
        for (int const count : {100, 300, 1000}) b->Args({count, kind});
}

} // namespace

BENCHMARK(overlap_move)->Apply(sizes)->Unit(benchmark::kMicrosecond);
BENCHMARK(peer_move<clipper::Bench>)->Apply(sizes)->Unit(benchmark::kMicrosecond);
BENCHMARK(peer_move<geos::Bench>)->Apply(sizes)->Unit(benchmark::kMicrosecond);
BENCHMARK(peer_move<cgal::Bench>)->Apply(sizes)->Unit(benchmark::kMicrosecond);
BENCHMARK(overlap_from_scratch)->Apply(sizes)->Unit(benchmark::kMicrosecond);
BENCHMARK(peer_from_scratch<clipper::Bench>)->Apply(sizes)->Unit(benchmark::kMicrosecond);
BENCHMARK(peer_from_scratch<geos::Bench>)->Apply(sizes)->Unit(benchmark::kMicrosecond);
