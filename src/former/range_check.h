// One sentence for a number out of its range. NaN is out of every range.
#pragma once

#include "base/outcome.h"

#include <fmt/format.h>

namespace leafwright {

inline MaybeProblem check_range(char const* key, double value, double low, double high, char const* unit = " mm") {
    if (value >= low && value <= high) return std::nullopt;
    return Problem{"range", key, fmt::format("is {:g}{}; the range is {:g} to {:g}{}", value, unit, low, high, unit),
                   "Choose a value within the range", ProblemKind::input};
}

} // namespace leafwright
