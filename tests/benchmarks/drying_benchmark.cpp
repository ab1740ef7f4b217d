// Drying of a clad piece of 120 leaves on cells of 2 mm: the implicit scheme (aim: 30 days in at most 0.3 s), beside a
// plain explicit scheme of our own on the same cells, whose step the thinnest cell limits.
#include "drying/drying_grid.h"
#include "piece/planner.h"
#include "piece/second_half.h"

#include "piece/sample_piece.h"

#include <benchmark/benchmark.h>

#include <algorithm>
#include <cmath>

using namespace leafwright;

namespace {

ClayMap clad_clay() {
    Planner planner;
    auto const plan = *planner.plan(sample::clad_piece(5));
    auto const face = face_map(*plan->outer_face, *plan->zone.rim, plan->stack->height, 2);
    return clay_map(face, plan->piece.slab.thickness_mm, pile_clay(*plan->stack), {}, {});
}

void drying_face_map(benchmark::State& state) {
    Planner planner;
    auto const plan = *planner.plan(sample::clad_piece(5));
    for (auto _ : state) benchmark::DoNotOptimize(face_map(*plan->outer_face, *plan->zone.rim, plan->stack->height, 2));
}
BENCHMARK(drying_face_map)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void drying_clay_map(benchmark::State& state) {
    Planner planner;
    auto const plan = *planner.plan(sample::clad_piece(5));
    auto const face = face_map(*plan->outer_face, *plan->zone.rim, plan->stack->height, 2);
    for (auto _ : state)
        benchmark::DoNotOptimize(clay_map(face, plan->piece.slab.thickness_mm, pile_clay(*plan->stack), {}, {}));
}
BENCHMARK(drying_clay_map)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

// All of it: moments, maps, cracks, and the ends of the range on coarse cells.
void drying_whole(benchmark::State& state) {
    ClayMap const clay = clad_clay();
    DryingClay const body = drying_clay(*body_of("stoneware"));
    double days = 0;
    for (auto _ : state) {
        Task task;
        days = dry(clay, body, {}, {}, task)->moments.back().hour / 24;
    }
    state.counters["days"] = days;
}
BENCHMARK(drying_whole)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

// Everything from wet clay to the wall (aim: at most 0.6 s), and the same when only the wire has changed.
void second_half_whole(benchmark::State& state) {
    Planner planner;
    auto const plan = *planner.plan(sample::clad_piece(5));
    for (auto _ : state) {
        Task task;
        benchmark::DoNotOptimize(plan_second_half(plan, task));
    }
}
BENCHMARK(second_half_whole)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

void second_half_other_wire(benchmark::State& state) {
    Planner planner;
    SecondHalfPlanner second;
    Piece piece = sample::clad_piece(5);
    Task task;
    second.plan(*planner.plan(piece), task);
    for (auto _ : state) {
        piece.hanging.breaking_N = piece.hanging.breaking_N == 300 ? 400 : 300;
        benchmark::DoNotOptimize(second.plan(*planner.plan(piece), task));
    }
}
BENCHMARK(second_half_other_wire)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

constexpr double kDry = 1.57;
constexpr double kD = 3.6;
DryingAir const kAir{28.5e-6 / 0.4, 0.6, 1};

void drying_30_days_implicit(benchmark::State& state) {
    ClayMap const clay = clad_clay();
    DryingGrid const grid = drying_grid(clay, kDry, kD, 1);
    for (auto _ : state) {
        DryingStepper stepper(grid, kD, kDry, 0.25);
        for (int i = 0; i < 120; ++i) benchmark::DoNotOptimize(stepper.step(6, kAir));
        state.counters["mean"] = stepper.water_g() / grid.dry_total_g;
    }
    state.counters["cells"] =
        static_cast<double>(std::count_if(grid.dry_g.begin(), grid.dry_g.end(), [](float m) { return m > 0; }));
}
BENCHMARK(drying_30_days_implicit)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

// X += dt/m (-outflow - flux); the surface is read with the last X. Step: 0.9 of what the stiffest cell bears.
void drying_3_days_explicit(benchmark::State& state) {
    ClayMap const clay = clad_clay();
    DryingGrid const grid = drying_grid(clay, kDry, kD, 1);
    double step = 6;
    for (std::size_t i = 0; i < grid.size(); ++i)
        if (grid.dry_g[i] > 0) {
            double const slope = kAir.exchange_g_mm2h / kSorptionWater * static_cast<double>(grid.open_mm2[i]) * 2;
            step = std::min(step, 0.9 * 2 * static_cast<double>(grid.dry_g[i]) / (2 * grid.links_of(i) + slope));
        }
    Sorption const sorption;
    for (auto _ : state) {
        std::vector<float> x(grid.size(), 0.25F);
        std::vector<float> next = x;
        for (double hour = 0; hour < 72; hour += step) {
            for (int row = 1; row + 1 < grid.rows; ++row)
                for (int column = grid.first[static_cast<std::size_t>(row)];
                     column < grid.last[static_cast<std::size_t>(row)]; ++column) {
                    std::size_t const i = grid.index(column, row);
                    if (!(grid.dry_g[i] > 0)) continue;
                    float e = 0;
                    float slope = 0;
                    sorption.read(x[i], e, slope);
                    float const flux = grid.open_mm2[i] * static_cast<float>(kAir.exchange_g_mm2h) * (0.4F - e);
                    next[i] = x[i] - static_cast<float>(step) / grid.dry_g[i] * (grid.outflow(x.data(), i) + flux);
                }
            x.swap(next);
        }
        benchmark::DoNotOptimize(x);
    }
    state.counters["step_min"] = 60 * step;
    state.counters["steps_30_days"] = 720 / step;
}
BENCHMARK(drying_3_days_explicit)->Unit(benchmark::kMillisecond)->MeasureProcessCPUTime();

} // namespace
