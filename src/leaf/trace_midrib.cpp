// The midrib: from base to tip along a vein that is lighter or darker than the blade beside it, where there is one.
#include "leaf/trace_work.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kStations = 100;   // from base to tip
constexpr int kOffsets = 33;     // to each side
constexpr double kAside = 0.16;  // of the length, the furthest offset
constexpr double kBeside = 0.02; // where the blade beside the vein is looked at

struct Grid {
    std::vector<double> light; // logarithm, station by station; kOutside where there is no leaf
    static constexpr int width = 2 * kOffsets + 1;
    double& at(int station, int offset) { return light[static_cast<std::size_t>(station * width + offset + kOffsets)]; }
    double at(int station, int offset) const {
        return light[static_cast<std::size_t>(station * width + offset + kOffsets)];
    }
};
constexpr double kOutside = -1e9;

struct Frame {
    Vec2 base{0, 0};
    Vec2 along{0, 1};
    Vec2 across{1, 0};
    double length = 1;
    Vec2 place(int station, double offset) const {
        return base + along * (length * station / kStations) + across * (length * kAside * offset / kOffsets);
    }
};

double light_at(Photo const& photo, Vec2 const& p) {
    int const x = static_cast<int>(std::lround(p.x));
    int const y = static_cast<int>(std::lround(p.y));
    if (x < 1 || y < 1 || x + 1 >= photo.width_px || y + 1 >= photo.height_px) return kOutside;
    int sum = 0;
    for (int j = -1; j <= 1; ++j)
        for (int i = -1; i <= 1; ++i) {
            std::uint8_t const* const c = photo.at(x + i, y + j);
            sum += 2 * c[1] + c[0];
        }
    return std::log(sum + 27.0);
}

Grid grid_of(Photo const& photo, PhotoScale const& scale, Ring const& outer, Frame const& frame) {
    Grid grid;
    grid.light.assign(static_cast<std::size_t>((kStations + 1) * Grid::width), kOutside);
    for (int s = 0; s <= kStations; ++s) {
        // Where the outline crosses this station: offsets between crossings are leaf.
        std::vector<double> crossings;
        double const height = frame.length * s / kStations + 1e-7 * frame.length;
        for (std::size_t k = 0; k < outer.size(); ++k) {
            Vec2 const a = outer[k] - frame.base;
            Vec2 const b = outer[(k + 1) % outer.size()] - frame.base;
            double const ya = glm::dot(a, frame.along) - height;
            double const yb = glm::dot(b, frame.along) - height;
            if ((ya > 0) == (yb > 0)) continue;
            Vec2 const p = a + (b - a) * (ya / (ya - yb));
            crossings.push_back(glm::dot(p, frame.across));
        }
        std::sort(crossings.begin(), crossings.end());
        for (int o = -kOffsets; o <= kOffsets; ++o) {
            double const aside = frame.length * kAside * o / kOffsets;
            auto const below = std::lower_bound(crossings.begin(), crossings.end(), aside) - crossings.begin();
            if (below % 2 == 1) grid.at(s, o) = light_at(photo, scale.px(frame.place(s, o)));
        }
    }
    return grid;
}

// How much each place stands out from the blade beside it, along a few stations.
Grid ridges_of(Grid const& grid) {
    Grid out;
    out.light.assign(grid.light.size(), 0);
    int const beside = std::max(1, static_cast<int>(std::lround(kBeside / kAside * kOffsets)));
    for (int s = 2; s + 2 <= kStations; ++s)
        for (int o = -kOffsets + beside; o <= kOffsets - beside; ++o) {
            double sum = 0;
            bool whole = true;
            for (int k = -2; k <= 2; ++k) {
                double const here = grid.at(s + k, o);
                double const left = grid.at(s + k, o - beside);
                double const right = grid.at(s + k, o + beside);
                whole = whole && here > kOutside && left > kOutside && right > kOutside;
                // Both sides must differ the same way: an edge of shade is no vein.
                double const a = here - left;
                double const b = here - right;
                sum += a * b > 0 ? (std::abs(a) < std::abs(b) ? a : b) : 0;
            }
            if (whole) out.at(s, o) = 0.2 * sum;
        }
    return out;
}

struct Way {
    std::vector<int> offsets;
    double mean = 0; // of what stands out along it
};

// The best way through, by dynamic programming: steps aside cost.
Way best_way(Grid const& ridges, double sign, double usual) {
    auto const cells = static_cast<std::size_t>((kStations + 1) * Grid::width);
    std::vector<double> cost(cells, 1e18);
    std::vector<signed char> from(cells, 0);
    auto const index = [](int s, int o) { return static_cast<std::size_t>(s * Grid::width + o + kOffsets); };
    cost[index(0, 0)] = 0;
    for (int s = 1; s <= kStations; ++s)
        for (int o = -kOffsets; o <= kOffsets; ++o) {
            double const stands_out = std::clamp(sign * ridges.at(s, o) / usual, -1.0, 4.0);
            for (int d = -1; d <= 1; ++d) {
                if (o + d < -kOffsets || o + d > kOffsets) continue;
                double const c = cost[index(s - 1, o + d)] - stands_out + 0.35 * d * d + 0.0003 * o * o;
                if (c >= cost[index(s, o)]) continue;
                cost[index(s, o)] = c;
                from[index(s, o)] = static_cast<signed char>(d);
            }
        }
    Way way;
    way.offsets.assign(kStations + 1, 0);
    int o = 0;
    for (int s = kStations; s > 0; --s) {
        way.offsets[static_cast<std::size_t>(s)] = o;
        way.mean += std::clamp(sign * ridges.at(s, o) / usual, -1.0, 4.0) / kStations;
        o += from[index(s, o)];
    }
    return way;
}

double usual_of(Grid const& ridges) {
    std::vector<double> sizes;
    for (double const v : ridges.light)
        if (v != 0) sizes.push_back(std::abs(v));
    if (sizes.size() < 50) return 0;
    auto const at = sizes.begin() + static_cast<std::ptrdiff_t>(0.7 * static_cast<double>(sizes.size()));
    std::nth_element(sizes.begin(), at, sizes.end());
    return std::max(*at, 0.004);
}

} // namespace

std::vector<Vec2> midrib_of(Photo const& photo, PhotoScale const& scale, Ring const& outer, Vec2 const& base,
                            Vec2 const& tip) {
    std::vector<Vec2> straight{base, tip};
    Frame frame;
    frame.base = base;
    frame.length = glm::length(tip - base);
    if (frame.length <= 0) return straight;
    frame.along = (tip - base) / frame.length;
    frame.across = {-frame.along.y, frame.along.x};
    Grid const ridges = ridges_of(grid_of(photo, scale, outer, frame));
    double const usual = usual_of(ridges);
    if (usual <= 0) return straight;
    Way const light = best_way(ridges, 1, usual);
    Way const dark = best_way(ridges, -1, usual);
    Way const& best = light.mean >= dark.mean ? light : dark;
    if (best.mean < 0.9) return straight;
    std::vector<Vec2> line{base};
    for (int s = 10; s < kStations; s += 10) {
        double sum = 0;
        for (int k = -4; k <= 4; ++k)
            sum += best.offsets[static_cast<std::size_t>(std::clamp(s + k, 0, kStations))] / 9.0;
        line.push_back(frame.place(s, sum));
    }
    line.push_back(tip);
    return line;
}

} // namespace leafwright
