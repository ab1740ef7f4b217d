// Wire by material and diameter.
#pragma once

#include "base/outcome.h"

#include <string_view>
#include <vector>

namespace leafwright {

inline constexpr double kWireFactor = 5; // breaking load over tension: wire rope, Directive 2006/42/EC annex I 4.1.2.4

struct Wire {
    std::string name; // "wire:copper-1.0"
    double diameter_mm = 1;
    double breaking_N = 0;
    std::string from; // where the strength comes from
};

// "wire:MATERIAL-DIAMETER", diameters of 0.3 to 8 mm. Materials, least strength:
//   copper      210 N/mm2, annealed; Mechanical Engineers' Handbook, 2nd ed. 1998, ch. 4
//   galvanised  350 N/mm2, soft; from memory, no table seen: use the load printed on the packet
//   stainless   500 N/mm2, annealed; from memory, likewise
//   rope        1770 N/mm2, a single rope wire of that grade; EN 10264-1
// Problem "wire.unknown".
Outcome<Wire> wire_of(std::string_view name);

// The thinnest usual wire of that material that holds the tension with the factor; nothing when none does.
std::optional<Wire> wire_for(std::string_view material, double tension_N, double factor = kWireFactor);

std::vector<std::string_view> wire_materials();
inline constexpr double kUsualWires_mm[] = {0.5, 0.6, 0.8, 1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0, 4.0};

} // namespace leafwright
