#include "bench/desk.h"

#include "bench/proposal_maker.h"

#include "bench/cut_keeper.h"
#include "bench/cutting_view.h"

#include <fmt/format.h>

#include <unistd.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

// The window waits this long for a plan before it shows the old one, dimmed.
constexpr std::chrono::milliseconds kPatience{30};

// Leaves and features that are gone are no longer chosen.
void forget_the_gone(Desk& desk) {
    Piece const& piece = desk.state.history.shown();
    std::erase_if(desk.ui.selected, [&](int id) { return leaf_of(piece, id) == nullptr; });
    if (desk.ui.selected_feature >= static_cast<int>(piece.features.size())) desk.ui.selected_feature = -1;
    int const rules = static_cast<int>(piece.rows.rules.size());
    desk.ui.rule_shown = std::clamp(desk.ui.rule_shown, 0, std::max(0, rules - 1));
}

// The former or the slab is being changed by a hand that has not let go.
bool bed_moves(History const& history) {
    Piece const &shown = history.shown(), &now = history.now();
    return history.previews() && (shown.former != now.former || shown.slab != now.slab);
}

} // namespace

Desk::Desk(Piece piece, std::function<void()> const& wake)
    : state{History(std::move(piece)), {}, nullptr, false, nullptr, false, {}, false},
      plans(wake),
      layer(wake),
      seconds(wake),
      cutter(std::make_shared<CutKeeper>(wake)),
      proposer(std::make_shared<ProposalMaker>(wake)) {
    ui.cutting = std::make_shared<CuttingView>();
}

void say(UiState& ui, std::string text, MessageTone tone) {
    ui.message = {std::move(text), tone, ui.now_s + (tone == MessageTone::note ? 6 : 15)};
}

Ground ground_of(Desk const& desk) {
    UiState const& ui = desk.ui;
    Ground ground{desk.state.history.now(), nullptr, ui.selected, true, true, 4};
    if (desk.state.plan) ground.surface = desk.state.plan->outer_face.get();
    ground.leaves_move = leaves_can_move(ui) && !ui.laying;
    ground.features_move = leaves_can_move(ui) && !ui.laying;
    ground.selected_feature = ui.stage == MakingStage::features ? ui.selected_feature : -1;
    ground.click_px = 0.25 * static_cast<double>(ui.theme.em);
    return ground;
}

bool refresh_plan(Desk& desk) {
    std::uint64_t const revision = desk.state.history.revision();
    bool const asks = revision != desk.asked_revision;
    if (asks) {
        forget_the_gone(desk);
        desk.plans.ask(desk.state.history.shown(), revision, bed_moves(desk.state.history));
        desk.asked_revision = revision;
    }
    auto reply = desk.plans.take(asks ? kPatience : std::chrono::milliseconds{0});
    desk.state.plan_is_old = desk.plans.busy() || desk.state.plan_problem;
    if (!reply) return false;
    if (reply->plan.ok()) {
        desk.state.plan = reply->plan.value();
        desk.state.plan_problem.reset();
    } else {
        desk.state.plan_problem = reply->plan.problem();
    }
    desk.state.plan_is_old = desk.plans.busy() || desk.state.plan_problem;
    return true;
}

void refresh_rows(Desk& desk) {
    desk.ui.laying = desk.layer.running();
    desk.ui.laying_progress = desk.layer.progress();
    auto result = desk.layer.take();
    if (!result) return;
    desk.ui.laying = false;
    if (!result->rows) {
        say(desk.ui, result->rows.problem().sentence(), MessageTone::fault);
        return;
    }
    LaidRows const& rows = *result->rows;
    Piece const& now = desk.state.history.now();
    bool const same_bed = now.former == result->asked.former && now.slab == result->asked.slab &&
                          now.leaf_kinds == result->asked.leaf_kinds && now.features == result->asked.features;
    if (!same_bed) {
        say(desk.ui, "The piece was changed while rows were laid, so they were not used. Lay them again.");
        return;
    }
    carry_out(desk, Commit{SetArrangement{rows.piece.leaves, rows.piece.seed}});
    desk.ui.selected.clear();
    if (!rows.result.remarks.empty()) return say(desk.ui, rows.result.remarks.front().sentence(), MessageTone::caution);
    say(desk.ui, fmt::format("{} leaves laid in {} rows.", rows.piece.leaves.size(), rows.result.rows));
}

void refresh_copy(Desk& desk) {
    History const& history = desk.state.history;
    if (!is_unsaved(desk.state)) {
        if (desk.kept_revision != 0) drop_copy(desk.kept, getpid());
        desk.kept_revision = 0;
        desk.kept_s = desk.ui.now_s;
        return;
    }
    bool const due = desk.ui.now_s - desk.kept_s >= std::chrono::duration<double>(kAutosaveEvery).count();
    if (!due || desk.kept_revision == history.revision()) return;
    desk.kept_s = desk.ui.now_s;
    desk.kept_revision = history.revision();
    if (auto const problem = keep_copy(desk.kept, getpid(), history.now(), desk.state.path))
        say(desk.ui, "No safety copy could be kept: " + problem->sentence(), MessageTone::fault);
}

} // namespace leafwright
