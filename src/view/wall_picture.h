// Several pieces side by side on one wall, at one scale, without a window.
#pragma once

#include "view/picture.h"

#include <vector>

namespace leafwright {

struct WallRequest {
    int width_px = 2400; // at most; 200 to 8192
    int most_in_a_row = 5;
    double gap_mm = 90; // between pieces, and about them
    int samples = 4;
};

// Where a piece came to hang, in pixels from the top left.
struct WallPlace {
    Vec2 middle_px{0, 0};
    double foot_px = 0; // below its lowest point
};
struct WallPicture {
    Picture picture;
    std::vector<WallPlace> places; // as the plans
    double px_per_mm = 1;          // on the wall
};

// The pieces as they hang, seen from the front. Problems as draw_picture(). Cost: that of one picture a piece.
Outcome<WallPicture> draw_wall(std::vector<std::shared_ptr<Plan const>> const& plans, WallRequest const& request);

} // namespace leafwright
