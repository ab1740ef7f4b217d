// The kiln's temperature over time. Internal to the room.
#pragma once

#include "firing/firing.h"

namespace leafwright {

// Straight ramps and holds by the segments, a fall never faster than the kiln cools by itself, after the last segment
// its own cooling down to 100 degC.
struct KilnCurve {
    struct Part {
        double from_h = 0;
        double to_h = 0;
        double from_degC = 0;
        double to_degC = 0;
        bool by_itself = false; // Newton, else straight
    };
    std::vector<Part> parts;
    double tau_h = 10;
    double room_degC = 20;
    double top_h = 0; // end of the hold at the highest target

    double end_h() const { return parts.empty() ? 0 : parts.back().to_h; }
    double at(double hour) const;
    // Area under the curve above the room until the top's end, K h.
    double degree_hours() const;
};

KilnCurve kiln_curve(std::vector<FiringSegment> const& segments, KilnSpec const& kiln);

} // namespace leafwright
