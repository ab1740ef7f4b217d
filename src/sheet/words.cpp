#include "sheet/words.h"

#include "base/units.h"

#include <fmt/format.h>

namespace leafwright {

std::string UnitWords::length(double mm) const {
    return inches ? fmt::format("{:.1f} in", mm / kMmPerInch) : fmt::format("{:.0f} mm", mm);
}

std::string UnitWords::area(double mm2) const {
    return inches ? fmt::format("{:.0f} sq in", mm2 / (kMmPerInch * kMmPerInch))
                  : fmt::format("{:.0f} cm²", mm2 / 100.0);
}

std::string UnitWords::mass(double g) const {
    if (inches) return fmt::format("{:.1f} lb", g / kGPerPound);
    return g < 1000 ? fmt::format("{:.0f} g", g) : fmt::format("{:.2f} kg", g / 1000);
}

std::string UnitWords::mass(Figure const& g) const {
    if (g.is_exact()) return mass(g.value);
    double const unit = inches ? kGPerPound : 1000.0;
    return fmt::format("{} ({:.1f} to {:.1f})", mass(g.value), g.low / unit, g.high / unit);
}

std::string percent(double share, int digits) { return fmt::format("{:.{}f} %", 100 * share, digits); }

} // namespace leafwright
