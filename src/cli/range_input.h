// A range and its pieces, read from the files that it names.
#pragma once

#include "cli/shell.h"
#include "range/range_spec.h"

namespace leafwright {

struct RangeInput {
    RangeSpec spec;
    std::vector<Piece> pieces; // as spec.pieces
};

// RANGE on the command line: "demo:NAME", or else a file; its pieces are looked for beside it. Problems of a piece name
// its place in the range and its file.
Outcome<RangeInput> open_range(std::string const& name);
bool is_range_name(std::string const& name); // "*.range.json" or "demo:" with the name of a demo range

} // namespace leafwright
