// Density in % of the nesting, beside what others reach. Set LEAFWRIGHT_NESTING to a folder with open benchmark
// instances in JSON (swim, shirts, albano, ..); without it only leaves of our own are laid.
//   LEAFWRIGHT_NESTING=DIR leafwright_benchmarks --benchmark_filter=nest
// Counters: density; libnest2d_10s and libnest2d_60s, measured once on two cores with the library's own defaults, not
// in this run; published, the median of 51 longer runs of the best research code (0 where none was published).
#include "cutting/nest_jobs.h"

#include "cutting/nest_file.h"

#include <benchmark/benchmark.h>
#include <cstdlib>
#include <fstream>
#include <iterator>

namespace {

using namespace leafwright;

struct Instance {
    char const* name;
    double libnest2d_10s, libnest2d_60s, published;
};
constexpr Instance kInstances[] = {
    {"swim", 66.0, 68.1, 0},       {"shirts", 82.0, 83.8, 0},     {"albano", 85.1, 86.3, 89.6},
    {"marques", 86.3, 86.7, 91.0}, {"mao", 78.4, 79.6, 86.1},     {"dagli", 81.4, 81.7, 89.3},
    {"jakobs1", 81.7, 81.7, 89.1}, {"shapes0", 58.7, 59.6, 68.8}, {"blaz1", 76.6, 76.6, 84.7}};

void tell(benchmark::State& state, NestJob const& job, NestResult const& result) {
    state.counters["density"] = 100 * result.density;
    state.counters["samples"] = static_cast<double>(result.samples);
    state.counters["valid"] = nest_faults(job, result).empty() ? 1 : 0;
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
    options.seconds = static_cast<double>(state.range(1));
    for (auto _ : state) {
        Outcome<NestResult> const result = nest(file->job, options);
        tell(state, file->job, *result);
    }
    state.counters["libnest2d_10s"] = instance.libnest2d_10s;
    state.counters["libnest2d_60s"] = instance.libnest2d_60s;
    state.counters["published"] = instance.published;
}
BENCHMARK(nest_instance)
    ->ArgsProduct({benchmark::CreateDenseRange(0, 8, 1), {10}})
    ->Iterations(1)
    ->Unit(benchmark::kSecond)
    ->UseRealTime();

void nest_leaves_first(benchmark::State& state) {
    NestJob const job = leaves_job(100);
    for (auto _ : state) tell(state, job, *first_nest(job));
}
BENCHMARK(nest_leaves_first)->Unit(benchmark::kMillisecond)->UseRealTime();

} // namespace
