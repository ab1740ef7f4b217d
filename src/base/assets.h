// Files of assets/ and shaders/ that are compiled into the program, so that it runs from any folder.
#pragma once

#include <span>
#include <string_view>

namespace leafwright {

struct Asset {
    std::string_view path; // below the project's folder: "assets/leaves/hornbeam.json"
    std::string_view text;
};

// All embedded files, in the order in which src/base/CMakeLists.txt lists them.
std::span<Asset const> assets();

// The text of one embedded file; nullptr data when there is none of that path.
std::string_view asset_text(std::string_view path);

} // namespace leafwright
