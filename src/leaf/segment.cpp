#include "leaf/segment.h"

#include <cmath>

namespace leafwright {

std::vector<Vec2> evenly_spaced(std::span<Vec2 const> line, double step) {
    double const total = length_along(line);
    int const parts = std::max(1, static_cast<int>(std::min(1e6, std::ceil(total / step))));
    std::vector<Vec2> out{line.front()};
    double walked = 0;
    int next = 1;
    for (std::size_t i = 1; i < line.size(); ++i) {
        double const side = glm::length(line[i] - line[i - 1]);
        for (; next < parts && side > 0 && total * next / parts <= walked + side; ++next)
            out.push_back(line[i - 1] + (total * next / parts - walked) / side * (line[i] - line[i - 1]));
        walked += side;
    }
    out.push_back(line.back());
    return out;
}

} // namespace leafwright
