// A whole plan of a piece of 120 leaves: from nothing (aim: at most 0.25 s), and one step of a drag; and the drag step
// of a laid piece of about 300 leaves (aim: at most 4 ms median, 8 ms p99).
#include "piece/planner.h"

#include "piece/sample_piece.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <chrono>
#include <cmath>

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

// The new piece with its rows laid; kinds of that length.
Piece laid_piece(double length_mm) {
    Piece piece = new_piece();
    for (LeafKindSpec& kind : piece.leaf_kinds) kind.length_mm = length_mm;
    Task task;
    return lay_piece(piece, task)->piece;
}

// One leaf after another is drawn to and fro over the clay, a step of 0.5 to 3 mm each time, as a hand does: geodesics,
// overlap, stack, weights, size, warnings, everything that a plan holds.
void plan_drag_step(benchmark::State& state) {
    constexpr int kStepsEach = 12;
    Piece piece = laid_piece(static_cast<double>(state.range(0)));
    Planner planner;
    benchmark::DoNotOptimize(planner.plan(piece));
    Random random(3);
    std::size_t which = 0;
    std::vector<double> took_ms;
    for (auto _ : state) {
        if (took_ms.size() % kStepsEach == 0) which = random.below(static_cast<std::uint32_t>(piece.leaves.size()));
        LeafPlacement& leaf = piece.leaves[which];
        leaf.from_crown_mm = std::max(1.0, leaf.from_crown_mm + random.between(-3, 3));
        leaf.azimuth_deg += random.between(-1, 1);
        auto const start = std::chrono::steady_clock::now();
        benchmark::DoNotOptimize(planner.plan(piece));
        took_ms.push_back(std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
        state.SetIterationTime(took_ms.back() / 1e3);
    }
    std::ranges::sort(took_ms);
    auto const at = [&](double share) { return took_ms[static_cast<std::size_t>(share * (took_ms.size() - 1))]; };
    state.counters["leaves"] = static_cast<double>(piece.leaves.size());
    state.counters["p50_ms"] = at(0.5);
    state.counters["p99_ms"] = at(0.99);
    state.counters["most_ms"] = took_ms.back();
}
BENCHMARK(plan_drag_step)
    ->ArgName("leaf_mm")
    ->Arg(80)
    ->Arg(42)
    ->Unit(benchmark::kMillisecond)
    ->UseManualTime()
    ->Iterations(3000);

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
