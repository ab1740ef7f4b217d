// The making sheet for the wall: what to knead, roll and cut, in the order of work, on paper.
#pragma once

#include "piece/second_half.h"
#include "sheet/paper.h"

namespace leafwright {

struct SheetPicture {
    int width_px = 0;
    int height_px = 0;
    std::vector<unsigned char> rgb; // rows from the top
};

struct SheetOptions {
    PaperSize paper = kA4;
    bool inches = false;                      // inches and pounds instead of mm and kg
    std::optional<SheetPicture> picture;      // of the finished piece
    std::shared_ptr<SecondHalf const> second; // drying to hanging; null: the sheet ends with the leaves
};

// PDF: figures and cautions; the slab set out by radii from its centre mark; the rows; every leaf kind at true size
// with a 100 mm check bar. Same plan, same bytes.
std::string making_sheet_pdf(Plan const& plan, SheetOptions const& options);

// One leaf kind at true size with its veins, SVG in mm, with a check bar.
std::string leaf_template_svg(LeafPattern const& pattern);

} // namespace leafwright
