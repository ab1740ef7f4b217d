// The cutting sheets at the bench: when they are laid out, and what becomes of the answers.
#include "bench/desk.h"

namespace leafwright {

void run_nest(Desk& desk, RunNest const&) { set_look(desk, Look::cutting); }

} // namespace leafwright
