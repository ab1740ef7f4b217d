// Veins in an outline of 200 points, by the grid of sources and by the plain search of all sources at every new node.
#include "leaf/leaf_shape.h"
#include "leaf/vein_growth.h"

#include <benchmark/benchmark.h>

#include <cmath>

using namespace leafwright;

namespace {

// A leaf with teeth, 200 points.
Polygon toothed_leaf() {
    Polygon outline;
    for (int i = 0; i < 200; ++i) {
        double const t = 6.283185307179586 * i / 200;
        double const tooth = 1 + 0.04 * (i % 4 == 0 ? 1 : 0);
        outline.outer.emplace_back(-22 * tooth * std::sin(t), 40 - 40 * tooth * std::cos(t));
    }
    outline.outer = counter_clockwise(outline.outer);
    return outline;
}

void veins(benchmark::State& state, NearestBy by) {
    Polygon const outline = toothed_leaf();
    std::vector<Vec2> const midrib{{0, 0}, {0, 80}};
    for (auto unused : state)
        benchmark::DoNotOptimize(
            grow_vein_tree(outline, midrib, 0, static_cast<VeinPattern>(state.range(0)), 1, by).tree.size());
}

void drawer_leaf(benchmark::State& state) {
    DrawerEntry const entry = drawer_entries()[static_cast<std::size_t>(state.range(0))];
    state.SetLabel(entry.name);
    for (auto unused : state) benchmark::DoNotOptimize(draw_leaf(entry.name, 80)->veins.size());
}

} // namespace

BENCHMARK(drawer_leaf)->DenseRange(0, 3)->Unit(benchmark::kMillisecond)->Name("a leaf of the drawer with its veins");
BENCHMARK_CAPTURE(veins, grid, NearestBy::grid)
    ->DenseRange(0, 4)
    ->Unit(benchmark::kMillisecond)
    ->Name("veins in 200 points (pinnate, lobed, palmate, parallel, forking), sources by grid");
BENCHMARK_CAPTURE(veins, plain, NearestBy::plain)
    ->DenseRange(0, 2)
    ->Unit(benchmark::kMillisecond)
    ->Name("veins in 200 points, plain search (peer)");
