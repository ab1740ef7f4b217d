#include "leaf/svg_text.h"

#include "base/units.h"

#include <array>
#include <charconv>
#include <cmath>
#include <span>

namespace leafwright {

namespace {

bool is_space(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n' || c == '\f'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

// Length of the number at the front: sign? (digits (. digits?)? | . digits) exponent?; 0 when there is none.
std::size_t number_length(std::string_view text) {
    std::size_t i = 0;
    if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
    std::size_t digits = 0;
    while (i < text.size() && is_digit(text[i])) ++i, ++digits;
    if (i < text.size() && text[i] == '.') {
        std::size_t k = i + 1;
        std::size_t after = 0;
        while (k < text.size() && is_digit(text[k])) ++k, ++after;
        if (digits + after > 0) i = k;
        digits += after;
    }
    if (digits == 0) return 0;
    if (i < text.size() && (text[i] == 'e' || text[i] == 'E')) {
        std::size_t k = i + 1;
        if (k < text.size() && (text[k] == '+' || text[k] == '-')) ++k;
        if (k < text.size() && is_digit(text[k])) {
            while (k < text.size() && is_digit(text[k])) ++k;
            i = k;
        }
    }
    return i;
}

Affine turn(double deg) {
    double const t = radians(deg);
    return {std::cos(t), std::sin(t), -std::sin(t), std::cos(t), 0, 0};
}

std::optional<Affine> one_transform(std::string_view name, std::span<double const> v) {
    std::size_t const n = v.size();
    if (name == "matrix" && n == 6) return Affine{v[0], v[1], v[2], v[3], v[4], v[5]};
    if (name == "translate" && (n == 1 || n == 2)) return Affine{1, 0, 0, 1, v[0], n == 2 ? v[1] : 0.0};
    if (name == "scale" && (n == 1 || n == 2)) return Affine{v[0], 0, 0, n == 2 ? v[1] : v[0], 0, 0};
    if (name == "rotate" && n == 1) return turn(v[0]);
    if (name == "rotate" && n == 3)
        return Affine{1, 0, 0, 1, v[1], v[2]} * (turn(v[0]) * Affine{1, 0, 0, 1, -v[1], -v[2]});
    if (name == "skewX" && n == 1) return Affine{1, 0, std::tan(radians(v[0])), 1, 0, 0};
    if (name == "skewY" && n == 1) return Affine{1, std::tan(radians(v[0])), 0, 1, 0, 0};
    return {};
}

} // namespace

double Affine::largest_stretch() const {
    // The larger singular value of the 2 x 2 part.
    double const p = a * a + b * b + c * c + d * d;
    double const q = std::hypot(a * a + b * b - c * c - d * d, 2 * (a * c + b * d));
    return std::sqrt(0.5 * (p + q));
}

Affine operator*(Affine const& o, Affine const& i) {
    return {o.a * i.a + o.c * i.b, o.b * i.a + o.d * i.b,       o.a * i.c + o.c * i.d,
            o.b * i.c + o.d * i.d, o.a * i.e + o.c * i.f + o.e, o.b * i.e + o.d * i.f + o.f};
}

void SvgScanner::skip_space() {
    while (at_ < text_.size() && is_space(text_[at_])) ++at_;
}

bool SvgScanner::at_end() {
    skip_space();
    return at_ >= text_.size();
}

char SvgScanner::peek() {
    skip_space();
    return at_ < text_.size() ? text_[at_] : '\0';
}

bool SvgScanner::take(char c) {
    if (peek() != c || at_ >= text_.size()) return false;
    ++at_;
    return true;
}

std::optional<double> SvgScanner::number() {
    std::size_t const was = at_;
    take(',');
    skip_space();
    std::string_view rest = text_.substr(at_);
    std::size_t const length = number_length(rest);
    double value = 0;
    // from_chars knows no plus sign.
    std::string_view digits = rest.substr(0, length);
    if (!digits.empty() && digits[0] == '+') digits.remove_prefix(1);
    auto const read = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (length == 0 || read.ec == std::errc::invalid_argument || !std::isfinite(value)) {
        at_ = was;
        return {};
    }
    at_ += length;
    if (read.ec == std::errc::result_out_of_range) return 0.0; // too small to matter, or refused below as too large
    return value;
}

std::optional<bool> SvgScanner::flag() {
    std::size_t const was = at_;
    take(',');
    char const c = peek();
    if (c == '0' || c == '1') {
        ++at_;
        return c == '1';
    }
    at_ = was;
    return {};
}

std::string_view SvgScanner::word() {
    skip_space();
    std::size_t const from = at_;
    while (at_ < text_.size() && is_letter(text_[at_])) ++at_;
    return text_.substr(from, at_ - from);
}

std::optional<Affine> svg_transform(std::string_view text) {
    SvgScanner scan(text);
    Affine all;
    while (!scan.at_end()) {
        scan.take(',');
        std::string_view const name = scan.word();
        if (name.empty() || !scan.take('(')) return {};
        std::array<double, 6> values{};
        std::size_t count = 0;
        while (!scan.take(')')) {
            std::optional<double> const value = scan.number();
            if (!value || count == values.size()) return {};
            values[count++] = *value;
        }
        std::optional<Affine> const one = one_transform(name, {values.data(), count});
        if (!one) return {};
        all = all * *one;
    }
    return all;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
    return text;
}

std::optional<SvgLength> svg_length(std::string_view text) {
    SvgScanner scan(text);
    std::optional<double> const value = scan.number();
    if (!value) return {};
    SvgLength length{*value, LengthUnit::none};
    std::string_view const unit = trimmed(text.substr(std::min(text.size(), scan.position())));
    static constexpr std::array<std::pair<std::string_view, LengthUnit>, 11> kUnits{{{"", LengthUnit::none},
                                                                                     {"px", LengthUnit::px},
                                                                                     {"mm", LengthUnit::mm},
                                                                                     {"cm", LengthUnit::cm},
                                                                                     {"in", LengthUnit::in},
                                                                                     {"pt", LengthUnit::pt},
                                                                                     {"pc", LengthUnit::pc},
                                                                                     {"%", LengthUnit::percent},
                                                                                     {"em", LengthUnit::em},
                                                                                     {"ex", LengthUnit::ex},
                                                                                     {"Q", LengthUnit::q}}};
    for (auto const& [name, known] : kUnits)
        if (unit == name) {
            length.unit = known;
            return length;
        }
    return {};
}

double user_units(SvgLength const& length, double dpi, double whole) {
    switch (length.unit) {
    case LengthUnit::none:
    case LengthUnit::px:
        return length.value;
    case LengthUnit::mm:
        return length.value * dpi / kMmPerInch;
    case LengthUnit::q:
        return 0.25 * length.value * dpi / kMmPerInch;
    case LengthUnit::cm:
        return 10 * length.value * dpi / kMmPerInch;
    case LengthUnit::in:
        return length.value * dpi;
    case LengthUnit::pt:
        return length.value * dpi / 72;
    case LengthUnit::pc:
        return length.value * dpi / 6;
    case LengthUnit::percent:
        return 0.01 * length.value * whole;
    case LengthUnit::em:
        return 16 * length.value; // the usual size of text
    case LengthUnit::ex:
        return 8 * length.value;
    }
    return length.value;
}

} // namespace leafwright
