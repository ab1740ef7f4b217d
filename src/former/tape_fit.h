// Which profile has the tape lengths that the maker measured over the crown.
#pragma once

#include "former/former.h"

namespace leafwright {

struct TapeExponents {
    double across = 2;
    double along = 2;
};

// Exponents 1.2 (nearly a cone) to 20 (nearly a box). Problems "tape.short", "tape.long" tell the possible lengths;
// "range" when a length is no positive number. The fitted lengths agree to 1e-9 relative.
Outcome<TapeExponents> fit_tape(Outline const& outline, ProfileSpec const& profile);

} // namespace leafwright
