// Laying whole arrangements: about 100 leaves (to be at most 1 s) and about 300 (at most 3 s).
#include "rows/lay_rows.h"

#include <benchmark/benchmark.h>

using namespace leafwright;

namespace {

ClaySurface oval_face() {
    FormerSpec spec;
    spec.outline.width_mm = 300;
    spec.outline.height_mm = 400;
    spec.profile.crown_mm = 90;
    return ClaySurface::make(*Former::make(spec), {.offset_mm = 8});
}

LeafPattern pattern(char const* name, double length_mm) {
    return *resolve_leaf_kind({name, std::string("drawer:") + name, length_mm, 5});
}

RowRule rule(int row, std::vector<std::string> kinds) {
    RowRule made;
    made.row = row;
    made.kinds = std::move(kinds);
    made.overhang_mm = 15;
    return made;
}

Feature feature(FeatureKind kind, double azimuth_deg, double from_crown_mm, double width_mm, double height_mm) {
    Feature made;
    made.kind = kind;
    made.azimuth_deg = azimuth_deg;
    made.from_crown_mm = from_crown_mm;
    made.width_mm = width_mm;
    made.height_mm = height_mm;
    return made;
}

// Argument: the leaves' length, mm.
void lay_whole_piece(benchmark::State& state, std::vector<Feature> const& features) {
    ClaySurface const surface = oval_face();
    auto const length = static_cast<double>(state.range(0));
    std::vector<LeafPattern> const patterns{pattern("hornbeam", length), pattern("beech", length)};
    LayRequest request;
    request.surface = &surface;
    request.patterns = patterns;
    request.rules.rules = {rule(1, {"hornbeam"}), rule(2, {"beech", "hornbeam"})};
    request.features = features;
    for (auto _ : state) {
        Task task;
        Outcome<LayResult> result = lay_rows(request, task);
        state.counters["leaves"] = static_cast<double>(result->leaves.size());
        state.counters["bare_mm2"] = result->bare_mm2;
    }
}

void lay_without_features(benchmark::State& state) { lay_whole_piece(state, {}); }
BENCHMARK(lay_without_features)->Arg(80)->Arg(45)->Unit(benchmark::kMillisecond)->UseRealTime();

void lay_round_three_features(benchmark::State& state) {
    lay_whole_piece(state, {feature(FeatureKind::boss, 0, 0, 110, 90), feature(FeatureKind::eye, 60, 80, 40, 36),
                            feature(FeatureKind::eye, 120, 80, 40, 36)});
}
BENCHMARK(lay_round_three_features)->Arg(80)->Arg(45)->Unit(benchmark::kMillisecond)->UseRealTime();

} // namespace
