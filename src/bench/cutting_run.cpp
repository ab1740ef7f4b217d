// The cutting sheets at the bench: when they are laid out, and what becomes of the answers.
#include "bench/cut_keeper.h"
#include "bench/cutting_view.h"

#include <algorithm>
#include <utility>

namespace leafwright {
namespace {

constexpr std::size_t kKeptAnswers = 12;

void keep(CuttingView& view) {
    if (!view.answer) return;
    auto const same = [&](auto const& old) { return same_cutting(*old->plan, *view.answer->plan); };
    std::erase_if(view.before, same);
    view.before.push_back(view.answer);
    if (view.before.size() > kKeptAnswers) view.before.erase(view.before.begin());
}

void start(Desk& desk, CuttingOptions options) {
    CuttingView& view = *desk.ui.cutting;
    view.densities.clear();
    view.kept = false;
    desk.cutter->start(desk.state.plan, std::move(options));
}

// What was chosen stays so, though it may have another place in the list of things to cut.
void show_answer(CuttingView& view, std::shared_ptr<CuttingAnswer const> answer) {
    if (view.answer && view.answer->items == answer->items) {
        view.answer = std::move(answer);
        return;
    }
    int const was = std::exchange(view.chosen, -1);
    view.hovered = -1;
    if (was >= 0 && view.answer) {
        auto const& items = *answer->items;
        auto const same =
            std::ranges::find(items, (*view.answer->items)[static_cast<std::size_t>(was)].name, &CutItem::name);
        if (same != items.end()) view.chosen = static_cast<int>(same - items.begin());
    }
    view.answer = std::move(answer);
}

void take_answer(Desk& desk) {
    CuttingView& view = *desk.ui.cutting;
    auto answer = desk.cutter->take();
    if (!answer) return;
    view.densities.push_back(static_cast<float>(answer->density));
    show_answer(view, std::move(answer));
    keep(view);
}

} // namespace

void run_nest(Desk& desk, RunNest const& run) {
    CuttingView& view = *desk.ui.cutting;
    if (!desk.state.plan) return;
    if (run.how == RunNest::How::stop) {
        view.kept = true;
        return desk.cutter->stop();
    }
    CuttingOptions options;
    if (run.how == RunNest::How::further && view.answer) {
        options.from = view.answer;
        // Another seed, or the same search would be made again.
        options.seed = desk.state.plan->piece.seed + view.densities.size() + 1;
    }
    start(desk, std::move(options));
}

void refresh_cutting(Desk& desk) {
    CuttingView& view = *desk.ui.cutting;
    // What the hand holds stays as it is.
    if (!view.hand) take_answer(desk);
    view.running = desk.cutter->running();
    view.progress = desk.cutter->progress();
    if (desk.ui.look != Look::cutting || !desk.state.plan || desk.state.plan_is_old || desk.state.plan->coarse ||
        view.hand)
        return;
    Plan const& plan = *desk.state.plan;
    auto const& asked = desk.cutter->asked();
    if (asked && (asked.get() == &plan || same_cutting(*asked, plan))) return;
    if (desk.ui.laying) return;
    auto const known =
        std::ranges::find_if(view.before, [&](auto const& old) { return same_cutting(*old->plan, plan); });
    if (known != view.before.end()) { // undone: as it was then
        CuttingOptions as_it_was;
        as_it_was.from = *known;
        as_it_was.seconds = 0;
        show_answer(view, *known);
        return start(desk, std::move(as_it_was));
    }
    CuttingOptions from_here; // after a drag the rest is laid from where it lies
    from_here.from = view.answer;
    start(desk, std::move(from_here));
}

} // namespace leafwright
