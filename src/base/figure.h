// A figure that is shown to the maker: a best value, the range it may lie in, and how it came about.
#pragma once

#include <algorithm>
#include <cmath>

namespace leafwright {

enum class FigureFrom { computed, measured, by_default };

struct Figure {
    double value = 0;
    double low = 0;
    double high = 0;
    FigureFrom from = FigureFrom::computed;

    static Figure exact(double value) { return {value, value, value, FigureFrom::computed}; }
    bool is_exact() const { return low == value && high == value; }
    bool operator==(Figure const&) const = default;
};

// Sum and scaling carry the range through, end by end (the widest case, not a probability).
inline Figure operator+(Figure const& a, Figure const& b) {
    FigureFrom const from = a.from == FigureFrom::by_default || b.from == FigureFrom::by_default
                                ? FigureFrom::by_default
                                : (a.from == b.from ? a.from : FigureFrom::computed);
    return {a.value + b.value, a.low + b.low, a.high + b.high, from};
}
inline Figure operator*(Figure const& a, double k) {
    return {a.value * k, std::min(a.low * k, a.high * k), std::max(a.low * k, a.high * k), a.from};
}

} // namespace leafwright
