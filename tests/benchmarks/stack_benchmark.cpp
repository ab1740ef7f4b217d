// The stack of an oval piece clad in rows of leaves, 72 x 42 mm of 90 points, five layers at most.
#include "rows/stack.h"

#include "rows/made_up_leaves.h"

#include <benchmark/benchmark.h>

namespace {

using namespace leafwright;

LeafPointer row_leaf(int id, Vec2 const& middle, double turn_rad) {
    return made_up_leaf(id, {lobed_ring(middle, 72, 42, turn_rad, 0.05, 90), {}}, 5);
}

// Six rows from the edge inward, half a pitch apart, on an oval that holds the leaves at an even lap.
std::vector<LeafPointer> clad_oval(int count) {
    double const size = std::sqrt(count / 117.0);
    std::vector<LeafPointer> leaves;
    int const rows = static_cast<int>(std::round(6 * size));
    for (int row = 0; row < rows; ++row) {
        double const share = 1.0 - 0.99 * row / rows;
        int const in_row = std::max(5, static_cast<int>(34 * size * share));
        for (int k = 0; k < in_row; ++k) {
            double const t = kTwoPi * (k + 0.5 * (row % 2)) / in_row;
            Vec2 const middle = size * share * Vec2(180 * std::cos(t), 230 * std::sin(t));
            leaves.push_back(row_leaf(static_cast<int>(leaves.size()) + 1, middle, std::atan2(middle.y, middle.x)));
        }
    }
    return leaves;
}

Ring oval_rim(int count) {
    double const size = std::sqrt(count / 117.0);
    return lobed_ring({0, 0}, 360 * size, 460 * size, 0, 0, 720);
}

void stack_from_scratch(benchmark::State& state) {
    int const count = static_cast<int>(state.range(0));
    StackOptions const options{.cell_mm = 1.0 / static_cast<double>(state.range(1))};
    std::vector<LeafPointer> const leaves = clad_oval(count);
    Ring const rim = oval_rim(count);
    for (auto _ : state) benchmark::DoNotOptimize(StackEngine(options).update(rim, leaves, {}));
    state.counters["leaves"] = static_cast<double>(leaves.size());
}
BENCHMARK(stack_from_scratch)
    ->ArgNames({"leaves", "cells_per_mm"})
    ->ArgsProduct({{120, 300}, {1, 2}})
    ->Unit(benchmark::kMillisecond);

void stack_after_a_move(benchmark::State& state) {
    int const count = static_cast<int>(state.range(0));
    std::vector<LeafPointer> leaves = clad_oval(count);
    Ring const rim = oval_rim(count);
    StackEngine engine({.cell_mm = 1.0 / static_cast<double>(state.range(1))});
    auto field = engine.update(rim, leaves, {});
    Random random(1);
    double pressed = 0;
    for (auto _ : state) {
        state.PauseTiming();
        LeafPointer& leaf = leaves[random.below(static_cast<std::uint32_t>(leaves.size()))];
        Vec2 const by{random.between(-2, 2), random.between(-2, 2)};
        auto moved = std::make_shared<LaidLeaf>(*leaf);
        for (Vec2& p : moved->chart.outer) p += by;
        leaf = moved;
        state.ResumeTiming();
        auto const next = engine.update(rim, leaves, {});
        state.PauseTiming();
        for (std::size_t k = 0; k < leaves.size(); ++k) pressed += next->leaves[k] != field->leaves[k] ? 1 : 0;
        field = next;
        state.ResumeTiming();
    }
    state.counters["pressed_again"] = pressed / static_cast<double>(state.iterations());
}
BENCHMARK(stack_after_a_move)
    ->ArgNames({"leaves", "cells_per_mm"})
    ->ArgsProduct({{120, 300, 1000}, {1}})
    ->Unit(benchmark::kMillisecond);

} // namespace
