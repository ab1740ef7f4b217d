#include "bench/units_text.h"

#include "base/units.h"

#include <fmt/format.h>

#include <cctype>
#include <cmath>
#include <cstdlib>
#include <regex>

namespace leafwright {
namespace {

constexpr double kGPerOunce = kGPerPound / 16;

struct Shown {
    double factor = 1; // shown = value * factor
    std::string_view unit;
    int decimals = 0;
};

int mass_decimals(double shown) { return shown < 9.995 ? 2 : (shown < 99.95 ? 1 : 0); }

Shown mass_shown(double g, Units units) {
    double const size = std::abs(g);
    if (units == Units::metric) {
        if (size < 999.5) return {1, "g", 0};
        return {0.001, "kg", mass_decimals(size / 1000)};
    }
    if (size < kGPerPound) return {1 / kGPerOunce, "oz", 1};
    return {1 / kGPerPound, "lb", mass_decimals(size / kGPerPound)};
}

Shown length_shown(double mm, Units units) {
    if (units == Units::inches) return {1 / kMmPerInch, "in", std::abs(mm) < 10 * kMmPerInch ? 2 : 1};
    double const size = std::abs(mm);
    bool const whole = std::abs(mm - std::round(mm)) < 0.005;
    return {1, "mm", size < 20 && !whole ? 1 : 0};
}

Shown area_shown(double mm2, Units units) {
    double const factor = units == Units::inches ? 1 / (kMmPerInch * kMmPerInch) : 0.01;
    if (units == Units::metric && std::abs(mm2) >= 0.5 && std::abs(mm2) < 99.5) return {1, "mm²", 0};
    double const size = std::abs(mm2) * factor;
    return {factor, units == Units::inches ? "in²" : "cm²", size < 9.95 && size > 0.005 ? 1 : 0};
}

bool is_whole(double value) { return std::abs(value - std::round(value)) < 0.05; }

Shown shown_as(double value, Quantity quantity, Units units) {
    switch (quantity) {
    case Quantity::length:
        return length_shown(value, units);
    case Quantity::mass:
        return mass_shown(value, units);
    case Quantity::area:
        return area_shown(value, units);
    case Quantity::share:
        return {100, "%", std::abs(value) < 0.0995 && std::abs(value) > 0.0005 ? 1 : 0};
    case Quantity::angle:
        return {1, "°", 0};
    case Quantity::temperature:
        return {1, "°C", 0};
    case Quantity::slip:
        return {1, "g/m²", 0};
    case Quantity::count:
        return {1, "", 0};
    case Quantity::plain:
        return {1, "", 2};
    case Quantity::days:
        return {1, is_whole(value) && std::lround(value) == 1 ? "day" : "days", is_whole(value) ? 0 : 1};
    case Quantity::hours:
        return {1, "h", is_whole(value) || std::abs(value) >= 99.5 ? 0 : 1};
    case Quantity::force:
        return {1, "N", std::abs(value) < 9.95 && !is_whole(value) ? 1 : 0};
    case Quantity::rate:
        return {1, "°C/h", 0};
    case Quantity::fine_length:
        return units == Units::inches ? Shown{1 / kMmPerInch, "in", 3} : Shown{1, "mm", 2};
    case Quantity::fine_mass:
        return {1, "g", 2};
    case Quantity::litres:
        return {1, "l", std::abs(value) < 9.95 ? 1 : 0};
    case Quantity::litre_mass:
        return {1, "g/l", 0};
    }
    return {};
}

std::string number(double value, Shown const& shown) {
    double scaled = value * shown.factor;
    if (std::abs(scaled) < 0.5 * std::pow(10.0, -shown.decimals)) scaled = 0; // no "-0"
    return fmt::format("{:.{}f}", scaled, shown.decimals);
}

std::string with_unit(std::string text, std::string_view unit) {
    if (unit.empty()) return text;
    return unit == "°" ? text + "°" : fmt::format("{} {}", text, unit);
}

struct UnitWord {
    std::string_view word;
    Quantity quantity;
    double factor; // value = typed * factor
};
constexpr UnitWord kUnitWords[] = {
    {"mm", Quantity::length, 1},
    {"cm", Quantity::length, 10},
    {"m", Quantity::length, 1000},
    {"in", Quantity::length, kMmPerInch},
    {"inch", Quantity::length, kMmPerInch},
    {"inches", Quantity::length, kMmPerInch},
    {"\"", Quantity::length, kMmPerInch},
    {"ft", Quantity::length, 12 * kMmPerInch},
    {"'", Quantity::length, 12 * kMmPerInch},
    {"g", Quantity::mass, 1},
    {"kg", Quantity::mass, 1000},
    {"oz", Quantity::mass, kGPerOunce},
    {"lb", Quantity::mass, kGPerPound},
    {"%", Quantity::share, 0.01},
    {"days", Quantity::days, 1},
    {"day", Quantity::days, 1},
    {"d", Quantity::days, 1},
    {"h", Quantity::hours, 1},
    {"min", Quantity::hours, 1.0 / 60},
    {"N", Quantity::force, 1},
    {"kgf", Quantity::force, 9.80665},
    {"lbf", Quantity::force, 4.4482216},
    {"°C/h", Quantity::rate, 1},
    {"K/h", Quantity::rate, 1},
    {"mm", Quantity::fine_length, 1},
    {"cm", Quantity::fine_length, 10},
    {"in", Quantity::fine_length, kMmPerInch},
    {"g", Quantity::fine_mass, 1},
    {"kg", Quantity::fine_mass, 1000},
    {"oz", Quantity::fine_mass, kGPerOunce},
    {"l", Quantity::litres, 1},
    {"ml", Quantity::litres, 0.001},
    {"g/l", Quantity::litre_mass, 1},
    {"°", Quantity::angle, 1},
    {"deg", Quantity::angle, 1},
    {"°C", Quantity::temperature, 1},
    {"C", Quantity::temperature, 1},
    {"g/m²", Quantity::slip, 1},
    {"g/m2", Quantity::slip, 1},
    {"mm²", Quantity::area, 1},
    {"mm2", Quantity::area, 1},
    {"cm²", Quantity::area, 100},
    {"cm2", Quantity::area, 100},
};

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front()))) text.remove_prefix(1);
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.back()))) text.remove_suffix(1);
    return text;
}

// A decimal number at the front, with a point or a comma; nothing when there is none.
std::optional<double> take_decimal(std::string_view& text) {
    std::size_t end = text.starts_with("-") || text.starts_with("+") ? 1 : 0;
    bool digits = false;
    bool point = false;
    for (; end < text.size(); ++end) {
        char const c = text[end];
        if (std::isdigit(static_cast<unsigned char>(c)))
            digits = true;
        else if ((c == '.' || c == ',') && !point)
            point = true;
        else
            break;
    }
    if (!digits || end > 18) return std::nullopt;
    std::string plain(text.substr(0, end));
    for (char& c : plain)
        if (c == ',') c = '.';
    text.remove_prefix(end);
    return std::strtod(plain.c_str(), nullptr);
}

// "/4" after a numerator: divides it.
bool take_divisor(std::string_view& text, double& numerator) {
    if (!text.starts_with("/")) return true;
    text.remove_prefix(1);
    auto const divisor = take_decimal(text);
    if (!divisor || *divisor <= 0) return false;
    numerator /= *divisor;
    return true;
}

// "11", "11 3/4", "3/4"
std::optional<double> take_number(std::string_view& text) {
    auto first = take_decimal(text);
    if (!first || !take_divisor(text, *first)) return std::nullopt;
    std::string_view rest = trimmed(text);
    if (rest.empty() || !std::isdigit(static_cast<unsigned char>(rest.front()))) return first;
    auto second = take_decimal(rest);
    if (!second || !rest.starts_with("/") || !take_divisor(rest, *second)) return std::nullopt;
    text = rest;
    return *first + std::copysign(*second, *first);
}

double bare_factor(Quantity quantity, Units units) {
    bool const inches = units == Units::inches;
    switch (quantity) {
    case Quantity::length:
    case Quantity::fine_length:
        return inches ? kMmPerInch : 1;
    case Quantity::mass:
        return inches ? kGPerPound : 1000;
    case Quantity::area:
        return inches ? kMmPerInch * kMmPerInch : 100;
    case Quantity::share:
        return 0.01;
    default:
        return 1;
    }
}

} // namespace

std::string quantity_text(double value, Quantity quantity, Units units) {
    Shown const shown = shown_as(value, quantity, units);
    return with_unit(number(value, shown), shown.unit);
}

std::string size_text(double width_mm, double height_mm, Units units) {
    Shown shown = length_shown(std::max(width_mm, height_mm), units);
    if (units == Units::metric) shown.decimals = 0;
    return fmt::format("{} × {} {}", number(width_mm, shown), number(height_mm, shown), shown.unit);
}

std::string size_text(double width_mm, double height_mm, double depth_mm, Units units) {
    Shown shown = length_shown(std::max(width_mm, height_mm), units);
    if (units == Units::metric) shown.decimals = 0;
    return fmt::format("{} × {} × {} {}", number(width_mm, shown), number(height_mm, shown), number(depth_mm, shown),
                       shown.unit);
}

std::string range_text(Figure const& figure, Quantity quantity, Units units) {
    if (figure.is_exact()) return {};
    Shown const shown = shown_as(figure.value, quantity, units);
    std::string const low = number(figure.low, shown);
    std::string const high = number(figure.high, shown);
    return low == high ? std::string() : with_unit(low + " to " + high, shown.unit);
}

std::string figure_text(Figure const& figure, Quantity quantity, Units units) {
    Shown const shown = shown_as(figure.value, quantity, units);
    std::string const text = with_unit(number(figure.value, shown), shown.unit);
    std::string const low = number(figure.low, shown);
    std::string const high = number(figure.high, shown);
    return low == high ? text : fmt::format("{} ({} to {})", text, low, high);
}

std::string_view from_text(FigureFrom from) {
    switch (from) {
    case FigureFrom::computed:
        return "computed";
    case FigureFrom::measured:
        return "measured by you";
    case FigureFrom::by_default:
        return "usual for this clay";
    }
    return {};
}

std::optional<double> read_quantity(std::string_view text, Quantity quantity, Units units) {
    text = trimmed(text);
    auto const typed = take_number(text);
    if (!typed) return std::nullopt;
    text = trimmed(text);
    if (text.empty()) return *typed * bare_factor(quantity, units);
    for (UnitWord const& unit : kUnitWords)
        if (unit.word == text && unit.quantity == quantity) return *typed * unit.factor;
    return std::nullopt;
}

std::string sentence_in(std::string_view sentence, Units units) {
    if (units == Units::metric) return std::string(sentence);
    std::regex const figure{R"(([0-9]+(?:\.[0-9]+)?) (cm²|mm²|mm|kg|g)(?![a-zA-Z0-9]))"};
    std::string out;
    std::string const text(sentence);
    std::size_t from = 0;
    for (std::sregex_iterator hit{text.begin(), text.end(), figure}, end; hit != end; ++hit) {
        auto const& match = *hit;
        double const value = std::strtod(match[1].str().c_str(), nullptr);
        std::string const unit = match[2];
        out.append(text, from, static_cast<std::size_t>(match.position()) - from);
        out += unit == "mm"    ? quantity_text(value, Quantity::length, units)
               : unit == "mm²" ? quantity_text(value, Quantity::area, units)
               : unit == "cm²" ? quantity_text(100 * value, Quantity::area, units)
                               : quantity_text(unit == "kg" ? 1000 * value : value, Quantity::mass, units);
        from = static_cast<std::size_t>(match.position() + match.length());
    }
    return out + text.substr(from);
}

} // namespace leafwright
