// The hand over the picture: what a press, a move and a release mean. No window and no drawing: pointer in, deeds out.
//
// Whoever takes the press owns the drag. Left on a leaf picks and drags it, on empty space turns the view; right turns;
// middle, or left with Shift, moves the view; left with Ctrl draws a box; the wheel comes nearer. A leaf in hand
// follows the pointer and is laid by each click until it is put back.
#pragma once

#include "bench/hand_moves.h"
#include "view/scene.h"

namespace leafwright {

enum class PointerButton { left, right, middle };
enum class HandleKind { none, turn, size };

struct PointerEvent {
    enum class What { press, move, release, wheel, double_click, cancel };
    What what = What::move;
    PointerButton button = PointerButton::left;
    Vec2 at_px{0, 0};
    double wheel = 0; // notches, positive away from the hand
    bool shift = false;
    bool ctrl = false;
    bool over_picture = true;
    Hit hit;                              // what is under the pointer
    std::optional<Spot> spot;             // the spot of the slab's face or the board there
    HandleKind handle = HandleKind::none; // of the selected leaf or feature
};

// What the pointer did, as it was told, between two frames. Frames may be slow; a press counts where it was made.
struct PointerRecord {
    PointerEvent::What what = PointerEvent::What::move;
    PointerButton button = PointerButton::left;
    Vec2 at{0, 0}; // window units
    double wheel = 0;
    bool shift = false;
    bool ctrl = false;
};
// Adds a record; moves that follow each other become one.
void add_record(std::vector<PointerRecord>& records, PointerRecord const& record);

// What the hand is doing.
struct Resting {};
struct Carrying { // a leaf in hand; `lifted`: it is one of the piece, else new from the tray
    LeafPlacement leaf;
    bool lifted = false;
    bool held = false;              // the button went down in the tray and is still down
    std::optional<Vec2> turning_px; // the view is being turned meanwhile
};
struct Pressed { // a button is down, it is not yet clear what for
    Vec2 at_px{0, 0};
    Hit hit;
    std::optional<Spot> spot;
    bool shift = false;
};
struct DraggingLeaves {
    std::vector<LeafPlacement> start;
    Spot from;
};
struct DraggingFeature {
    int index = 0;
    Feature start;
    Spot from;
};
struct TurningLeaf {
    LeafPlacement start;
    double angle_deg = 0;
};
struct SizingLeaf {
    LeafPlacement start;
    double distance_mm = 1;
};
struct TurningFeature {
    int index = 0;
    Feature start;
    double angle_deg = 0;
};
struct SizingFeature {
    int index = 0;
    Feature start;
    double distance_mm = 1;
};
struct DrawingBox {
    Vec2 from_px{0, 0};
    Vec2 to_px{0, 0};
    bool adding = false;
};
struct TurningView {
    Vec2 last_px{0, 0};
};
struct MovingView {
    Vec2 last_px{0, 0};
};
using Hand = std::variant<Resting, Carrying, Pressed, DraggingLeaves, DraggingFeature, TurningLeaf, SizingLeaf,
                          TurningFeature, SizingFeature, DrawingBox, TurningView, MovingView>;

// What follows from it.
struct SelectLeaves {
    std::vector<int> ids;
};
struct SelectFeature {
    int index = 0;
};
struct ShowChange {
    Command command;
};                    // as a preview
struct KeepChange {}; // the preview becomes an entry of the history
struct DropChange {};
struct MakeChange {
    Command command;
}; // at once
struct TurnView {
    Vec2 by_px{0, 0};
};
struct MoveView {
    Vec2 by_px{0, 0};
};
struct ZoomView {
    double notches = 0;
};
struct PickInBox {
    Vec2 low_px{0, 0};
    Vec2 high_px{0, 0};
    bool adding = false;
};
struct OpenCard {
    int id = 0;
};
using AnyDeed = std::variant<SelectLeaves, SelectFeature, ShowChange, KeepChange, DropChange, MakeChange, TurnView,
                             MoveView, ZoomView, PickInBox, OpenCard>;
using Deed = OnceMade<AnyDeed>; // made in intents.cpp

struct Ground {
    Piece const& piece;                   // without any preview
    ClaySurface const* surface = nullptr; // null while there is no plan: nothing can be moved then
    std::vector<int> const& selected;
    bool leaves_move = true;   // the stage lets leaves be moved by hand
    bool features_move = true; // and features
    double click_px = 4;       // a press that moves less is a click
    int selected_feature = -1;
};

// The hand after the event; deeds are added to `out` in order.
Hand after(Hand hand, PointerEvent const& event, Ground const& ground, std::vector<Deed>& out);

// Picks a leaf up: a new one of a kind, or one of the piece.
Carrying pick_up(std::string kind, bool held);
Carrying lift(LeafPlacement const& leaf);
// Turns or sizes what is in hand.
Hand with_leaf(Hand hand, LeafPlacement const& leaf);

bool is_busy(Hand const& hand); // anything but resting or carrying: the pointer belongs to the picture

} // namespace leafwright
