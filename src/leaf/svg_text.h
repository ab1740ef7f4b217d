// The small grammars inside SVG attributes (SVG 1.1, chapters 4.2, 7.6 and 8.3.9; CSS lengths).
#pragma once

#include "base/vec.h"

#include <cmath>

#include <array>
#include <optional>
#include <string_view>

namespace leafwright {

// x' = a x + c y + e, y' = b x + d y + f.
struct Affine {
    double a = 1, b = 0, c = 0, d = 1, e = 0, f = 0;
    Vec2 operator()(Vec2 const& p) const { return {a * p.x + c * p.y + e, b * p.x + d * p.y + f}; }
    double area_factor() const { return std::abs(a * d - b * c); }
    double largest_stretch() const; // of any length
};
Affine operator*(Affine const& outer, Affine const& inner); // inner first

// Reads numbers and commands off a text, as path data and transforms are written: "M10-5.5.25e1" is M 10 -5.5 2.5.
class SvgScanner {
public:
    explicit SvgScanner(std::string_view text) : text_(text) {}
    bool at_end();                  // nothing but white space is left
    std::optional<double> number(); // with white space and one comma before it passed over
    std::optional<bool> flag();     // of an arc: one digit, 0 or 1
    bool take(char c);              // that character, after white space
    char peek();                    // the next one after white space; 0 at the end
    std::string_view word();        // letters
    std::size_t position() const { return at_; }

private:
    void skip_space();
    std::string_view text_;
    std::size_t at_ = 0;
};

// Nothing when the list is not a transform list; then the element keeps none.
std::optional<Affine> svg_transform(std::string_view text);

enum class LengthUnit { none, px, percent, em, ex, mm, q, cm, in, pt, pc };
struct SvgLength {
    double value = 0;
    LengthUnit unit = LengthUnit::none;
    bool absolute() const { return unit >= LengthUnit::mm && unit <= LengthUnit::pc; } // told in real lengths
};
std::optional<SvgLength> svg_length(std::string_view text);
// In user units, of which `dpi` make an inch; `whole` is what 100 % means.
double user_units(SvgLength const& length, double dpi, double whole);

std::string_view trimmed(std::string_view text);

} // namespace leafwright
