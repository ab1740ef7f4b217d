// Acts on the leaves that are chosen, or on the one in hand.
#include "bench/desk.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kTurn_deg = 5;
constexpr double kSize = 1.04;
constexpr double kNudge_mm = 1;
constexpr double kNudgeFar_mm = 10;

Vec2 direction_of(Act act) {
    switch (act) {
    case Act::nudge_left:
        return {-1, 0};
    case Act::nudge_right:
        return {1, 0};
    case Act::nudge_up:
        return {0, 1};
    case Act::nudge_down:
        return {0, -1};
    default:
        return {0, 0};
    }
}

// How one leaf is after the act; the same when the act is not of this sort.
LeafPlacement changed(LeafPlacement leaf, DoAct const& act, ClaySurface const* surface) {
    double const size = act.far ? kSize * kSize * kSize : kSize;
    switch (act.act) {
    case Act::turn_left:
        return turned_by(leaf, kTurn_deg);
    case Act::turn_right:
        return turned_by(leaf, -kTurn_deg);
    case Act::larger:
        return sized_by(leaf, size);
    case Act::smaller:
        return sized_by(leaf, 1 / size);
    case Act::flip:
        leaf.flipped = !leaf.flipped;
        return leaf;
    default:
        break;
    }
    Vec2 const step = (act.far ? kNudgeFar_mm : kNudge_mm) * direction_of(act.act);
    return surface ? nudged(*surface, leaf, step) : leaf;
}

bool act_in_hand(Desk& desk, DoAct const& act) {
    auto const* carrying = std::get_if<Carrying>(&desk.ui.hand);
    if (!carrying) return false;
    LeafPlacement const leaf = changed(carrying->leaf, act, nullptr);
    if (leaf == carrying->leaf) return false;
    Command const command = carrying->lifted ? Command(SetLeaves{{leaf}}) : Command(AddLeaves{{leaf}});
    bool const shown = desk.state.history.shown() != desk.state.history.now();
    desk.ui.hand = with_leaf(desk.ui.hand, leaf);
    if (shown) desk.state.history.preview(command);
    return true;
}

void pin_all(Desk& desk, std::vector<LeafPlacement> leaves) {
    bool const all = std::all_of(leaves.begin(), leaves.end(), [](auto const& leaf) { return leaf.pinned; });
    for (LeafPlacement& leaf : leaves) leaf.pinned = !all;
    carry_out(desk, Commit{SetLeaves{std::move(leaves)}});
}

// New leaves come on top: they are the last ones of the piece, and are chosen.
void add_and_choose(Desk& desk, Command const& command) {
    std::size_t const before = desk.state.history.now().leaves.size();
    carry_out(desk, Commit{command});
    auto const& leaves = desk.state.history.now().leaves;
    std::vector<int> ids;
    for (std::size_t i = before; i < leaves.size(); ++i) ids.push_back(leaves[i].id);
    if (!ids.empty()) carry_out(desk, ChooseLeaves{ids});
}

// The leaf that the chosen ones must pass to be seen to move: the next one up, or down, that lies in contact with them.
// 0 when none does.
int next_in_contact(Plan const* plan, std::vector<int> const& ids, bool up) {
    if (!plan) return 0;
    auto const chosen = [&](int id) { return std::find(ids.begin(), ids.end(), id) != ids.end(); };
    std::vector<int> beyond;
    for (OverlapPair const& pair : plan->leaves.overlap.pairs) {
        int const ours = up ? pair.lower : pair.upper;
        int const other = up ? pair.upper : pair.lower;
        if (chosen(ours) && !chosen(other)) beyond.push_back(other);
    }
    auto const is_beyond = [&](auto const& leaf) {
        return std::find(beyond.begin(), beyond.end(), leaf.id) != beyond.end();
    };
    auto const& leaves = plan->piece.leaves;
    if (up) {
        auto const found = std::find_if(leaves.begin(), leaves.end(), is_beyond);
        return found == leaves.end() ? 0 : found->id;
    }
    auto const found = std::find_if(leaves.rbegin(), leaves.rend(), is_beyond);
    return found == leaves.rend() ? 0 : found->id;
}

void over_or_under(Desk& desk, bool up) {
    int const past = next_in_contact(desk.state.plan.get(), desk.ui.selected, up);
    OrderChange const change = up ? OrderChange::over_one : OrderChange::under_one;
    carry_out(desk, Commit{ReorderLeaves{desk.ui.selected, change, past}});
}

bool act_on_chosen(Desk& desk, Act act) {
    std::vector<int> const& ids = desk.ui.selected;
    switch (act) {
    case Act::remove:
        carry_out(desk, Commit{RemoveLeaves{ids}});
        return true;
    case Act::copy:
        add_and_choose(desk, CopyLeaves{ids});
        return true;
    case Act::mirror:
        add_and_choose(desk, MirrorLeaves{ids});
        return true;
    case Act::pin:
        pin_all(desk, leaves_of(desk.state.history.now(), ids));
        return true;
    case Act::over:
        over_or_under(desk, true);
        return true;
    case Act::under:
        over_or_under(desk, false);
        return true;
    case Act::to_top:
        carry_out(desk, Commit{ReorderLeaves{ids, OrderChange::to_top}});
        return true;
    case Act::to_bottom:
        carry_out(desk, Commit{ReorderLeaves{ids, OrderChange::to_bottom}});
        return true;
    case Act::lift:
        if (auto const* leaf = leaf_of(desk.state.history.now(), ids.front())) desk.ui.hand = lift(*leaf);
        return true;
    default:
        return false;
    }
}

bool act_on_feature(Desk& desk, Act act) {
    Piece const& piece = desk.state.history.now();
    int const index = desk.ui.selected_feature;
    if (index < 0 || index >= static_cast<int>(piece.features.size())) return false;
    Feature feature = piece.features[static_cast<std::size_t>(index)];
    if (act == Act::remove) {
        desk.ui.selected_feature = -1;
        carry_out(desk, Commit{RemoveFeature{index}});
        return true;
    }
    if (act != Act::turn_left && act != Act::turn_right) return false;
    feature.turn_deg += act == Act::turn_left ? kTurn_deg : -kTurn_deg;
    carry_out(desk, Commit{SetFeature{index, feature}});
    return true;
}

// Deleting what is in hand takes it off the piece.
bool remove_in_hand(Desk& desk) {
    auto const* carrying = std::get_if<Carrying>(&desk.ui.hand);
    if (!carrying) return false;
    int const id = carrying->lifted ? carrying->leaf.id : 0;
    desk.ui.hand = Resting{};
    desk.state.history.drop_preview();
    if (id) carry_out(desk, Commit{RemoveLeaves{{id}}});
    return true;
}

} // namespace

bool act_on_leaves(Desk& desk, DoAct const& act) {
    if (is_busy(desk.ui.hand) || desk.ui.laying) return false;
    if (act.act == Act::remove && remove_in_hand(desk)) return true;
    if (act_in_hand(desk, act) || act_on_feature(desk, act.act)) return true;
    if (desk.ui.selected.empty() || is_carrying(desk.ui)) return false;
    if (act_on_chosen(desk, act.act)) return true;
    std::vector<LeafPlacement> leaves = leaves_of(desk.state.history.now(), desk.ui.selected);
    ClaySurface const* const surface = desk.state.plan ? desk.state.plan->outer_face.get() : nullptr;
    for (LeafPlacement& leaf : leaves) leaf = changed(leaf, act, surface);
    carry_out(desk, Commit{by_hand(desk, SetLeaves{std::move(leaves)})});
    return true;
}

} // namespace leafwright
