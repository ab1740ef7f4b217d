// Everything the bench knows between two frames, as plain structs. Panels read it and push Intents; acts.h carries them
// out.
#pragma once

#include "bench/after_state.h"
#include "bench/autosave.h"
#include "bench/gesture.h"
#include "bench/settings.h"
#include "bench/theme.h"
#include "piece/history.h"
#include "view/scene.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>

namespace leafwright {

// Acts without arguments: by key, by button, or both.
enum class Act {
    new_piece,
    open,
    save,
    save_as,
    close_bench,
    undo,
    redo,
    remove,
    copy,
    mirror,
    flip,
    pin,
    lift,
    over,
    under,
    to_top,
    to_bottom,
    turn_left,
    turn_right,
    larger,
    smaller,
    nudge_left,
    nudge_right,
    nudge_up,
    nudge_down,
    next_leaf,
    previous_leaf,
    select_all,
    put_back,
    lay_rows,
    another_arrangement,
    show_proposals,
    view_front,
    view_side,
    view_above,
    view_quarter,
    view_home,
    toggle_look,
    toggle_units,
    text_larger,
    text_smaller,
    toggle_keys,
};

struct Commit {
    Command command;
};
struct Preview {
    Command command;
};
struct DoAct {
    Act act;
    bool far = false;
}; // far: with Shift, a longer step
struct GoToStage {
    MakingStage stage;
};
struct SetLook {
    Look look;
};
struct PickUpKind {
    std::string kind;
    bool held = false;
};
struct PickUpFeature {
    int index = 0;
};
struct ChooseLeaves {
    std::vector<int> ids;
};
struct OpenPath {
    std::filesystem::path path;
    bool asked = false;
}; // asked: unsaved work may go
struct SaveAtPath {
    std::filesystem::path path;
};
struct StartAnew {
    bool asked = false;
};
struct CloseBench {
    bool asked = false;
};
struct RecoverCopy {
    KeptCopy copy;
    bool open = false;
};
struct CancelLaying {};
// One row, changed without touching the others.
struct AdjustRow {
    enum class What { slide, space, kind, pin } what = What::slide;
    int row = 1;
    double slide_mm = 0;
    int count = 0;
    std::string kind;
    bool preview = false;
};
// Several arrangements side by side, to choose from.
struct Propose {
    enum class What { show, more, take, close } what = What::show;
    std::size_t which = 0;
};
// The cutting sheets: laid out anew, improved further, or kept as they are.
struct RunNest {
    enum class How { anew, further, stop } how = How::anew;
};
// Leaves from a photograph: without a path, its file is asked for.
struct OpenPhoto {
    std::filesystem::path path;
};
// The leaf book (leaf_book_page.h). An import without its page opens it.
struct BookAct {
    enum class What {
        choose, // also opens the book
        close,
        ask_file,
        import, // of `path`; length_mm: of a drawing that tells no size
        use,    // in this piece
        words,  // name, date, place and veins as typed
        other_hand,
        turn_round, // the tip is the base
        thicken,
        thickness, // of the clay: length_mm
        remove,
        restore, // what was removed last
        write,   // to `path`
    } what = What::choose;
    std::string id;
    std::filesystem::path path;
    double length_mm = 0;
};
struct SetTextScale {
    double scale;
};
using AnyIntent = std::variant<Commit, Preview, DoAct, GoToStage, SetLook, PickUpKind, PickUpFeature, ChooseLeaves,
                               OpenPath, SaveAtPath, StartAnew, CloseBench, RecoverCopy, CancelLaying, AdjustRow,
                               Propose, RunNest, SetTextScale, OpenPhoto, BookAct>;
using Intent = OnceMade<AnyIntent>; // made in intents.cpp
using Intents = std::vector<Intent>;

struct TracePage;     // trace_page.h
struct LeafBookPage;  // leaf_book_page.h
struct ProposalsPage; // proposals_page.h

// The document side.
struct BenchState {
    History history;
    std::filesystem::path path;       // empty until saved or opened
    std::shared_ptr<Plan const> plan; // the newest answer; may be older than the piece
    bool plan_is_old = false;
    std::shared_ptr<SecondHalf const> second; // the newest answer; may belong to an older plan
    bool second_is_old = false;
    MaybeProblem plan_problem; // why the piece as shown has no plan
    bool recovered = false;    // from a copy that a crash left behind, and not saved since
};
inline bool is_unsaved(BenchState const& state) { return state.recovered || state.history.changed_since_save(); }

enum class MessageTone { note, caution, fault };
struct Message {
    std::string text;
    MessageTone tone = MessageTone::note;
    double until_s = 0; // of the bench's clock; faults stay until closed
};

// A file chooser that is open, and what it shows.
struct Chooser {
    enum class For { open, save, photo, leaf };
    For purpose = For::open;
    std::filesystem::path folder;
    std::string typed; // the file's name, or a whole path
    std::string problem;
    std::filesystem::path over; // the file that the maker was warned to replace
};

// The question about work that is not saved; what was asked for is done after the answer.
struct UnsavedQuestion {
    Intent then;
};

struct Dialogs {
    std::optional<Chooser> chooser;
    std::optional<UnsavedQuestion> unsaved;
    std::optional<KeptCopy> recovery;
    std::optional<Intent> after_save; // what waits for a first saving
    bool keys_page = false;
    bool escape = false; // Esc was pressed: what is open closes unanswered
    bool undo = false;   // Ctrl+Z was pressed: what is open takes its last step back, if it can
};

struct ScreenBox {
    float x0 = 0, y0 = 0, x1 = 0, y1 = 0;
};

// A change of look that is under way.
struct LookChange {
    double from = 0;
    double to = 0;
    double start_s = 0;
};

struct CuttingView; // cutting_view.h

// The figure shown on the clay at one stage.
struct MapShown {
    std::string key;                       // of shown_maps(); empty: plain clay
    std::shared_ptr<ShownMap const> ready; // made elsewhere, such as water on a day; goes before the key
    bool ticks = false;                    // with its short lines
};

// What the map that is shown was made from.
struct MapSource {
    std::shared_ptr<Plan const> plan;
    std::string key;
    bool operator==(MapSource const&) const = default;
};

// The slab laid over the former, at Drape.
struct LayingOver {
    double laid = 1;               // 0 flat on the crown to 1
    std::optional<double> start_s; // it is being played since then
};

struct UiState {
    Theme theme;
    Settings settings;
    double text_scale = 1;
    double now_s = 0;          // the bench's clock
    double moved_s = -1;       // when the pointer last moved or the wheel turned
    bool slow_picture = false; // a fine picture takes long on this machine
    float pixel_ratio = 1;
    bool compact = false; // as the layout

    MakingStage stage = MakingStage::leaves;
    Look look = Look::piece;
    std::optional<LookChange> look_change;
    std::array<Camera, 2> cameras; // by Look
    std::array<bool, 2> camera_set{false, false};
    Viewport picture; // in window units; y from the top of the window
    Hand hand;
    std::vector<int> selected;
    int hovered = 0;
    int selected_feature = -1;
    Hit under_pointer;
    std::string kind_shown;     // the leaf kind whose card is open
    std::size_t tray_kinds = 0; // as last shown: the tray goes to what is new
    int rule_shown = 0;         // index of the row rule on the worktop
    bool scroll_to_card = false;
    int row_shown = 1;           // whose card for adjusting is open
    bool show_row_lines = false; // also when nothing is in hand
    bool snap_to_rows = true;
    bool on_slider = false; // the pointer rests on one: arrow keys step it
    int slider_steps = 0;   // by which it is to go
    bool placing = false;   // a leaf follows the pointer: it may snap
    bool off_rows = false;  // the key is held that lets it lie anywhere
    int snapped_row = 0;    // the row that the leaf in hand is on; 0: none
    AfterUi after;

    bool laying = false; // rows are being laid by a worker
    double laying_progress = 0;
    std::shared_ptr<CuttingView> cutting; // never null
    std::map<MakingStage, MapShown> maps;
    std::shared_ptr<ShownMap const> map; // the one that is shown now, with its scale; null: none
    MapSource map_source;
    std::optional<double> map_value; // under the pointer
    LayingOver laying_over;
    Message message;
    Dialogs dialogs;
    std::map<ImGuiID, std::string> typing;    // text in value boxes that are being typed in
    std::map<ImGuiID, ScreenBox> items;       // what was marked in this frame
    std::set<std::string> twins;              // marks of things that ever shared an id: a press on one is lost
    std::map<std::string, ScreenBox> marks;   // where things are on the screen, by name
    std::map<std::string, ScreenBox> covers;  // what lies over the picture, as last shown
    std::shared_ptr<ProposalsPage> proposals; // while it is open
    std::shared_ptr<TracePage> tracing;       // the page for leaves from a photograph, while it is open
    std::shared_ptr<LeafBookPage> book;       // the leaf book, while it is open
    bool quit = false;
};

inline bool is_selected(UiState const& ui, int id) {
    return std::find(ui.selected.begin(), ui.selected.end(), id) != ui.selected.end();
}
inline bool asks_something(UiState const& ui) {
    Dialogs const& open = ui.dialogs;
    return open.chooser || open.unsaved || open.recovery || open.keys_page || ui.tracing || ui.proposals || ui.book;
}
inline bool is_carrying(UiState const& ui) { return std::holds_alternative<Carrying>(ui.hand); }
inline bool leaves_can_move(UiState const& ui) {
    return ui.stage == MakingStage::leaves || ui.stage == MakingStage::features;
}
inline Camera& camera_of(UiState& ui) { return ui.cameras[ui.look == Look::flat ? 1 : 0]; }

} // namespace leafwright
