#include "piece/shown_map.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <limits>

namespace leafwright {

double round_step(double x) {
    double const power = std::pow(10.0, std::floor(std::log10(x)));
    for (double const m : {1.0, 2.0, 5.0})
        if (m * power >= x * (1 - 1e-9)) return m * power;
    return 10 * power;
}

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
    double sum = 0, weight = 0;
    auto const add = [&](double value, double w) {
        if (std::isnan(value)) return;
        sum += w * value;
        weight += w;
    };
    add(cell(i, j), (1 - u) * (1 - v));
    add(cell(i + 1, j), u * (1 - v));
    add(cell(i, j + 1), (1 - u) * v);
    add(cell(i + 1, j + 1), u * v);
    return weight >= 0.5 ? sum / weight : nothing;
}

std::string value_text(ShownMap const& map, double value) {
    char const* const space = map.unit.empty() ? "" : " ";
    return fmt::format("{:.{}f}{}{}", value, map.decimals, space, map.unit);
}

double scale_share(ShownMap const& map, double value) {
    double const span = map.scale_high - map.scale_low;
    return span > 0 ? std::clamp((value - map.scale_low) / span, 0.0, 1.0) : 0.0;
}

std::vector<double> scale_marks(ShownMap const& map) {
    // Levels between whole numbers: what they part is told, one mark to each whole number.
    auto const halfway = [](double level) { return std::abs(level - std::floor(level) - 0.5) < 1e-9; };
    if (map.decimals == 0 && !map.levels.empty() && std::ranges::all_of(map.levels, halfway)) {
        std::vector<double> whole;
        for (double mark = std::ceil(map.scale_low); mark <= map.scale_high + 1e-9; ++mark) whole.push_back(mark);
        return whole;
    }
    std::vector<double> marks{map.scale_low};
    marks.insert(marks.end(), map.levels.begin(), map.levels.end());
    marks.push_back(map.scale_high);
    return marks;
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
