#include "piece/shown_map.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leafwright {
namespace {

// The least of 1, 2 and 5 times a power of ten that is not below x.
double round_step(double x) {
    double const power = std::pow(10.0, std::floor(std::log10(x)));
    for (double const m : {1.0, 2.0, 5.0})
        if (m * power >= x * (1 - 1e-9)) return m * power;
    return 10 * power;
}

} // namespace

double value_at(ShownMap const& map, Vec2 const& chart_mm) {
    double constexpr nothing = std::numeric_limits<double>::quiet_NaN();
    if (map.columns < 2 || map.rows < 2) return nothing;
    Vec2 const at = (chart_mm - map.low_mm) / map.size_mm * Vec2(map.columns, map.rows) - 0.5;
    if (!(at.x >= -0.5 && at.y >= -0.5 && at.x <= map.columns - 0.5 && at.y <= map.rows - 0.5)) return nothing;
    int const i = std::clamp(static_cast<int>(std::floor(at.x)), 0, map.columns - 2);
    int const j = std::clamp(static_cast<int>(std::floor(at.y)), 0, map.rows - 2);
    double const u = std::clamp(at.x - i, 0.0, 1.0);
    double const v = std::clamp(at.y - j, 0.0, 1.0);
    auto const cell = [&](int x, int y) {
        return static_cast<double>(map.values[static_cast<std::size_t>(y) * static_cast<std::size_t>(map.columns) +
                                              static_cast<std::size_t>(x)]);
    };
    return (1 - v) * ((1 - u) * cell(i, j) + u * cell(i + 1, j)) +
           v * ((1 - u) * cell(i, j + 1) + u * cell(i + 1, j + 1));
}

void set_scale(ShownMap& map, double low, double high, int wanted) {
    double const span = std::max(high - low, 1e-9 + 1e-6 * std::max(std::abs(low), std::abs(high)));
    double const step = round_step(span / std::max(wanted, 1));
    map.scale_low = std::floor(low / step + 1e-9) * step;
    map.scale_high = std::max(std::ceil(high / step - 1e-9) * step, map.scale_low + step);
    map.levels.clear();
    int const steps = static_cast<int>(std::lround((map.scale_high - map.scale_low) / step));
    for (int i = 1; i < steps; ++i) map.levels.push_back(map.scale_low + i * step);
}

} // namespace leafwright
