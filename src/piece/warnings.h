// What the maker should know about the plan, each in a plain sentence with what to do.
#pragma once

#include "piece/plan.h"

namespace leafwright {

// Refusals first, then in the order of the making line. Needs everything else of the plan.
std::vector<Warning> warnings_of(Plan const& plan);

} // namespace leafwright
