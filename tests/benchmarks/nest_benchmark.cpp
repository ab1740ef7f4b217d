// Density in % of the nesting, beside what others reach. Set LEAFWRIGHT_NESTING to a folder with open benchmark
// instances in JSON (swim, shirts, albano, ..); without it only leaves of our own are laid.
//   LEAFWRIGHT_NESTING=DIR leafwright_benchmarks --benchmark_filter=nest
// Counters: density; libnest2d, reached by the library in the same time in the same run (absent when it was not there
// to build); published, the median of 51 longer runs of the best research code (0 where none was published).
// LEAFWRIGHT_NESTING_SECONDS, 10 when not set: the time of each.
#include "cutting/nest_jobs.h"

#include "cutting/nest_file.h"
#include "nest_peer.h"

#include <benchmark/benchmark.h>
#include <cstdlib>
#include <fstream>
#include <iterator>

namespace {

using namespace leafwright;

struct Instance {
    char const* name;
    double published;
};
constexpr Instance kInstances[] = {{"swim", 0},       {"shirts", 0},     {"albano", 89.6},
                                   {"marques", 91.0}, {"mao", 86.1},     {"dagli", 89.3},
                                   {"jakobs1", 89.1}, {"shapes0", 68.8}, {"blaz1", 84.7}};

double seconds_each() {
    char const* const given = std::getenv("LEAFWRIGHT_NESTING_SECONDS");
    return given ? std::atof(given) : 10;
}

void tell(benchmark::State& state, NestJob const& job, NestResult const& result) {
    state.counters["density"] = 100 * result.density;
    state.counters["samples"] = static_cast<double>(result.samples);
    state.counters["valid"] = nest_faults(job, result).empty() ? 1 : 0;
}

PeerJob peer_job(NestJob const& job) {
    PeerJob out;
    out.width = job.sheets.width_mm;
    for (double turn : job.shapes.front().turns_deg) out.turns_rad.push_back(radians(turn));
    for (NestShape const& shape : job.shapes) {
        std::vector<std::pair<double, double>> outline;
        for (Vec2 const& p : shape.outline.outer) outline.emplace_back(p.x, p.y);
        out.outlines.insert(out.outlines.end(), static_cast<std::size_t>(shape.copies), outline);
        out.area += shape.copies * area(shape.outline);
    }
    return out;
}

void nest_instance(benchmark::State& state) {
    Instance const& instance = kInstances[state.range(0)];
    state.SetLabel(instance.name);
    char const* const folder = std::getenv("LEAFWRIGHT_NESTING");
    std::ifstream stream(std::string(folder ? folder : "") + "/" + instance.name + ".json");
    std::string const text{std::istreambuf_iterator<char>(stream), {}};
    if (text.empty()) {
        state.SkipWithError("skipped: no instance in LEAFWRIGHT_NESTING");
        return;
    }
    Outcome<NestFile> const file = nest_file_from_json(text);
    NestOptions options;
    options.seconds = seconds_each();
    for (auto _ : state) {
        Outcome<NestResult> const result = nest(file->job, options);
        tell(state, file->job, *result);
    }
    if (nest_peer_is_built())
        state.counters["libnest2d"] = 100 * nest_peer_density(peer_job(file->job), seconds_each());
    state.counters["published"] = instance.published;
}
BENCHMARK(nest_instance)->DenseRange(0, 8)->Iterations(1)->Unit(benchmark::kSecond)->UseRealTime();

void nest_leaves_first(benchmark::State& state) {
    NestJob const job = leaves_job(100);
    for (auto _ : state) tell(state, job, *first_nest(job));
}
BENCHMARK(nest_leaves_first)->Unit(benchmark::kMillisecond)->UseRealTime();

} // namespace
