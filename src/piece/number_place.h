// Where a number stands best within an outline.
#pragma once

#include "base/polygon.h"

namespace leafwright {

struct NumberPlace {
    Vec2 at{0, 0};
    double clear_mm = 0; // from there to the nearest edge, or to what covers the outline
};

// The place farthest from every edge, of some hundreds tried; `covers` are taken off the outline (leaves laid later).
// With nothing left to be seen, clear_mm is 0 and the place is the outline's middle.
NumberPlace number_place(Polygon const& outline, std::span<Polygon const* const> covers = {});

} // namespace leafwright
