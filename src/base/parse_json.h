// JSON texts to values, in one file for all rooms: the parser's header is slow, its code slower to compile.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include <string_view>

namespace leafwright {

// Discarded (is_discarded()) when the text is no JSON. Depth and size are not looked at: see piece/json_gate.h.
nlohmann::json parse_json(std::string_view text);

} // namespace leafwright
