// A piece as a file (*.piece.json). The keys are in README.md. Reading checks every type and range; a Problem names the
// key ("leaves[3].scale"), the value and the range.
#pragma once

#include "piece/piece.h"

#include <filesystem>

namespace leafwright {

// Limits of what is read at all: 64 MB, 64 levels deep, 5,000 leaves, 200 features, 200 kinds.
Outcome<Piece> piece_from_json(std::string_view text);
// Two-space indent, keys in the order of the README; numbers as short as gives the same double back.
std::string piece_to_json(Piece const& piece);

Outcome<std::string> read_file(std::filesystem::path const& path);
// Writes beside the target and renames, so that no file is ever left half written. Problem: "file.write".
MaybeProblem write_file(std::filesystem::path const& path, std::string_view bytes);

Outcome<Piece> load_piece(std::filesystem::path const& path);
MaybeProblem save_piece(std::filesystem::path const& path, Piece const& piece);

// Ranges and cross references (kinds that exist, ids that are unique), for pieces made in the window too.
MaybeProblem check_piece(Piece const& piece);

} // namespace leafwright
