// What the panels from drying to hanging remember between two frames: the day shown, and values that are typed in but
// not yet part of the piece.
#pragma once

#include "piece/second_half.h"
#include "piece/shown_map.h"

namespace leafwright {

enum class KneadPage { clay, tiles, size, cost };

struct AfterUi {
    // Drying, scrubbed through.
    double day = -1; // below 0: not looked at yet
    bool plays = false;
    double played_s = 0; // of the bench's clock, when the day last moved on
    bool water_shown = true;
    std::shared_ptr<ShownMap const> map; // of the water on that day
    DryingAnswer const* map_of = nullptr;
    double map_day = -1;

    // Typed in.
    KneadPage page = KneadPage::clay;
    int tile = 0;
    double weigh_day = 1;
    double weigh_g = 0;
    double cool_hour = 1;
    double cool_degC = 0;
    double finished_mm = 0; // wished height; 0: as the piece is
    double slip_litres = 1;
    double slip_g_per_litre = 1700;
};

} // namespace leafwright
