// Plain line drawings of the second half, in mm: the piece on the wall from the side and from behind, and in the kiln.
// Drawn by the window and on the making sheet.
#pragma once

#include "base/polygon.h"
#include "piece/second_half.h"

namespace leafwright {

enum class Pen { clay, wall, wire, ink, soft };

struct DrawnShape {
    std::vector<Vec2> points; // y up
    Pen pen = Pen::ink;
    bool closed = false;
    bool filled = false;
    bool dashed = false;
};

struct DrawnWord {
    Vec2 at{0, 0};
    std::string text;
    int side = 1; // -1: ends there, 0: centred, 1: begins there
};

struct LineDrawing {
    std::vector<DrawnShape> shapes;
    std::vector<DrawnWord> words;
    Box2 box() const; // of the shapes
};

// x off the wall, y up: wall, clay through the middle, hook, wire, lug, centre of gravity, at the lean it takes.
LineDrawing hanging_side(HangingAnswer const& hanging, bool lugs);
// As seen from behind: rim, lugs or holes, wire, hook, upright line and centre of gravity.
LineDrawing hanging_back(Plan const& plan, HangingAnswer const& hanging);
// The kiln's room with what is kept free, and the piece in it: from above when it lies, from the front when it stands;
// where it does not go in, as it would lie.
LineDrawing kiln_drawing(SecondHalf const& half, std::size_t firing);

} // namespace leafwright
