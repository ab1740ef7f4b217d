// The look "cutting sheets": what is shown, from where, and what the hand does there.
#pragma once

#include "bench/panels.h"
#include "piece/cutting_plan.h"

namespace leafwright {

// A piece's outline cut into triangles, with its veins, in its own axes. As the answer's items.
struct CutDrawing {
    std::vector<Vec2> points;
    std::vector<std::uint32_t> triangles;
    std::vector<std::vector<Vec2>> veins;
};

// A place on the sheets as the maker's hand has it.
struct CutInHand {
    int item = 0;
    std::size_t sheet = 0; // index into the answer's sheets
    NestPose pose;
    Vec2 grip_mm{0, 0};   // from the pose's place to the pointer, on the board
    bool moved = false;   // farther than a click
    bool turning = false; // by the handle
    double turn_from_deg = 0;
};

struct CuttingView {
    std::shared_ptr<CuttingAnswer const> answer;
    bool running = false;
    double progress = 0;
    bool kept = false;            // the maker stopped it, or it came to its end: not started again by itself
    std::vector<float> densities; // as they came, of this run
    // Answers of before by what was asked, newest last: undo finds them again.
    std::vector<std::shared_ptr<CuttingAnswer const>> before;

    // Sheets lie on a board, mm, y up; each sheet's lower left corner.
    std::vector<Vec2> corners;
    Vec2 board_mm{1, 1};
    double px_per_mm = 0; // 0: the whole board fits
    Vec2 middle_mm{0, 0}; // of the board, in the picture's middle
    double fit_aspect = 0;

    int chosen = -1; // item
    int hovered = -1;
    std::optional<CutInHand> hand;
    std::optional<Vec2> panning; // the pointer's last place, window units
    Vec2 pressed_at{0, 0};

    std::shared_ptr<std::vector<CutItem> const> drawn_of;
    std::vector<CutDrawing> drawings;
};

// Where a board point falls in the window, and back.
struct BoardOnScreen {
    Vec2 centre_px{0, 0};
    Vec2 middle_mm{0, 0};
    double scale = 1;
    Vec2 to_screen(Vec2 const& board) const {
        return centre_px + scale * Vec2(board.x - middle_mm.x, middle_mm.y - board.y);
    }
    Vec2 to_board(Vec2 const& at) const {
        Vec2 const off = (at - centre_px) / scale;
        return middle_mm + Vec2(off.x, -off.y);
    }
};
BoardOnScreen board_on_screen(UiState const& ui);

// cutting_board.cpp: sheets set out on the board; kept until the sheets or the window's shape change.
void set_out_board(UiState& ui);
// The whole board, or one sheet of it, in the middle of the picture.
void show_board(UiState& ui);
void show_sheet(UiState& ui, std::size_t sheet);

// cutting_hand.cpp
void feed_cutting(Desk& desk, PointerRecord const& record, bool over_picture);
// Turns, pins, frees or puts back what is chosen on the sheets. Returns whether the act was one of these.
bool act_on_cutting(Desk& desk, DoAct const& act);
// Places as they are shown: pins of the piece go before the answer, and the hand before both.
struct ShownPlace {
    int item = 0;
    std::size_t sheet = 0;
    NestPose pose;
    bool pinned = false;
    bool in_hand = false;
};
std::vector<ShownPlace> shown_places(Desk const& desk);
std::optional<Vec2> cut_handle(Desk const& desk); // window units; of the chosen piece

// cutting_page.cpp
void cutting_page(Area const& area, Desk& desk);
// cutting_panel.cpp: on the worktop, at Roll.
void cutting_cards(Worktop const& top);

} // namespace leafwright
