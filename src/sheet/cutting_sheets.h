// Cutting sheets on paper and as pictures.
#pragma once

#include "piece/cutting_plan.h"
#include "sheet/making_sheet.h"

namespace leafwright {

struct CuttingPaperOptions {
    PaperSize paper = kA4;
    bool inches = false;
};

// One page of a tiled sheet: which part of the sheet is on it, in the sheet's coordinates.
struct CutTile {
    int column = 0;           // from the left, along the sheet's length
    int row = 0;              // from the top
    Box2 part;                // overlap included
    bool printed = true;      // false: there is nothing to cut on it
    std::string name() const; // "B2"
};
// Pages lie 10 mm over each other. The paper is turned the way that takes fewer pages.
struct CutTiling {
    PaperSize page;
    int columns = 0;
    int rows = 0;
    std::vector<CutTile> tiles; // by row, then by column
};
CutTiling tiling_of(CuttingAnswer const& answer, CutSheet const& sheet, PaperSize page);

// PDF at 1:1: first what there is to roll, with a map of the pages; then every sheet over as many pages as it takes.
// Each page has registration crosses, a 100 mm check bar, its name and its place on the sheet. Same answer, same
// bytes.
std::string cutting_pdf(CuttingAnswer const& answer, CuttingPaperOptions const& options);

// One whole sheet at 1:1, SVG in mm, with groups "clay", "cut", "marks" and "numbers".
std::string cut_sheet_svg(CuttingAnswer const& answer, CutSheet const& sheet);

// All sheets side by side, as the look "cutting".
SheetPicture cutting_picture(CuttingAnswer const& answer, int width_px, int height_px, bool inches = false);

} // namespace leafwright
