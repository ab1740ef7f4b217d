// What a folder holds that the file chooser shows.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace leafwright {

enum class ListOf { pieces, photos, leaves };

struct FileList {
    std::vector<std::string> folders; // by name, hidden ones left out
    std::vector<std::string> pieces;  // *.piece.json, or photographs, or leaf files and drawings, by their ending
    std::string problem;              // one sentence when the folder cannot be read
};

// At most 2,000 entries are shown.
FileList file_list(std::filesystem::path const& folder, ListOf what = ListOf::pieces);

// The file that was typed: a whole path, or a name in that folder; "~" is HOME. For saving, ".piece.json" is added when
// there is no ending.
std::filesystem::path typed_path(std::filesystem::path const& folder, std::string const& typed, bool for_saving);

} // namespace leafwright
