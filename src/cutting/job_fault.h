// What a nesting job is refused for before anything is laid.
#pragma once

#include "cutting/nest.h"

namespace leafwright {

// As a Problem calls shape number k.
std::string shape_name(NestJob const& job, std::size_t k);

// The Problems "range", "nest.outline", and "nest.pinned" by number.
MaybeProblem job_fault(NestJob const& job);

} // namespace leafwright
