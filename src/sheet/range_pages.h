// A range on paper: side by side, kiln loads, calendar.
#pragma once

#include "range/range_plan.h"
#include "sheet/making_sheet.h"

namespace leafwright {

struct RangePaperOptions {
    PaperSize paper = kA4;
    bool inches = false;
    std::optional<SheetPicture> wall; // all pieces side by side
};

// PDF: the pieces side by side with their figures; what to get ready; every load shelf by shelf, to scale and with
// numbers; the calendar as bars by week and as a list. Same plan, same bytes.
std::string range_pdf(RangePlan const& plan, RangePaperOptions const& options);

// Names under the pieces of a wall picture and a bar of 100 mm (4 in). `rgb`: rows from the top.
struct WallLabel {
    Vec2 at_px{0, 0};
    std::string words;
};
void draw_wall_labels(std::vector<WallLabel> const& labels, double px_per_mm, bool inches, int width_px, int height_px,
                      std::vector<unsigned char>& rgb);

} // namespace leafwright
