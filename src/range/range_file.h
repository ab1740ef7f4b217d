// A range as a file (*.range.json). The keys are in README.md.
#pragma once

#include "range/range_spec.h"

#include <filesystem>

namespace leafwright {

// Limits: 64 MB, 60 entries, 200 copies in all, 100 times away. Problems name the key by its JSON path, the value and
// the range; keys that are not known are refused, and so are members given twice.
Outcome<RangeSpec> range_from_json(std::string_view text);
// Two-space indent, keys in the order of the README; dates as calendar dates.
std::string range_to_json(RangeSpec const& spec);

Outcome<RangeSpec> load_range(std::filesystem::path const& path);
MaybeProblem save_range(std::filesystem::path const& path, RangeSpec const& spec);

// The demo ranges of assets/demo/, by name: "gatehouse".
std::vector<std::string> demo_range_names();
Outcome<RangeSpec> demo_range(std::string_view name);

} // namespace leafwright
