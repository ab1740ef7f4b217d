#include "cutting/nest.h"

#include "cutting/layout.h"
#include "cutting/pair_depth.h"
#include "cutting/search.h"

#include <chrono>
#include <memory>
#include <thread>

namespace leafwright {

namespace {

using Clock = std::chrono::steady_clock;

struct Limit {
    Clock::time_point end;
    bool timed;
};
bool is_over(void const* p) {
    auto const& limit = *static_cast<Limit const*>(p);
    return limit.timed && Clock::now() >= limit.end;
}

constexpr int kSearches = 2;
constexpr std::int64_t kRoundSamples = 200000;

} // namespace

Outcome<NestResult> first_nest(NestJob const& job) {
    Outcome<NestModel> const model = nest_model(job);
    if (!model) return model.problem();
    PairTables const tables(*model, 1);
    return result_of(*model, first_layout(*model, tables));
}

Outcome<NestResult> nest(NestJob const& job, NestOptions const& options, Task* task, NestImproved const& improved) {
    auto const begin = Clock::now();
    Outcome<NestModel> const model = nest_model(job);
    if (!model) return model.problem();
    PairTables const tables(*model, options.threads);
    Layout best = first_layout(*model, tables);
    NestResult result = result_of(*model, best);
    if (improved) improved(result);
    if (!tables.complete()) return result;
    double best_length = row_length(*model, best);
    std::vector<std::unique_ptr<Search>> searches;
    for (int s = 0; s < kSearches; ++s)
        searches.push_back(
            std::make_unique<Search>(*model, tables, best, Random(options.seed).split(static_cast<std::uint64_t>(s))));
    Limit const limit{begin +
                          std::chrono::duration_cast<Clock::duration>(std::chrono::duration<double>(options.seconds)),
                      options.rounds == 0};
    int round = 0;
    while (!is_over(&limit) && (options.rounds == 0 || round < options.rounds) && !(task && task->cancelled())) {
        double const share = limit.timed ? std::chrono::duration<double>(Clock::now() - begin).count() / options.seconds
                                         : static_cast<double>(round) / options.rounds;
        if (task) task->progress(share);
        auto const work = [&](int t) {
            for (int s = t; s < kSearches; s += options.threads)
                searches[static_cast<std::size_t>(s)]->round(kRoundSamples, share, task, is_over, &limit);
        };
        {
            std::vector<std::jthread> helpers;
            for (int t = 1; t < std::min(options.threads, kSearches); ++t) helpers.emplace_back(work, t);
            work(0);
        }
        ++round;
        bool done = true;
        for (auto const& s : searches) {
            done = done && s->is_done();
            if (s->best_length() < best_length) {
                best_length = s->best_length();
                best = s->best();
                result = result_of(*model, best);
                if (improved) improved(result);
            }
        }
        if (done) break;
        for (auto const& s : searches)
            if (s->best_length() > best_length * 1.002) s->adopt(best);
    }
    result.samples = 0;
    for (auto const& s : searches) result.samples += s->samples();
    result.rounds = round;
    result.seconds = std::chrono::duration<double>(Clock::now() - begin).count();
    if (task) task->progress(1);
    return result;
}

} // namespace leafwright
