#include "hanging/wire.h"

#include "base/units.h"

#include <array>
#include <charconv>
#include <fmt/format.h>

namespace leafwright {

namespace {

struct Material {
    std::string_view name;
    double N_mm2;
    std::string_view from;
};

constexpr std::array<Material, 4> kMaterials = {{{"copper", 210, "annealed copper, handbook value"},
                                                 {"galvanised", 350, "soft galvanised, not confirmed"},
                                                 {"stainless", 500, "annealed stainless, not confirmed"},
                                                 {"rope", 1770, "rope wire of grade 1770, EN 10264-1"}}};

Wire made(Material const& m, double diameter_mm) {
    return {fmt::format("wire:{}-{:.1f}", m.name, diameter_mm), diameter_mm,
            m.N_mm2 * kPi / 4 * diameter_mm * diameter_mm, std::string(m.from)};
}

} // namespace

std::vector<std::string_view> wire_materials() {
    std::vector<std::string_view> names;
    names.reserve(std::size(kMaterials));
    for (Material const& m : kMaterials) names.push_back(m.name);
    return names;
}

Outcome<Wire> wire_of(std::string_view name) {
    std::string_view rest = name.starts_with("wire:") ? name.substr(5) : name;
    for (Material const& m : kMaterials) {
        if (!rest.starts_with(m.name) || rest.size() <= m.name.size() || rest[m.name.size()] != '-') continue;
        std::string_view const number = rest.substr(m.name.size() + 1);
        double diameter = 0;
        auto const read = std::from_chars(number.data(), number.data() + number.size(), diameter);
        if (read.ec != std::errc() || read.ptr != number.data() + number.size()) break;
        if (!(diameter >= 0.3 && diameter <= 8)) break;
        return made(m, diameter);
    }
    std::string names;
    for (Material const& m : kMaterials) names += fmt::format("{}wire:{}-1.0", names.empty() ? "" : ", ", m.name);
    return Problem{"wire.unknown", "hanging.wire", "names no wire that is known; diameters run from 0.3 to 8 mm",
                   "Write " + names};
}

std::optional<Wire> wire_for(std::string_view material, double tension_N, double factor) {
    for (Material const& m : kMaterials) {
        if (m.name != material) continue;
        for (double d : kUsualWires_mm)
            if (Wire const wire = made(m, d); wire.breaking_N >= factor * tension_N) return wire;
    }
    return std::nullopt;
}

} // namespace leafwright
