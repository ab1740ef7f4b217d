// The window: the piece in the middle, the making line below, the worktop and the leaf tray beside it.
#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace leafwright {

struct BenchRequest {
    std::optional<std::filesystem::path> piece; // opened at the start
    std::optional<std::string> demo;            // else this demo piece
    double text_scale = 0;                      // 1 to 2; 0: as last time, or as the screen asks
    bool inches = false;                        // inches and pounds, whatever was chosen last time
    // After each change the bench writes here, as JSON, what it shows and where: for tests with real mouse events.
    std::optional<std::filesystem::path> report;
};

// Runs until the window is closed. Exit status: 0, or 2 when no window can be opened (told on standard error).
int run_bench(BenchRequest const& request);

} // namespace leafwright
