// A photograph of 12 million pixels with five leaves on A4, traced after decoding; each step in ms as a counter.
// To beat: 1 s.
#include "leaf/photo_scene.h"
#include "leaf/trace.h"

#include <benchmark/benchmark.h>

#include <map>

namespace {

using namespace leafwright;

Photo const& five_leaves() {
    static Photo const photo = [] {
        PhotoScene scene;
        scene.width_px = 3000;
        scene.height_px = 4000;
        scene.shadow = 0.4;
        scene.ramp = 0.4;
        scene.tilt_deg = 12;
        scene.fill = 0.8;
        struct Place {
            char const* name;
            double length_mm;
            Vec2 middle_mm;
            double turn_deg;
        };
        for (Place const& p : {Place{"oak", 80, {60, 60}, 70}, Place{"beech", 60, {160, 60}, 190},
                               Place{"field-maple", 75, {60, 150}, 10}, Place{"ginkgo", 55, {160, 150}, 0},
                               Place{"willow", 90, {110, 240}, 60}}) {
            SceneLeaf leaf;
            leaf.shape = *draw_leaf(p.name, p.length_mm);
            leaf.middle_mm = p.middle_mm;
            leaf.turn_deg = p.turn_deg;
            leaf.stalk_mm = 12;
            scene.leaves.push_back(leaf);
        }
        return made_photo(scene).photo;
    }();
    return photo;
}

void trace_five_leaves(benchmark::State& state) {
    Photo const& photo = five_leaves();
    std::map<std::string, double> sums;
    for (auto _ : state) {
        Task task;
        auto const trace = trace_photo(photo, {}, task);
        if (!trace.ok() || trace->leaves.size() != 5)
            state.SkipWithError("five leaves were not found");
        else
            for (TraceStage const& stage : trace->stages) sums[stage.name + "_ms"] += stage.ms;
    }
    for (auto const& [name, sum] : sums)
        state.counters[name] = benchmark::Counter(sum, benchmark::Counter::kAvgIterations);
}
BENCHMARK(trace_five_leaves)->Unit(benchmark::kMillisecond)->UseRealTime();

void decode_jpeg(benchmark::State& state) {
    std::string const bytes = jpeg_of(five_leaves(), 85);
    for (auto _ : state) benchmark::DoNotOptimize(read_photo(bytes).ok());
}
BENCHMARK(decode_jpeg)->Unit(benchmark::kMillisecond)->UseRealTime();

} // namespace
