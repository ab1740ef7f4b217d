#include "base/parse_json.h"

#include <nlohmann/json.hpp>

namespace leafwright {

nlohmann::json parse_json(std::string_view text) { return nlohmann::json::parse(text, nullptr, false); }

} // namespace leafwright
