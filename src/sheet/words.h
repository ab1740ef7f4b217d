// Figures in words for paper: no more digits than they deserve, with the unit.
#pragma once

#include "base/figure.h"

#include <string>
#include <string_view>

namespace leafwright {

struct UnitWords {
    bool inches = false;
    std::string length(double mm) const;     // "301 mm", "11.9 in"
    std::string area(double mm2) const;      // "1,204 cm2", "187 sq in"
    std::string mass(double g) const;        // "4.39 kg", "9.7 lb"; below 1 kg "430 g"
    std::string mass(Figure const& g) const; // "4.4 kg (3.9 to 4.9)"
    std::string small_mass(double g) const;  // "3.4 g", "0.12 oz"; from a pound on as mass()
    // Lengths in mm within a sentence that other rooms wrote: "11 mm thick" to "0.4 in thick".
    std::string sentence(std::string_view text) const;
};

std::string percent(double share, int digits = 0);

} // namespace leafwright
