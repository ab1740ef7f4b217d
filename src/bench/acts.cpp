// Intents, carried out.
#include "bench/cutting_view.h"
#include "bench/desk.h"
#include "bench/leaf_book_page.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kTextStep = 0.125;

void lay_rows_now(Desk& desk, bool anew) {
    Piece piece = desk.state.history.now();
    if (anew) ++piece.seed;
    desk.layer.start(std::move(piece));
    desk.ui.laying = true;
    desk.ui.hand = Resting{};
    carry_out(desk, GoToStage{MakingStage::leaves});
}

void set_text_scale(Desk& desk, double scale) {
    desk.ui.text_scale = std::clamp(scale, 1.0, 2.0);
    desk.ui.settings.text_scale = desk.ui.text_scale;
}

void step_through(Desk& desk, int by) {
    auto const& leaves = desk.state.history.now().leaves;
    if (leaves.empty()) return;
    int const count = static_cast<int>(leaves.size());
    int at = by > 0 ? -1 : 0;
    if (!desk.ui.selected.empty()) {
        auto const found = std::find_if(leaves.begin(), leaves.end(),
                                        [&](auto const& leaf) { return leaf.id == desk.ui.selected.back(); });
        if (found != leaves.end()) at = static_cast<int>(found - leaves.begin());
    }
    carry_out(desk, ChooseLeaves{{leaves[static_cast<std::size_t>((at + by + count) % count)].id}});
}

void choose_all(Desk& desk) {
    std::vector<int> ids;
    for (auto const& leaf : desk.state.history.now().leaves) ids.push_back(leaf.id);
    carry_out(desk, ChooseLeaves{ids});
}

// One thing at a time: what is in hand, else the question that is open, else what is chosen.
void put_back(Desk& desk) {
    UiState& ui = desk.ui;
    if (!std::holds_alternative<Resting>(ui.hand)) {
        desk.state.history.drop_preview();
        ui.hand = Resting{};
        return;
    }
    ui.selected.clear();
    ui.selected_feature = -1;
    ui.kind_shown.clear();
}

void step_history(Desk& desk, bool back) {
    desk.ui.hand = Resting{};
    desk.state.history.drop_preview();
    if (back)
        desk.state.history.undo();
    else
        desk.state.history.redo();
    // What was told of the change that is gone, or of the one before, no longer holds.
    if (desk.ui.message.tone != MessageTone::fault) desk.ui.message = {};
}

bool act_on_bench(Desk& desk, Act act) {
    UiState& ui = desk.ui;
    switch (act) {
    case Act::new_piece:
        start_anew(desk, false);
        return true;
    case Act::open:
        show_chooser(desk, Chooser::For::open);
        return true;
    case Act::save:
        save_or_ask(desk);
        return true;
    case Act::save_as:
        show_chooser(desk, Chooser::For::save);
        return true;
    case Act::close_bench:
        close_bench(desk, false);
        return true;
    case Act::undo:
        step_history(desk, true);
        return true;
    case Act::redo:
        step_history(desk, false);
        return true;
    case Act::lay_rows:
        lay_rows_now(desk, false);
        return true;
    case Act::another_arrangement:
        lay_rows_now(desk, true);
        return true;
    case Act::show_proposals:
        carry_out(desk, Propose{});
        return true;
    case Act::toggle_units:
        ui.settings.units = ui.settings.units == Units::metric ? Units::inches : Units::metric;
        return true;
    case Act::text_larger:
        set_text_scale(desk, ui.text_scale + kTextStep);
        return true;
    case Act::text_smaller:
        set_text_scale(desk, ui.text_scale - kTextStep);
        return true;
    case Act::toggle_keys:
        ui.dialogs.keys_page = !ui.dialogs.keys_page;
        return true;
    default:
        return false;
    }
}

bool act_on_look(Desk& desk, Act act) {
    switch (act) {
    case Act::view_front:
        look_from(desk, HomeView::front);
        return true;
    case Act::view_side:
        look_from(desk, HomeView::side);
        return true;
    case Act::view_above:
        look_from(desk, HomeView::above);
        return true;
    case Act::view_quarter:
        look_from(desk, HomeView::quarter);
        return true;
    case Act::view_home:
        look_home(desk);
        return true;
    case Act::toggle_look:
        set_look(desk, desk.ui.look == Look::piece ? Look::flat : Look::piece);
        return true;
    case Act::next_leaf:
        step_through(desk, 1);
        return true;
    case Act::previous_leaf:
        step_through(desk, -1);
        return true;
    case Act::select_all:
        if (leaves_can_move(desk.ui)) choose_all(desk); // where they can be seen and moved
        return true;
    case Act::put_back:
        put_back(desk);
        return true;
    default:
        return false;
    }
}

struct Carrier {
    Desk& desk;

    void operator()(Commit const& intent) const {
        desk.state.history.drop_preview();
        desk.state.history.commit(intent.command);
    }
    void operator()(Preview const& intent) const { desk.state.history.preview(intent.command); }
    void operator()(DoAct const& intent) const {
        if (desk.ui.look == Look::cutting && act_on_cutting(desk, intent)) return;
        if (act_on_bench(desk, intent.act) || act_on_look(desk, intent.act)) return;
        act_on_leaves(desk, intent);
    }
    void operator()(GoToStage const& intent) const {
        if (desk.ui.stage == intent.stage) return;
        desk.state.history.drop_preview();
        desk.ui.hand = Resting{};
        desk.ui.stage = intent.stage;
        if (!leaves_can_move(desk.ui) || desk.ui.look == Look::cutting) set_look(desk, Look::piece);
        if (desk.ui.message.tone == MessageTone::caution) desk.ui.message = {}; // it was about the stage before
    }
    void operator()(SetLook const& intent) const {
        if (intent.look == Look::cutting) (*this)(GoToStage{MakingStage::roll}); // its inputs are there
        set_look(desk, intent.look);
    }
    void operator()(PickUpKind const& intent) const {
        desk.ui.selected.clear();
        desk.ui.selected_feature = -1;
        desk.ui.kind_shown = intent.kind;
        desk.ui.hand = pick_up(intent.kind, intent.held);
    }
    void operator()(PickUpFeature const& intent) const {
        desk.ui.selected.clear();
        desk.ui.selected_feature = intent.index;
        (*this)(GoToStage{MakingStage::features});
    }
    void operator()(ChooseLeaves const& intent) const {
        desk.ui.selected = intent.ids;
        desk.ui.selected_feature = -1;
        if (!intent.ids.empty()) desk.ui.kind_shown.clear();
    }
    void operator()(OpenPath const& intent) const { open_path(desk, intent.path, intent.asked); }
    void operator()(SaveAtPath const& intent) const { save_at(desk, intent.path); }
    void operator()(StartAnew const& intent) const { start_anew(desk, intent.asked); }
    void operator()(CloseBench const& intent) const { close_bench(desk, intent.asked); }
    void operator()(RecoverCopy const& intent) const { recover(desk, intent.copy, intent.open); }
    void operator()(CancelLaying) const {
        desk.layer.cancel();
        desk.ui.laying = false;
    }
    void operator()(RunNest const& intent) const { run_nest(desk, intent); }
    void operator()(OpenPhoto const& intent) const { open_photo(desk, intent.path); }
    void operator()(BookAct const& intent) const { act_on_book(desk, intent); }
    void operator()(AdjustRow const& intent) const { adjust_row(desk, intent); }
    void operator()(Propose const& intent) const { propose(desk, intent); }
    void operator()(SetTextScale const& intent) const { set_text_scale(desk, intent.scale); }
};

} // namespace

void carry_out(Desk& desk, Intent const& intent) { std::visit(Carrier{desk}, intent); }

void carry_out(Desk& desk, Intents const& intents) {
    for (Intent const& intent : intents) carry_out(desk, intent);
}

} // namespace leafwright
