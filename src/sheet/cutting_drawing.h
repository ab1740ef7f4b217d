// A cutting sheet as a drawing, for paper and pictures alike. Internal to the room.
#pragma once

#include "piece/cutting_plan.h"
#include "sheet/paper.h"
#include "sheet/words.h"

namespace leafwright {

// From a sheet's coordinates (y up) to the page's (y down).
struct SheetOnPage {
    Vec2 corner_mm{0, 0}; // where the sheet's lower left corner comes on the page
    double scale = 1;
    Vec2 operator()(Vec2 const& p) const { return corner_mm + scale * Vec2(p.x, -p.y); }
    std::vector<Vec2> line(std::span<Vec2 const> points) const;
    Polygon polygon(Polygon const& outline) const;
};

// What is drawn in one place, worked out once for all pages of a sheet.
struct DrawnPiece {
    CutItem const* item = nullptr;
    bool pinned = false;
    Polygon path; // in the sheet's coordinates
    Box2 box;
    std::vector<CutMark> marks;           // likewise
    std::vector<std::vector<Vec2>> veins; // of order 1 and 2
    Vec2 number_at{0, 0};
    double clear_mm = 0;
};
std::vector<DrawnPiece> drawn_pieces(CuttingAnswer const& answer, CutSheet const& sheet);

struct SheetStyle {
    bool filled = true; // clay and leaves in colour
    bool veins = true;
    bool numbers = true;
    double line_mm = 0.35; // on the page, as the next two
    double number_most_mm = 9;
    double row_mm = 2.4; // height of "row 2" under a number; 0: none
};
void draw_cut_sheet(Paper& paper, CutSheet const& sheet, std::span<DrawnPiece const> pieces, SheetOnPage const& at,
                    SheetStyle const& style);

// "Sheet 2, 5 mm thick, 900 x 480 mm".
std::string sheet_words(CutSheet const& sheet, UnitWords const& units);
std::string rolled_size_words(CutSheet const& sheet, UnitWords const& units); // rounded up: "900 x 480 mm"

} // namespace leafwright
