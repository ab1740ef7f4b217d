// The bench without its window: the state, the workers, and how intents are carried out.
#pragma once

#include "bench/bench.h"
#include "bench/plan_keeper.h"
#include "bench/row_layer.h"
#include "bench/second_keeper.h"
#include "bench/state.h"

namespace leafwright {

class CutKeeper;     // cut_keeper.h
class ProposalMaker; // proposal_maker.h

struct Desk {
    Desk(Piece piece, std::function<void()> const& wake);

    BenchState state;
    UiState ui;
    PlanKeeper plans;
    RowLayer layer;
    SecondHalfKeeper seconds;
    std::shared_ptr<CutKeeper> cutter;
    std::shared_ptr<ProposalMaker> proposer;
    std::filesystem::path config; // folders; empty: nothing is kept
    std::filesystem::path kept;   // copies of work that is not saved
    std::filesystem::path leaves; // the leaf book
    std::uint64_t asked_revision = 0;
    std::shared_ptr<Plan const> asked_second; // whose second half was asked for last
    std::uint64_t kept_revision = 0;          // of the copy
    double kept_s = 0;                        // when it was made
};

// Carries the intents out, in order.
void carry_out(Desk& desk, Intents const& intents);
void carry_out(Desk& desk, Intent const& intent);

// What the hand did over the picture.
void carry_out(Desk& desk, std::vector<Deed> const& deeds);
Ground ground_of(Desk const& desk);

// Brings the plan up to date: asks for it when the piece changed, waits a moment for it. Returns whether it changed.
bool refresh_plan(Desk& desk);
// Asks for drying to hanging when there is a newer plan, and takes what came. Returns whether it changed.
bool refresh_second(Desk& desk);
// Moves the day on while the drying plays, and makes its map. Returns whether it plays.
bool refresh_day(Desk& desk);
// Takes what the row layer made.
void refresh_rows(Desk& desk);
// Keeps a copy when it is due.
void refresh_copy(Desk& desk);

void say(UiState& ui, std::string text, MessageTone tone = MessageTone::note);

// row_acts.cpp
void adjust_row(Desk& desk, AdjustRow const& adjust);
// The command as the hand leaves it: leaves that it moved or laid are pinned, and lie on a row's line when that is
// near.
Command by_hand(Desk& desk, Command command);

// proposals_page.cpp
void propose(Desk& desk, Propose const& wish);
void refresh_proposals(Desk& desk);

// cutting_run.cpp
void run_nest(Desk& desk, RunNest const& how);
// Starts the layout when its look is on and the piece asks for another one; takes what came.
void refresh_cutting(Desk& desk);

// files.cpp
void open_path(Desk& desk, std::filesystem::path const& path, bool asked);
void save_at(Desk& desk, std::filesystem::path const& path);
void save_or_ask(Desk& desk);
void start_anew(Desk& desk, bool asked);
void close_bench(Desk& desk, bool asked);
void recover(Desk& desk, KeptCopy const& copy, bool open);
void show_chooser(Desk& desk, Chooser::For purpose);

// trace_page.cpp: reads the photograph and opens the page; asks for the file when there is no path.
void open_photo(Desk& desk, std::filesystem::path const& path);

// leaf_acts.cpp: acts on what is chosen or in hand. Returns whether the act was one of these.
bool act_on_leaves(Desk& desk, DoAct const& act);

// cameras.cpp
SceneOptions scene_options(Desk const& desk);
// Where a leaf's middle falls on the screen, in window units.
std::optional<Vec2> middle_on_screen(Desk const& desk, LeafPlacement const& leaf);
// The same for any spot, lifted above what lies there.
std::optional<Vec2> on_screen(Desk const& desk, Spot const& spot, double above_mm);
// A view that was not set yet looks home; a change of look goes on. Returns whether it is still going on.
bool refresh_cameras(Desk& desk);
void look_from(Desk& desk, HomeView view);
void look_home(Desk& desk);
void set_look(Desk& desk, Look look);

} // namespace leafwright
