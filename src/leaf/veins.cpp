#include "leaf/veins.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

double line_length(Line const& line) {
    double sum = 0;
    for (std::size_t i = 1; i < line.size(); ++i) sum += glm::length(line[i] - line[i - 1]);
    return sum;
}

Vec2 along_line(Line const& line, double share) {
    double left = share * line_length(line);
    for (std::size_t i = 1; i < line.size(); ++i) {
        double const step = glm::length(line[i] - line[i - 1]);
        if (left <= step && step > 0) return line[i - 1] + left / step * (line[i] - line[i - 1]);
        left -= step;
    }
    return line.back();
}

Line march(Vec2 const& root, double heading_deg, double turn_deg, double span, Line const& edge) {
    constexpr double kStep = 0.02;
    Line line{root};
    for (int i = 0; i < 100; ++i) {
        double const angle = radians(heading_deg - turn_deg * i * kStep / span);
        Vec2 const next = line.back() + kStep * Vec2(std::sin(angle), std::cos(angle));
        if (i > 0 && !contains(edge, next)) break;
        line.push_back(next);
    }
    return line;
}

void add_cross_veins(Line const& from, double from_width, Line const& to, int count, Line const& edge, Random& random,
                     std::vector<Vein>& veins) {
    double const width = from_width * std::cbrt(kFlowToCrossVeins / count);
    for (int k = 1; k <= count; ++k) {
        double const share = (k - 0.3 + 0.3 * random.between(-1, 1)) / (count + 0.3);
        Vec2 const a = along_line(from, share);
        Vec2 const b = along_line(to, std::max(0.03, share * (0.88 + 0.06 * random.between(-1, 1))));
        Vec2 const aside{-(b - a).y, (b - a).x};
        double const sag = 0.35 * random.between(-1, 1);
        Line line;
        for (double t : {0.0, 0.25, 0.5, 0.75, 1.0}) line.push_back(a + t * (b - a) + sag * t * (1 - t) * aside);
        if (std::ranges::all_of(line, [&](Vec2 const& p) { return contains(edge, p); }))
            veins.push_back({std::move(line), width, 0.7 * width, 3});
    }
}

std::vector<Vein> half_veins(HalfLeaf const& half, std::vector<SideVein> const& side_veins, double midrib_width,
                             Random& random) {
    switch (half.form.veins.plan) {
    case VeinPlan::pinnate:
        return pinnate_veins(half, side_veins, midrib_width, random);
    case VeinPlan::palmate:
        return palmate_veins(half, midrib_width, random);
    case VeinPlan::parallel:
        return parallel_veins(half, midrib_width);
    case VeinPlan::dichotomous:
        return dichotomous_veins(half, midrib_width, random);
    }
    return {};
}

} // namespace leafwright
