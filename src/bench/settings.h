// What the bench remembers between runs, and where it keeps it.
#pragma once

#include "base/outcome.h"
#include "bench/units_text.h"

#include <filesystem>
#include <vector>

namespace leafwright {

struct Settings {
    Units units = Units::metric;
    double text_scale = 0; // 1 to 2; 0: as the screen asks
    int window_width = 1280;
    int window_height = 800;
    std::vector<std::filesystem::path> recent; // newest first
    bool operator==(Settings const&) const = default;
};

inline constexpr std::size_t kRecentMost = 10;

// The folder by the XDG base directory rules: $XDG_CONFIG_HOME or ~/.config, $XDG_STATE_HOME or ~/.local/state; empty
// when neither the variable (which must hold an absolute path) nor HOME is set.
std::filesystem::path config_folder();
std::filesystem::path state_folder();
// The leaf book: $XDG_DATA_HOME/leafwright/leaves, or below ~/.local/share.
std::filesystem::path leaves_folder();

// Unreadable or ill-typed settings are left out one by one; there is always an answer.
Settings settings_from_json(std::string_view text);
std::string settings_to_json(Settings const& settings);

Settings load_settings(std::filesystem::path const& folder);
MaybeProblem save_settings(std::filesystem::path const& folder, Settings const& settings);

// Puts a path first and keeps the list short and free of doubles.
void remember_recent(Settings& settings, std::filesystem::path const& path);

} // namespace leafwright
