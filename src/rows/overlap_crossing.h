// Inside the overlap engine, for no other room: where two outlines cross, and the area that they share.
#pragma once

#include "rows/overlap_outline.h"

namespace leafwright::overlap {

// A place on a walk is told by a key: edge number plus the share of the edge that lies behind. Keys decide the order
// only; areas are taken from the point itself, the same one for both outlines, so that every sum of sweeps closes.
struct Crossing {
    double key_a = 0;
    double key_b = 0;
    Vec2 at{0, 0};
};

struct Shared {
    std::vector<Crossing> along_a; // every crossing, in the order of a's walk
    std::vector<Crossing> along_b; // and of b's
    bool a_starts_in_b = false;
    bool b_starts_in_a = false;
    double area_mm2 = 0;

    bool nothing() const { return along_a.empty() && !a_starts_in_b && !b_starts_in_a; }
};

// Signs are exact, and a tie (a point on the other's edge) is broken as if b had been moved to the right by a length
// smaller than any other, and up by a still smaller one. So edges cross or do not, points lie inside or outside, and
// the two never disagree, also where outlines share corners or edges or are the same. The lower id must come as a.
void find_shared(Outline const& a, Outline const& b, Shared& out);

} // namespace leafwright::overlap
