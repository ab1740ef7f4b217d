#include "base/assets.h"

namespace leafwright {

std::string_view asset_text(std::string_view path) {
    for (Asset const& asset : assets())
        if (asset.path == path) return asset.text;
    return {};
}

} // namespace leafwright
