#include "cutting/nest.h"

#include "cutting/layout.h"
#include "cutting/pair_depth.h"
#include "cutting/press.h"
#include "cutting/search.h"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <memory>
#include <set>
#include <thread>

namespace leafwright {

namespace {

using Clock = std::chrono::steady_clock;

// Searches are a fixed number, whatever the number of threads: threads only carry them out.
constexpr int kSearches = 2;
// Without tables a sample takes some twenty times as long.
constexpr std::int64_t kRoundSamples = 200000, kSlowRoundSamples = 10000;
// A search that lies behind by more than this goes on from the best of all: late, or they would all roam the same
// place.
constexpr double kFallBehind = 1.012, kFallBehindClosing = 1.002;
// More pieces are laid, but not searched over: all pairs would not fit the memory.
constexpr std::size_t kMostSearched = 1500;

MaybeProblem pinned_fault(NestJob const& job) {
    NestJob pins = job;
    NestResult result;
    for (std::size_t k = 0; k < job.shapes.size(); ++k) {
        pins.shapes[k].copies = static_cast<int>(job.shapes[k].pinned.size());
        for (std::size_t c = 0; c < job.shapes[k].pinned.size(); ++c) {
            NestPose const& pose = job.shapes[k].pinned[c];
            result.placements.push_back({static_cast<int>(k), static_cast<int>(c), pose});
            double const end = bounds(posed(job.shapes[k].outline, pose).outer).high.x + job.edge_gap_mm;
            if (result.used_mm.size() <= static_cast<std::size_t>(pose.sheet))
                result.used_mm.resize(static_cast<std::size_t>(pose.sheet) + 1, 0);
            result.used_mm[static_cast<std::size_t>(pose.sheet)] =
                std::max(result.used_mm[static_cast<std::size_t>(pose.sheet)], end);
        }
    }
    for (double used : result.used_mm) result.length_mm += used;
    if (result.placements.empty()) return {};
    std::vector<std::string> const faults = nest_faults(pins, result);
    if (faults.empty()) return {};
    return Problem{"nest.pinned", "", "pinned pieces: " + faults.front(), "Unpin one or move it", ProblemKind::refusal};
}

// The turned shape of a pose that knows only its own turn; made when the model has none like it.
int number_of(NestModel& model, int shape, PiecePose const& pose) {
    std::vector<int> const& turns = model.turns_of[static_cast<std::size_t>(shape)];
    auto const same = std::ranges::find_if(turns, [&](int t) {
        TurnedShape const& turned = model.turned[static_cast<std::size_t>(t)];
        return turned.mirrored == pose.mirrored &&
               std::abs(std::remainder(turned.turn_deg - pose.turn_deg, 360.0)) < 1e-9;
    });
    if (same != turns.end()) return *same;
    model.turned.push_back(
        turned_shape(model.shapes[static_cast<std::size_t>(shape)], shape, pose.turn_deg, pose.mirrored));
    return static_cast<int>(model.turned.size()) - 1;
}

struct Start {
    Layout layout;
    bool sound = false;
};

bool is_complete(NestModel const& model, std::vector<NestPlacement> const& start) {
    std::set<std::pair<int, int>> seen;
    for (NestPlacement const& p : start) {
        bool const known = p.shape >= 0 && static_cast<std::size_t>(p.shape) < model.shapes.size() &&
                           p.pose.sheet >= 0 && p.pose.sheet <= 10000 && is_finite(p.pose.at_mm) &&
                           std::isfinite(p.pose.turn_deg);
        if (!known || !seen.insert({p.shape, p.copy}).second) return false;
    }
    return seen.size() == model.pieces.size() && std::ranges::all_of(model.pieces, [&](NestPiece const& piece) {
               return seen.contains({piece.shape, piece.copy});
           });
}

// The given start as a layout of the model, which takes up turns that it does not know yet; pinned pieces where they
// are pinned. Nothing when it is not complete.
std::optional<Start> start_layout(NestModel& model, NestJob const& job, std::vector<NestPlacement> const& given) {
    if (given.empty() || !is_complete(model, given)) return {};
    Start start{layout_of(model, given), false};
    for (std::size_t k = 0; k < model.pieces.size(); ++k) {
        PiecePose& pose = start.layout.poses[k];
        NestPiece const& piece = model.pieces[k];
        if (piece.pinned >= 0)
            pose.number = piece.pinned, pose.at = piece.pinned_at;
        else
            pose.number = number_of(model, piece.shape, pose);
    }
    start.sound = nest_faults(job, result_of(model, start.layout)).empty();
    return start;
}

class Nesting {
public:
    Nesting(NestJob const& job, NestOptions const& options, Task* task, NestImproved const& improved)
        : job_(job), options_(options), task_(task), improved_(improved), begin_(Clock::now()) {
        options_.threads = std::clamp(options_.threads, 1, 64);
        if (!(options_.seconds >= 0)) options_.seconds = 0;
        options_.seconds = std::min(options_.seconds, 1e6);
    }

    Outcome<NestResult> run() {
        Outcome<NestModel> const made = nest_model(job_);
        if (!made) return made.problem();
        if (MaybeProblem p = pinned_fault(job_)) return *p;
        model_ = *made;
        std::optional<Start> const start = start_layout(model_, job_, options_.start);
        PairTables const tables(model_, options_.threads);
        Layout const first = start && start->sound ? start->layout : first_layout(model_, tables);
        best_length_ = row_length(model_, first);
        offer(first, true);
        if (model_.pieces.size() <= kMostSearched)
            search(tables, first, start && !start->sound ? &start->layout : nullptr);
        if (!result_.unplaced.empty()) fill(tables);
        result_.seconds = elapsed();
        if (task_) task_->progress(1);
        return result_;
    }

private:
    double elapsed() const { return std::chrono::duration<double>(Clock::now() - begin_).count(); }
    bool is_over() const {
        return (task_ && task_->cancelled()) || (options_.rounds == 0 && elapsed() >= options_.seconds);
    }

    // Takes up a layout when it is sound and leaves out no more pieces; every one is checked in full.
    bool offer(Layout const& layout, bool is_first) {
        NestResult result = result_of(model_, layout);
        if (!is_first && (result.unplaced.size() > result_.unplaced.size() || !nest_faults(job_, result).empty()))
            return false;
        best_ = layout;
        result.samples = result_.samples, result.rounds = result_.rounds, result.seconds = elapsed();
        result_ = std::move(result);
        if (improved_) improved_(result_);
        return true;
    }

    void fill(PairTables const& tables) {
        Layout const fuller = filled_up(model_, tables, best_);
        if (result_of(model_, fuller).unplaced.size() < result_.unplaced.size()) offer(fuller, false);
    }

    void search(PairTables const& tables, Layout const& first, Layout const* unsound) {
        std::vector<std::unique_ptr<Search>> searches;
        searches.reserve(kSearches);
        for (int s = 0; s < kSearches; ++s)
            searches.push_back(std::make_unique<Search>(model_, tables, first,
                                                        Random(options_.seed).split(static_cast<std::uint64_t>(s))));
        if (unsound)
            for (auto const& s : searches) s->part(*unsound);
        for (int round = 0; (options_.rounds == 0 || round < options_.rounds) && !is_over(); ++round) {
            double const share =
                options_.rounds > 0 ? static_cast<double>(round) / options_.rounds : elapsed() / options_.seconds;
            if (task_) task_->progress(share);
            carry_out(searches, tables.complete() ? kRoundSamples : kSlowRoundSamples, share);
            result_.rounds = round + 1;
            result_.samples = 0;
            for (auto const& s : searches) result_.samples += s->samples();
            compare(searches);
            if (std::ranges::any_of(searches, [](auto const& s) { return s->is_done(); })) break;
        }
    }

    void carry_out(std::vector<std::unique_ptr<Search>> const& searches, std::int64_t samples, double share) {
        auto const work = [&](int first) {
            for (int s = first; s < kSearches; s += options_.threads)
                searches[static_cast<std::size_t>(s)]->round(samples, share, [&] { return is_over(); });
        };
        std::vector<std::jthread> helpers;
        for (int t = 1; t < std::min(options_.threads, kSearches); ++t) helpers.emplace_back(work, t);
        work(0);
    }

    void compare(std::vector<std::unique_ptr<Search>> const& searches) {
        for (auto const& s : searches) {
            if (s->best_length() >= best_length_) continue;
            if (offer(s->best(), false))
                best_length_ = s->best_length();
            else
                s->adopt(best_); // rounding went against it: back to what is sound
        }
        for (auto const& s : searches)
            if (s->best_length() > best_length_ * (s->is_closing() ? kFallBehindClosing : kFallBehind)) s->adopt(best_);
    }

    NestJob const& job_;
    NestOptions options_;
    Task* task_;
    NestImproved const& improved_;
    Clock::time_point begin_;
    NestModel model_;
    Layout best_;
    double best_length_ = 0;
    NestResult result_;
};

} // namespace

Outcome<NestResult> first_nest(NestJob const& job) {
    NestOptions options;
    options.seconds = 0;
    return nest(job, options);
}

Outcome<NestResult> nest(NestJob const& job, NestOptions const& options, Task* task, NestImproved const& improved) {
    return Nesting(job, options, task, improved).run();
}

} // namespace leafwright
