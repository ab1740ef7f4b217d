// The copy that is kept while work is not saved, and its finding again after a crash.
//
// Each running bench owns one copy, named after its process: autosave-PID.piece.json, and beside it
// autosave-PID.origin, which holds the path of the piece (empty when it never had one). Both go when the work is saved
// or given up.
#pragma once

#include "piece/piece.h"

#include <chrono>
#include <filesystem>
#include <vector>

namespace leafwright {

inline constexpr std::chrono::seconds kAutosaveEvery{20};

struct KeptCopy {
    std::filesystem::path file;
    std::filesystem::path origin; // where the piece was opened from or saved to; may be empty
    std::string name;             // of the piece; "" when the copy cannot be read
    std::string when;             // local time of the copy, "14:32, 3 May"
};

MaybeProblem keep_copy(std::filesystem::path const& folder, long process, Piece const& piece,
                       std::filesystem::path const& origin);
void drop_copy(std::filesystem::path const& folder, long process);

// Copies whose process is gone, newest first.
std::vector<KeptCopy> copies_left_behind(std::filesystem::path const& folder);
void drop_copy(KeptCopy const& copy);

} // namespace leafwright
