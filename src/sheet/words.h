// Figures in words for paper: no more digits than they deserve, with the unit.
#pragma once

#include "base/figure.h"

#include <string>

namespace leafwright {

struct UnitWords {
    bool inches = false;
    std::string length(double mm) const;     // "301 mm", "11.9 in"
    std::string area(double mm2) const;      // "1,204 cm2", "187 sq in"
    std::string mass(double g) const;        // "4.39 kg", "9.7 lb"; below 1 kg "430 g"
    std::string mass(Figure const& g) const; // "4.4 kg (3.9 to 4.9)"
};

std::string percent(double share, int digits = 0);

} // namespace leafwright
