// Copies, moves and ends of what panels and hand ask for, once for all who ask.
#include "base/once_made_in.h"
#include "bench/state.h"

namespace leafwright {

template struct OnceMade<AnyIntent>;
template struct OnceMade<AnyDeed>;

} // namespace leafwright
