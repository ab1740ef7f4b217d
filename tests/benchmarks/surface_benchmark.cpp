// Making the surface, and laying one leaf of 120 points on it (to be at most 100 us).
#include "base/units.h"
#include "former/surface.h"
#include "slab/slab.h"

#include <benchmark/benchmark.h>
#include <cmath>

using namespace leafwright;

namespace {

Former oval_dome() {
    FormerSpec spec;
    spec.outline.width_mm = 300;
    spec.outline.height_mm = 400;
    spec.profile.crown_mm = 120;
    return *Former::make(spec);
}

ClaySurface outer_face() { return ClaySurface::make(oval_dome(), {.offset_mm = 8}); }

// A leaf of 75 x 40 mm about its middle.
Ring leaf_of(int points) {
    Ring ring;
    for (int i = 0; i < points; ++i) {
        double const t = kTwoPi * i / points;
        ring.push_back({20 * std::cos(t), 37.5 * std::sin(t)});
    }
    return ring;
}

// Argument: the middle's share of the way from crown to rim, per cent.
void lay_leaf_of_120_points(benchmark::State& state) {
    ClaySurface const surface = outer_face();
    Ring const leaf = leaf_of(120);
    std::vector<LaidPoint> laid(leaf.size());
    double const from_crown = surface.rim_from_crown_mm(0.6) * static_cast<double>(state.range(0)) / 100;
    for (auto _ : state) {
        surface.lay({0.6, from_crown}, 0.3, leaf, laid);
        benchmark::DoNotOptimize(laid.data());
        benchmark::ClobberMemory();
    }
}
BENCHMARK(lay_leaf_of_120_points)->Arg(0)->Arg(50)->Arg(90)->Arg(98)->Unit(benchmark::kMicrosecond);

void make_former_and_measure(benchmark::State& state) {
    for (auto _ : state) benchmark::DoNotOptimize(oval_dome().measures());
}
BENCHMARK(make_former_and_measure)->Unit(benchmark::kMillisecond);

void make_surface(benchmark::State& state) {
    Former const former = oval_dome();
    for (auto _ : state) benchmark::DoNotOptimize(ClaySurface::make(former, {.offset_mm = 8}));
}
BENCHMARK(make_surface)->Unit(benchmark::kMillisecond)->UseRealTime();

void unroll_the_slab(benchmark::State& state) {
    Former const former = oval_dome();
    for (auto _ : state) benchmark::DoNotOptimize(unroll_slab(former, {}));
}
BENCHMARK(unroll_the_slab)->Unit(benchmark::kMillisecond)->UseRealTime();

void chart_to_spot(benchmark::State& state) {
    ClaySurface const surface = outer_face();
    Vec2 const chart = surface.to_chart({0.6, 150});
    for (auto _ : state) benchmark::DoNotOptimize(surface.from_chart(chart));
}
BENCHMARK(chart_to_spot);

void pick_by_a_ray(benchmark::State& state) {
    ClaySurface const surface = outer_face();
    for (auto _ : state) benchmark::DoNotOptimize(surface.hit({60, -300, 500}, {-0.05, 0.7, -1}));
}
BENCHMARK(pick_by_a_ray)->Unit(benchmark::kMicrosecond);

} // namespace
