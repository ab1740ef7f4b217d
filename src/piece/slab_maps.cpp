#include "piece/slab_maps.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

namespace leafwright {
namespace {

constexpr double kCell_mm = 2.0;
constexpr int kMostCells = 400; // along one side
constexpr int kBeyond = 2;      // cells that are filled from their neighbours, so that the colour reaches the rim
constexpr double kTickApart_mm = 24;
constexpr double kTickLongest_mm = 15;
constexpr float kNothing = std::numeric_limits<float>::quiet_NaN();

using Places = std::vector<Vec2>;
using Values = std::vector<double>;

// Every vertex of the slab in the outer face's chart: the same azimuth, the same share of the meridian.
Places chart_places(Plan const& plan) {
    Places places;
    for (SlabMapPoint const& p : plan.slab->map->points) {
        double const rim = plan.outer_face->rim_from_crown_mm(p.spot.azimuth_rad);
        places.push_back(plan.outer_face->to_chart({p.spot.azimuth_rad, p.rim_share * rim}));
    }
    return places;
}

Places flat_places(Plan const& plan) {
    Places places;
    for (SlabMapPoint const& p : plan.slab->map->points) places.push_back(p.flat_mm);
    return places;
}

ShownMap empty_grid(Places const& places) {
    Box2 const box = bounds(places);
    ShownMap map;
    double const margin = (kBeyond + 1) * kCell_mm;
    Vec2 const size = box.size() + 2 * margin;
    double const cell = std::max(kCell_mm, std::max(size.x, size.y) / kMostCells);
    map.columns = std::max(2, static_cast<int>(std::ceil(size.x / cell)));
    map.rows = std::max(2, static_cast<int>(std::ceil(size.y / cell)));
    map.size_mm = cell * Vec2(map.columns, map.rows);
    map.low_mm = box.centre() - 0.5 * map.size_mm;
    map.values.assign(static_cast<std::size_t>(map.columns) * static_cast<std::size_t>(map.rows), kNothing);
    return map;
}

// The middles of cells inside the triangle get what the triangle has there. Coordinates: cells.
void fill_triangle(ShownMap& map, std::array<Vec2, 3> const& p, std::array<double, 3> const& value) {
    double const twice = cross(p[1] - p[0], p[2] - p[0]);
    if (std::abs(twice) < 1e-12) return;
    Vec2 const low = glm::min(p[0], glm::min(p[1], p[2])), high = glm::max(p[0], glm::max(p[1], p[2]));
    int const i0 = std::max(0, static_cast<int>(std::ceil(low.x))),
              j0 = std::max(0, static_cast<int>(std::ceil(low.y)));
    int const i1 = std::min(map.columns - 1, static_cast<int>(std::floor(high.x)));
    int const j1 = std::min(map.rows - 1, static_cast<int>(std::floor(high.y)));
    constexpr double kEdge = -1e-9;
    for (int j = j0; j <= j1; ++j)
        for (int i = i0; i <= i1; ++i) {
            Vec2 const at(i, j);
            double const b1 = cross(at - p[0], p[2] - p[0]) / twice, b2 = cross(p[1] - p[0], at - p[0]) / twice;
            double const b0 = 1 - b1 - b2;
            if (b0 < kEdge || b1 < kEdge || b2 < kEdge) continue;
            map.values[static_cast<std::size_t>(j) * static_cast<std::size_t>(map.columns) +
                       static_cast<std::size_t>(i)] = static_cast<float>(b0 * value[0] + b1 * value[1] + b2 * value[2]);
        }
}

// Empty cells take the mean of their neighbours, one ring of cells at a time.
void grow(ShownMap& map) {
    for (int round = 0; round < kBeyond; ++round) {
        std::vector<float> const before = map.values;
        for (int j = 0; j < map.rows; ++j)
            for (int i = 0; i < map.columns; ++i) {
                auto const at =
                    static_cast<std::size_t>(j) * static_cast<std::size_t>(map.columns) + static_cast<std::size_t>(i);
                if (!std::isnan(before[at])) continue;
                float sum = 0, count = 0;
                for (int y = std::max(0, j - 1); y <= std::min(map.rows - 1, j + 1); ++y)
                    for (int x = std::max(0, i - 1); x <= std::min(map.columns - 1, i + 1); ++x) {
                        float const v = before[static_cast<std::size_t>(y) * static_cast<std::size_t>(map.columns) +
                                               static_cast<std::size_t>(x)];
                        if (!std::isnan(v)) sum += v, count += 1;
                    }
                if (count > 0) map.values[at] = sum / count;
            }
    }
}

// A little smoothed: means over unlike triangles leave small steps along the mesh's seams.
void smooth(ShownMap& map) {
    auto const pass = [&](std::ptrdiff_t step) {
        std::vector<float> const before = map.values;
        auto const last = static_cast<std::ptrdiff_t>(before.size()) - step;
        for (std::ptrdiff_t k = step; k < last; ++k) {
            auto const at = [&](std::ptrdiff_t i) { return before[static_cast<std::size_t>(i)]; };
            float const near = 0.25f * at(k - step) + 0.5f * at(k) + 0.25f * at(k + step);
            if (!std::isnan(near)) map.values[static_cast<std::size_t>(k)] = near;
        }
    };
    for (int round = 0; round < 2; ++round) {
        pass(1);
        pass(map.columns);
    }
}

ShownMap spread(SlabMap const& slab, Places const& places, Values const& values) {
    ShownMap map = empty_grid(places);
    Vec2 const per_mm = Vec2(map.columns, map.rows) / map.size_mm;
    for (auto const& triangle : slab.triangles) {
        std::array<Vec2, 3> p;
        std::array<double, 3> value;
        for (std::size_t k = 0; k < 3; ++k) {
            auto const v = static_cast<std::size_t>(triangle[k]);
            p[k] = (places[v] - map.low_mm) * per_mm - 0.5;
            value[k] = values[v];
        }
        fill_triangle(map, p, value);
    }
    grow(map);
    smooth(map);
    return map;
}

struct Named {
    char const* title;
    char const* unit;
    int decimals;
    double low, high;
    std::vector<ShownMap::Tick> chart_ticks, flat_ticks;
};

void name(ShownMap& map, Named const& named, std::vector<ShownMap::Tick> const& ticks) {
    map.title = named.title;
    map.unit = named.unit;
    map.decimals = named.decimals;
    map.ticks = ticks;
    set_scale(map, named.low, named.high);
}

std::shared_ptr<ShownMap const> both(Plan const& plan, Values const& values, Named const& named) {
    ShownMap flat = spread(*plan.slab->map, flat_places(plan), values);
    name(flat, named, named.flat_ticks);
    ShownMap map = spread(*plan.slab->map, chart_places(plan), values);
    name(map, named, named.chart_ticks);
    map.flat_slab = std::make_shared<ShownMap const>(std::move(flat));
    return std::make_shared<ShownMap const>(std::move(map));
}

bool has_map(Plan const& plan) {
    return plan.slab && plan.slab->map && plan.outer_face && !plan.slab->map->triangles.empty();
}

template <class Of> Values values_of(Plan const& plan, Of&& of) {
    Values values;
    for (SlabMapPoint const& p : plan.slab->map->points) values.push_back(of(p));
    return values;
}

// Ends of the scale that a few wild places, such as the tips of cuts, do not carry away.
std::pair<double, double> usual_range(Values values) {
    auto const at = [&](double share) {
        auto const k = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
        std::nth_element(values.begin(), values.begin() + k, values.end());
        return values[static_cast<std::size_t>(k)];
    };
    return {at(0.002), at(0.998)};
}

// A triangle of the slab round a flat place, and the place's share of its corners.
struct Inside {
    std::array<std::int32_t, 3> corner{};
    std::array<double, 3> share{};
};

std::optional<Inside> inside(SlabMap const& slab, std::array<std::int32_t, 3> const& t, Vec2 const& at) {
    auto const p = [&](std::size_t k) { return slab.points[static_cast<std::size_t>(t[k])].flat_mm; };
    double const twice = cross(p(1) - p(0), p(2) - p(0));
    if (std::abs(twice) < 1e-12) return std::nullopt;
    double const b1 = cross(at - p(0), p(2) - p(0)) / twice, b2 = cross(p(1) - p(0), at - p(0)) / twice;
    constexpr double kEdge = -1e-9;
    if (b1 < kEdge || b2 < kEdge || 1 - b1 - b2 < kEdge) return std::nullopt;
    return Inside{t, {1 - b1 - b2, b1, b2}};
}

// One tick a square of the flat plane, in the first triangle whose middle lies there.
void add_ticks(Plan const& plan, double most, Named& named) {
    SlabMap const& slab = *plan.slab->map;
    Places const chart = chart_places(plan);
    std::vector<std::pair<int, int>> taken;
    for (auto const& t : slab.triangles) {
        Vec2 middle{0, 0}, along{0, 0}, on_chart{0, 0};
        double draw = 0;
        for (std::int32_t v : t) {
            SlabMapPoint const& p = slab.points[static_cast<std::size_t>(v)];
            middle += p.flat_mm / 3.0;
            on_chart += chart[static_cast<std::size_t>(v)] / 3.0;
            along += (glm::dot(along, p.along_1) < 0 ? -1.0 : 1.0) * p.along_1;
            draw += (p.stretch_1 - 1) / 3;
        }
        std::pair<int, int> const square{std::lround(middle.x / kTickApart_mm), std::lround(middle.y / kTickApart_mm)};
        Vec2 const off = middle - kTickApart_mm * Vec2(square.first, square.second);
        if (glm::length(off) > 0.25 * kTickApart_mm || glm::length(along) < 1e-9) continue;
        if (std::find(taken.begin(), taken.end(), square) != taken.end()) continue;
        double const length = kTickLongest_mm * std::clamp(draw / most, 0.0, 1.0);
        if (length < 1) continue;
        taken.push_back(square);
        // The triangle's own map from the flat to the chart.
        auto const flat = [&](std::size_t k) { return slab.points[static_cast<std::size_t>(t[k])].flat_mm; };
        auto const there = [&](std::size_t k) { return chart[static_cast<std::size_t>(t[k])]; };
        Vec2 const half = 0.5 * length * glm::normalize(along);
        double const twice = cross(flat(1) - flat(0), flat(2) - flat(0));
        double const b1 = cross(half, flat(2) - flat(0)) / twice, b2 = cross(flat(1) - flat(0), half) / twice;
        Vec2 const reach = b1 * (there(1) - there(0)) + b2 * (there(2) - there(0));
        named.flat_ticks.push_back({middle - half, middle + half});
        named.chart_ticks.push_back({on_chart - reach, on_chart + reach});
    }
}

} // namespace

std::shared_ptr<ShownMap const> thickness_map(Plan const& plan) {
    if (!has_map(plan)) return nullptr;
    Values const values = values_of(plan, [](SlabMapPoint const& p) { return p.thickness_mm; });
    auto const [low, high] = usual_range(values);
    return both(plan, values, {"Thickness of the slab", "mm", 2, low, high, {}, {}});
}

std::shared_ptr<ShownMap const> stretch_map(Plan const& plan) {
    if (!has_map(plan)) return nullptr;
    Values const values = values_of(plan, [](SlabMapPoint const& p) { return 100 * (p.stretch_1 - 1); });
    auto const [low, high] = usual_range(values);
    Named named{"Drawn longer", "%", 1, std::min(0.0, low), high, {}, {}};
    add_ticks(plan, std::max(1e-6, high / 100), named);
    return both(plan, values, named);
}

std::shared_ptr<ShownMap const> pucker_map(Plan const& plan) {
    if (!has_map(plan)) return nullptr;
    Values const values = values_of(plan, [](SlabMapPoint const& p) { return 100 * std::max(0.0, p.pucker); });
    double const high = std::max(1.0, usual_range(values).second);
    return both(plan, values, {"Pushed together more than clay packs", "%", 1, 0, high, {}, {}});
}

std::optional<Spot> laid_spot(Plan const& plan, Vec2 const& flat_mm) {
    if (!has_map(plan)) return std::nullopt;
    SlabMap const& slab = *plan.slab->map;
    for (auto const& t : slab.triangles) {
        auto const in = inside(slab, t, flat_mm);
        if (!in) continue;
        Vec2 chart{0, 0};
        for (std::size_t k = 0; k < 3; ++k) {
            SlabMapPoint const& p = slab.points[static_cast<std::size_t>(in->corner[k])];
            double const rim = plan.outer_face->rim_from_crown_mm(p.spot.azimuth_rad);
            chart += in->share[k] * plan.outer_face->to_chart({p.spot.azimuth_rad, p.rim_share * rim});
        }
        return plan.outer_face->from_chart(chart);
    }
    return std::nullopt;
}

} // namespace leafwright
