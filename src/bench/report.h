// What the bench shows and where, as JSON, for tests with real mouse events.
#pragma once

#include "bench/desk.h"

namespace leafwright {

struct ReportCounts {
    int frames = 0;
    int pictures = 0;
    double first_frame_s = 0;
    double picture_s = 0; // how long the last fine picture took
};

// Lengths and places in window units, from the top left: boxes as [x, y, width, height].
std::string report_json(Desk const& desk, ReportCounts const& counts);

} // namespace leafwright
