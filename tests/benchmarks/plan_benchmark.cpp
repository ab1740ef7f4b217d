// A whole plan of a piece of 120 leaves: from nothing (aim: at most 0.25 s), and one step of a drag (aim: a few ms).
#include "piece/planner.h"

#include "piece/sample_piece.h"

#include <benchmark/benchmark.h>

using namespace leafwright;

namespace {

Piece dragged(Piece piece, int step) {
    LeafPlacement& leaf = piece.leaves[static_cast<std::size_t>(step / 16 * 37) % piece.leaves.size()];
    leaf.azimuth_deg += step % 2 == 0 ? 1.5 : -1.5;
    return piece;
}

void plan_from_nothing(benchmark::State& state) {
    Piece const piece = sample::clad_piece(5);
    for (auto _ : state) {
        Planner planner;
        benchmark::DoNotOptimize(planner.plan(piece));
    }
    state.counters["leaves"] = static_cast<double>(piece.leaves.size());
}
BENCHMARK(plan_from_nothing)->Unit(benchmark::kMillisecond)->UseRealTime();

void plan_one_leaf_moved(benchmark::State& state) {
    Piece const piece = sample::clad_piece(5);
    Planner planner;
    benchmark::DoNotOptimize(planner.plan(piece));
    int step = 0;
    for (auto _ : state) benchmark::DoNotOptimize(planner.plan(dragged(piece, step++)));
}
BENCHMARK(plan_one_leaf_moved)->Unit(benchmark::kMillisecond)->UseRealTime();

void plan_thickness_dragged(benchmark::State& state) {
    Piece piece = sample::clad_piece(5);
    Planner planner;
    benchmark::DoNotOptimize(planner.plan(piece));
    for (auto _ : state) {
        piece.slab.thickness_mm = piece.slab.thickness_mm > 9 ? 7 : piece.slab.thickness_mm + 0.1;
        benchmark::DoNotOptimize(planner.plan(piece));
    }
}
BENCHMARK(plan_thickness_dragged)->Unit(benchmark::kMillisecond)->UseRealTime();

} // namespace
