// What the maker should know about the plan, each in a plain sentence with what to do.
#pragma once

#include "piece/plan.h"

#include <string_view>

namespace leafwright {

// Refusals first, then in the order of the making line. Needs everything else of the plan.
std::vector<Warning> warnings_of(Plan const& plan);

// The single leaves that the warning of that code speaks of; empty where it speaks of none.
std::vector<int> leaves_meant(Plan const& plan, std::string_view code);

} // namespace leafwright
