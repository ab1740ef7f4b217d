// What a JSON text must keep to before anything is built from it: size, depth, syntax, numbers that are finite, no
// member given twice.
#pragma once

#include "base/outcome.h"

namespace leafwright {

// Problems: "syntax" with the line and column, "too-deep", "number", "key.twice" with the JSON path. Nothing when the
// text may be read. Memory: no more than the names of the members that are open.
MaybeProblem check_json(std::string_view text);

} // namespace leafwright
