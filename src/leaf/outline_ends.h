// Where a bare outline has its base and its tip, by its shape alone.
#pragma once

#include "base/polygon.h"

namespace leafwright {

struct OutlineEnds {
    Vec2 base{0, 0};
    Vec2 tip{0, 0};
    double stalk = 0; // length of a stalk at the base; 0: none
};

// y up. The line of best mirror symmetry (the longer one where two are as good) is the midrib; the base is the end with
// a stalk, else the lower one. A guess: show it to the maker.
OutlineEnds ends_of(Ring const& outline);

} // namespace leafwright
