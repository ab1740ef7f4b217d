#include "sheet/words.h"

#include "base/units.h"

#include <cstdlib>
#include <fmt/format.h>
#include <regex>

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

std::string UnitWords::small_mass(double g) const {
    if (inches) return g < kGPerPound ? fmt::format("{:.2f} oz", 16 * g / kGPerPound) : mass(g);
    return g < 100 ? fmt::format("{:.1f} g", g) : mass(g);
}

std::string UnitWords::sentence(std::string_view text) const {
    std::string all(text);
    if (!inches) return all;
    std::regex const figure{R"(([0-9]+(?:\.[0-9]+)?) mm(?![a-zA-Z0-9]|²))"};
    std::string out;
    std::size_t from = 0;
    for (std::sregex_iterator hit{all.begin(), all.end(), figure}, end; hit != end; ++hit) {
        auto const at = static_cast<std::size_t>(hit->position());
        out.append(all, from, at - from).append(length(std::strtod((*hit)[1].str().c_str(), nullptr)));
        from = at + static_cast<std::size_t>(hit->length());
    }
    return out + all.substr(from);
}

std::string percent(double share, int digits) { return fmt::format("{:.{}f} %", 100 * share, digits); }

} // namespace leafwright
