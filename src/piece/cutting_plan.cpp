#include "piece/cutting_plan.h"

#include "piece/cutting_groups.h"
#include "piece/cutting_sizes.h"

#include <algorithm>
#include <cassert>
#include <chrono>
#include <thread>

namespace leafwright {

namespace {

constexpr double kFirstShare = 0.05; // of the progress: the first layout
constexpr int kBriefRounds = 16;
constexpr int kPartRounds = 4; // to part what a piece put down by hand came to lie on

// A stretch of the whole's progress, with its cancel handed down.
class PartTask {
public:
    PartTask(Task& whole, double from, double to)
        : watcher_([this, &whole, from, to](std::stop_token const& stop) {
              while (!stop.stop_requested()) {
                  if (whole.cancelled()) part_.cancel();
                  whole.progress(from + (to - from) * part_.progress());
                  std::this_thread::sleep_for(std::chrono::milliseconds(10));
              }
          }) {
        if (whole.cancelled()) part_.cancel();
    }
    Task* get() { return &part_; }

private:
    Task part_;
    std::jthread watcher_; // last: it ends before its task goes
};

// All of a cutting spec that a layout depends on, but for the pins.
CuttingSpec layout_part(CuttingSpec spec) {
    spec.seconds = spec.nested_share = spec.nested_cut_mm2 = 0;
    spec.pins.clear();
    return spec;
}

bool same_slab(SlabAnswer const& a, SlabAnswer const& b) {
    auto const same_cut = [](SlabCutAnswer const& p, SlabCutAnswer const& q) { return p.notch_mm == q.notch_mm; };
    return &a == &b || (a.outline_mm == b.outline_mm && std::ranges::equal(a.cuts, b.cuts, same_cut));
}

std::vector<Vec3> openings_of(Piece const& piece) {
    std::vector<Vec3> sizes;
    for (Feature const& f : piece.features)
        if (f.kind == FeatureKind::opening) sizes.emplace_back(f.width_mm, f.height_mm, f.rise_mm);
    return sizes;
}

// Where they lie on the piece makes no difference.
bool same_leaves(Plan const& a, Plan const& b) {
    auto const same_pattern = [](auto const& p, auto const& q) {
        return p == q || (p->spec == q->spec && p->shape == q->shape);
    };
    auto const same_leaf = [](LeafPlacement const& p, LeafPlacement const& q) {
        return p.id == q.id && p.kind == q.kind && p.row == q.row && p.scale == q.scale && p.flipped == q.flipped;
    };
    return std::ranges::equal(a.patterns, b.patterns, same_pattern) &&
           std::ranges::equal(a.piece.leaves, b.piece.leaves, same_leaf);
}

bool same_but_pins(Plan const& a, Plan const& b) {
    if (&a == &b) return true;
    return a.piece.seed == b.piece.seed && usable_width_mm(a.piece) == usable_width_mm(b.piece) &&
           a.piece.slab.thickness_mm == b.piece.slab.thickness_mm && a.piece.hanging.kind == b.piece.hanging.kind &&
           layout_part(a.piece.cutting) == layout_part(b.piece.cutting) && same_slab(*a.slab, *b.slab) &&
           openings_of(a.piece) == openings_of(b.piece) && same_leaves(a, b);
}

std::vector<CutPin> sorted_pins(Plan const& plan) {
    std::vector<CutPin> pins = plan.piece.cutting.pins;
    std::ranges::sort(pins, {}, &CutPin::cut);
    return pins;
}

class Nesting {
public:
    Nesting(std::shared_ptr<Plan const> plan, CuttingOptions const& options, Task& task,
            CuttingImproved const& improved)
        : plan_(std::move(plan)),
          options_(options),
          task_(task),
          improved_(improved),
          items_(std::make_shared<std::vector<CutItem> const>(cut_items(*plan_))) {}

    std::shared_ptr<CuttingAnswer const> run() {
        CuttingAnswer const* from = options_.from.get();
        if (from && !same_but_pins(*from->plan, *plan_)) from = nullptr;
        groups_ = first_groups(*plan_, *items_, from);
        if (from) take_start(*from);
        std::shared_ptr<CuttingAnswer> const first = assembled(plan_, items_, groups_);
        first_density_ = from ? from->first_density : first->density;
        first->first_density = first_density_;
        improved_once_ = first->improved = from && from->improved;
        task_.progress(kFirstShare);
        if (improved_) improved_(first);
        double const seconds = options_.seconds < 0 ? plan_->piece.cutting.seconds : options_.seconds;
        if (seconds > 0 || options_.rounds > 0) improve(seconds);
        if (!task_.cancelled()) task_.progress(1);
        return answer_now();
    }

private:
    void take_start(CuttingAnswer const& from) {
        for (CutGroup& group : groups_.groups) {
            std::vector<NestPlacement> start = start_of(group, *items_, from);
            if (start.empty()) continue;
            NestOptions as_it_is;
            as_it_is.start = std::move(start);
            as_it_is.seconds = 0;
            as_it_is.seed = options_.seed.value_or(plan_->piece.seed);
            as_it_is.threads = options_.threads;
            if (group.pinned && !same_cutting(*from.plan, *plan_)) as_it_is.rounds = kPartRounds;
            Outcome<NestResult> kept = nest(group.job, as_it_is);
            if (kept) group.best = std::move(*kept);
        }
    }

    // Time goes by the number of pieces; a sheet of two or three has little to gain.
    std::vector<double> shares() const {
        std::vector<double> parts;
        double whole = 0;
        for (CutGroup const& group : groups_.groups) {
            double const n = static_cast<double>(group.items.size());
            parts.push_back(n <= 1 ? 0.0 : n);
            whole += parts.back();
        }
        for (double& part : parts) part = whole > 0 ? part / whole : 0;
        return parts;
    }

    void improve(double seconds) {
        std::vector<double> const parts = shares();
        double done = 0;
        for (std::size_t g = 0; g < groups_.groups.size() && !task_.cancelled(); ++g) {
            if (parts[g] <= 0) continue;
            improve_group(groups_.groups[g], seconds * parts[g], kFirstShare + (1 - kFirstShare) * done,
                          kFirstShare + (1 - kFirstShare) * (done + parts[g]));
            done += parts[g];
        }
    }

    void improve_group(CutGroup& group, double seconds, double from, double to) {
        NestOptions options;
        options.seed = options_.seed.value_or(plan_->piece.seed);
        options.seconds = seconds;
        options.rounds = options_.rounds;
        options.threads = options_.threads;
        options.start = group.best.placements;
        PartTask part(task_, from, to);
        double least = group.best.length_mm;
        Outcome<NestResult> const best = nest(group.job, options, part.get(), [&](NestResult const& better) {
            if (better.length_mm >= least) return;
            least = better.length_mm;
            group.best = better;
            improved_once_ = true;
            if (improved_) improved_(answer_now());
        });
        if (!best || best->length_mm >= group.best.length_mm || !best->unplaced.empty()) return;
        group.best = *best;
        improved_once_ = true;
    }

    std::shared_ptr<CuttingAnswer const> answer_now() const {
        std::shared_ptr<CuttingAnswer> const answer = assembled(plan_, items_, groups_);
        answer->improved = improved_once_;
        answer->first_density = first_density_;
        return answer;
    }

    std::shared_ptr<Plan const> plan_;
    CuttingOptions const& options_;
    Task& task_;
    CuttingImproved const& improved_;
    std::shared_ptr<std::vector<CutItem> const> items_;
    CutGroups groups_;
    double first_density_ = 0;
    bool improved_once_ = false;
};

} // namespace

std::shared_ptr<CuttingAnswer const> plan_cutting(std::shared_ptr<Plan const> const& plan,
                                                  CuttingOptions const& options, Task& task,
                                                  CuttingImproved const& improved) {
    assert(plan && !plan->coarse); // what is roughly reckoned is never cut
    return Nesting(plan, options, task, improved).run();
}

std::shared_ptr<CuttingAnswer const> plan_cutting_briefly(std::shared_ptr<Plan const> const& plan, Task& task) {
    CuttingOptions options;
    options.rounds = kBriefRounds;
    return plan_cutting(plan, options, task);
}

bool same_cutting(Plan const& a, Plan const& b) { return same_but_pins(a, b) && sorted_pins(a) == sorted_pins(b); }

} // namespace leafwright
