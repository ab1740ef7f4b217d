// Leaves from a photograph: the state of the page.
#pragma once

#include <filesystem>

namespace leafwright {

struct TracePage {
    std::filesystem::path path;
};

} // namespace leafwright
