// The hand on the cutting sheets: pieces are dragged, turned and pinned there.
#include "bench/cutting_view.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kTurnStep_deg = 5;
constexpr double kZoomPerNotch = 1.15;
constexpr double kHandleBeyond_em = 1.6;

double normal_turn(double deg) { return std::remainder(deg, 360.0); }

CutPin const* pin_named(Piece const& piece, std::string const& name) {
    auto const found = std::ranges::find(piece.cutting.pins, name, &CutPin::cut);
    return found == piece.cutting.pins.end() ? nullptr : &*found;
}

// The sheet of that thickness with that number among them.
std::optional<std::size_t> sheet_of_pin(CuttingAnswer const& answer, double thickness_mm, int in_group) {
    for (std::size_t s = 0; s < answer.sheets.size(); ++s)
        if (answer.sheets[s].thickness_mm == thickness_mm && answer.sheets[s].in_group == in_group) return s;
    return {};
}

std::string const& name_of(CuttingView const& view, int item) {
    return (*view.answer->items)[static_cast<std::size_t>(item)].name;
}

std::optional<ShownPlace> place_at(Desk const& desk, Vec2 const& board) {
    CuttingView const& view = *desk.ui.cutting;
    std::vector<ShownPlace> const places = shown_places(desk);
    for (std::size_t i = places.size(); i-- > 0;) {
        ShownPlace const& place = places[i];
        CutItem const& item = (*view.answer->items)[static_cast<std::size_t>(place.item)];
        if (contains(posed(item.outline_mm, place.pose), board - view.corners[place.sheet])) return place;
    }
    return {};
}

std::optional<ShownPlace> chosen_place(Desk const& desk) {
    for (ShownPlace const& place : shown_places(desk))
        if (place.item == desk.ui.cutting->chosen) return place;
    return {};
}

Vec2 middle_of(CuttingView const& view, ShownPlace const& place) {
    CutItem const& item = (*view.answer->items)[static_cast<std::size_t>(place.item)];
    return bounds(posed(item.outline_mm, place.pose).outer).centre();
}

// Turned about its own middle, so that it stays under the hand.
NestPose turned_about_middle(CuttingView const& view, ShownPlace place, double turn_deg) {
    Vec2 const before = middle_of(view, place);
    place.pose.turn_deg = normal_turn(turn_deg);
    place.pose.at_mm += before - middle_of(view, place);
    return place.pose;
}

// Back within the sheet's margin when it lies over its edge; for pieces that fit at all.
NestPose held_in_sheet(CuttingView const& view, ShownPlace place) {
    CutSheet const& sheet = view.answer->sheets[place.sheet];
    CutItem const& item = (*view.answer->items)[static_cast<std::size_t>(place.item)];
    Box2 const box = bounds(posed(item.outline_mm, place.pose).outer);
    double const table = view.answer->plan->piece.cutting.table_length_mm;
    Vec2 const low(sheet.edge_mm + 1e-6);
    Vec2 const high = Vec2(table, sheet.size_mm.y) - low;
    Vec2 move{0, 0};
    for (int k = 0; k < 2; ++k) {
        if (box.high[k] > high[k]) move[k] = high[k] - box.high[k];
        if (box.low[k] + move[k] < low[k]) move[k] = low[k] - box.low[k];
    }
    place.pose.at_mm += move;
    return place.pose;
}

// A drop on another sheet of the same thickness goes there.
std::size_t sheet_under(CuttingView const& view, ShownPlace const& place, Vec2 const& board) {
    std::vector<CutSheet> const& sheets = view.answer->sheets;
    for (std::size_t s = 0; s < sheets.size(); ++s) {
        Vec2 const off = board - view.corners[s];
        bool const inside = off.x >= 0 && off.y >= 0 && off.x <= sheets[s].size_mm.x && off.y <= sheets[s].size_mm.y;
        if (inside && sheets[s].thickness_mm == sheets[place.sheet].thickness_mm) return s;
    }
    return place.sheet;
}

void put_down(Desk& desk, ShownPlace place) {
    CuttingView const& view = *desk.ui.cutting;
    place.pose = held_in_sheet(view, place);
    CutSheet const& sheet = view.answer->sheets[place.sheet];
    CutPin const pin = pin_of(*view.answer, sheet, {place.item, place.pose, true});
    // Pins as the piece has them now: the answer may be older.
    CuttingAnswer now = *view.answer;
    auto plan = std::make_shared<Plan>(*now.plan);
    plan->piece.cutting.pins = desk.state.history.now().cutting.pins;
    now.plan = plan;
    if (auto const fault = pin_fault(now, sheet, pin)) {
        say(desk.ui, "It cannot lie there: " + *fault + ".", MessageTone::caution);
        return;
    }
    carry_out(desk, Commit{PinCut{pin}});
}

void press(Desk& desk, Vec2 const& at, BoardOnScreen const& board) {
    CuttingView& view = *desk.ui.cutting;
    view.pressed_at = at;
    if (auto const handle = cut_handle(desk)) {
        bool const hit = glm::distance(*handle, at) < 1.1 * static_cast<double>(desk.ui.theme.em);
        auto const place = hit ? chosen_place(desk) : std::nullopt;
        if (place) {
            view.hand = CutInHand{place->item, place->sheet, place->pose, {}, true, true, 0};
            Vec2 const off = board.to_board(at) - view.corners[place->sheet] - middle_of(view, *place);
            view.hand->turn_from_deg = place->pose.turn_deg - degrees(std::atan2(off.y, off.x));
            return;
        }
    }
    auto const place = place_at(desk, board.to_board(at));
    view.chosen = place ? place->item : -1;
    if (!place) {
        view.panning = at;
        return;
    }
    view.hand = CutInHand{place->item, place->sheet, place->pose, {}, false, false, 0};
    view.hand->grip_mm = board.to_board(at) - view.corners[place->sheet] - place->pose.at_mm;
}

void move(Desk& desk, Vec2 const& at, BoardOnScreen const& board) {
    CuttingView& view = *desk.ui.cutting;
    if (view.panning) {
        Vec2 const by = at - *view.panning;
        if (view.px_per_mm <= 0) view.px_per_mm = board.scale;
        view.middle_mm -= Vec2(by.x, -by.y) / board.scale;
        view.panning = at;
        return;
    }
    if (!view.hand) {
        auto const place = place_at(desk, board.to_board(at));
        view.hovered = place ? place->item : -1;
        return;
    }
    CutInHand& hand = *view.hand;
    if (!hand.moved && glm::distance(at, view.pressed_at) > 0.25 * static_cast<double>(desk.ui.theme.em))
        hand.moved = true;
    ShownPlace place{hand.item, hand.sheet, hand.pose, false, true};
    if (hand.turning) {
        Vec2 const off = board.to_board(at) - view.corners[hand.sheet] - middle_of(view, place);
        hand.pose = turned_about_middle(view, place, hand.turn_from_deg + degrees(std::atan2(off.y, off.x)));
    } else if (hand.moved) {
        Vec2 const on_board = board.to_board(at);
        std::size_t const sheet = sheet_under(view, place, on_board);
        hand.sheet = sheet;
        hand.pose.at_mm = on_board - view.corners[sheet] - hand.grip_mm;
    }
}

void release(Desk& desk) {
    CuttingView& view = *desk.ui.cutting;
    view.panning.reset();
    if (!view.hand) return;
    CutInHand const hand = *std::exchange(view.hand, std::nullopt);
    if (hand.moved) put_down(desk, {hand.item, hand.sheet, hand.pose, true, false});
}

void turn_held(CuttingView& view, double by_deg) {
    CutInHand& hand = *view.hand;
    Vec2 const pointer = hand.pose.at_mm + hand.grip_mm;
    double const by = radians(by_deg);
    // About the pointer: what is held stays held there.
    hand.grip_mm = {std::cos(by) * hand.grip_mm.x - std::sin(by) * hand.grip_mm.y,
                    std::sin(by) * hand.grip_mm.x + std::cos(by) * hand.grip_mm.y};
    hand.pose.at_mm = pointer - hand.grip_mm;
    hand.pose.turn_deg = normal_turn(hand.pose.turn_deg + by_deg);
    hand.moved = true;
}

void wheel(Desk& desk, PointerRecord const& record, BoardOnScreen const& board) {
    CuttingView& view = *desk.ui.cutting;
    if (view.hand) return turn_held(view, -kTurnStep_deg * record.wheel);
    Vec2 const under = board.to_board(record.at);
    double const scale = std::clamp(board.scale * std::pow(kZoomPerNotch, record.wheel), 0.05, 40.0);
    view.px_per_mm = scale;
    Vec2 const off = (record.at - board.centre_px) / scale;
    view.middle_mm = under - Vec2(off.x, -off.y);
}

void turn_chosen(Desk& desk, double by_deg) {
    CuttingView& view = *desk.ui.cutting;
    if (view.hand) return turn_held(view, by_deg);
    auto place = chosen_place(desk);
    if (!place) return;
    place->pose = turned_about_middle(view, *place, place->pose.turn_deg + by_deg);
    put_down(desk, *place);
}

void nudge_chosen(Desk& desk, Vec2 const& by_mm) {
    auto place = chosen_place(desk);
    if (!place) return;
    place->pose.at_mm += by_mm;
    put_down(desk, *place);
}

void pin_or_free(Desk& desk) {
    auto const place = chosen_place(desk);
    if (!place) return;
    std::string const& name = name_of(*desk.ui.cutting, place->item);
    if (pin_named(desk.state.history.now(), name))
        carry_out(desk, Commit{UnpinCut{name}});
    else
        put_down(desk, *place);
}

} // namespace

std::vector<ShownPlace> shown_places(Desk const& desk) {
    CuttingView const& view = *desk.ui.cutting;
    std::vector<ShownPlace> places;
    if (!view.answer) return places;
    Piece const& piece = desk.state.history.shown();
    for (std::size_t s = 0; s < view.answer->sheets.size(); ++s)
        for (CutPlace const& place : view.answer->sheets[s].places) {
            ShownPlace shown{place.item, s, place.pose, false, false};
            CutItem const& item = view.answer->item_of(place);
            if (CutPin const* pin = pin_named(piece, item.name)) {
                auto const sheet = sheet_of_pin(*view.answer, item.thickness_mm, pin->sheet);
                if (sheet)
                    shown = {place.item,
                             *sheet,
                             {pin->sheet - 1, pin->turn_deg, false, {pin->x_mm, pin->y_mm}},
                             true,
                             false};
            }
            if (view.hand && view.hand->item == place.item && view.hand->moved)
                shown = {place.item, view.hand->sheet, view.hand->pose, shown.pinned, true};
            places.push_back(shown);
        }
    // What was put down lies over the rest until that is laid out round it.
    std::ranges::stable_sort(places, {}, [](ShownPlace const& p) { return p.in_hand ? 2 : p.pinned ? 1 : 0; });
    return places;
}

std::optional<Vec2> cut_handle(Desk const& desk) {
    CuttingView const& view = *desk.ui.cutting;
    if (!view.answer || view.chosen < 0) return {};
    auto const place = chosen_place(desk);
    if (!place) return {};
    BoardOnScreen const board = board_on_screen(desk.ui);
    CutItem const& item = (*view.answer->items)[static_cast<std::size_t>(place->item)];
    // Beyond the tip, in the direction that was "up" in its own drawing.
    double reach = 0;
    Vec2 const middle = middle_of(view, *place);
    double const turn = radians(place->pose.turn_deg);
    Vec2 const up{-std::sin(turn), std::cos(turn)};
    for (Vec2 const& p : posed(item.outline_mm, place->pose).outer) reach = std::max(reach, glm::dot(p - middle, up));
    Vec2 const tip = board.to_screen(view.corners[place->sheet] + middle + reach * up);
    return tip + kHandleBeyond_em * static_cast<double>(desk.ui.theme.em) * Vec2(up.x, -up.y);
}

void feed_cutting(Desk& desk, PointerRecord const& record, bool over_picture) {
    using What = PointerEvent::What;
    CuttingView& view = *desk.ui.cutting;
    if (!view.answer || view.corners.size() != view.answer->sheets.size()) return;
    BoardOnScreen const board = board_on_screen(desk.ui);
    switch (record.what) {
    case What::press:
        if (!over_picture) return;
        if (record.button == PointerButton::left) return press(desk, record.at, board);
        view.panning = record.at;
        return;
    case What::move:
        return move(desk, record.at, board);
    case What::release:
        return release(desk);
    case What::wheel:
        if (over_picture) wheel(desk, record, board);
        return;
    case What::double_click:
        if (over_picture && record.button == PointerButton::left) pin_or_free(desk);
        return;
    case What::cancel:
        view.hand.reset();
        view.panning.reset();
        return;
    }
}

bool act_on_cutting(Desk& desk, DoAct const& act) {
    CuttingView& view = *desk.ui.cutting;
    double const step = act.far ? 10 : 1;
    switch (act.act) {
    case Act::turn_left:
        turn_chosen(desk, kTurnStep_deg);
        return true;
    case Act::turn_right:
        turn_chosen(desk, -kTurnStep_deg);
        return true;
    case Act::nudge_left:
        nudge_chosen(desk, {-step, 0});
        return true;
    case Act::nudge_right:
        nudge_chosen(desk, {step, 0});
        return true;
    case Act::nudge_up:
        nudge_chosen(desk, {0, step});
        return true;
    case Act::nudge_down:
        nudge_chosen(desk, {0, -step});
        return true;
    case Act::pin:
        pin_or_free(desk);
        return true;
    case Act::put_back:
        view.hand.reset();
        view.chosen = -1;
        return true;
    case Act::view_home:
        if (view.answer) show_board(desk.ui);
        return true;
    case Act::remove:
    case Act::copy:
    case Act::mirror:
    case Act::flip:
    case Act::lift:
    case Act::larger:
    case Act::smaller:
        return true; // of leaves on the piece: not here
    default:
        return false;
    }
}

} // namespace leafwright
