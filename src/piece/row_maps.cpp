#include "piece/row_maps.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace leafwright {

namespace {

constexpr float kNothing = std::numeric_limits<float>::quiet_NaN();

std::shared_ptr<ShownMap> map_on(HeightPatch const& patch, char const* title, char const* unit, float value) {
    auto map = std::make_shared<ShownMap>();
    map->title = title;
    map->unit = unit;
    map->columns = patch.columns;
    map->rows = patch.rows;
    map->low_mm = patch.origin_mm - 0.5 * patch.cell_mm;
    map->size_mm = patch.cell_mm * Vec2(patch.columns, patch.rows);
    map->values.assign(patch.height_mm.size(), value);
    return map;
}

// work(first, end) for each run of cells of the patch whose middles lie in the polygon.
template <class Work> void each_run(HeightPatch const& patch, Polygon const& polygon, Work&& work) {
    Box2 const box = bounds(polygon.outer);
    auto const row_at = [&](double y) { return (y - patch.origin_mm.y) / patch.cell_mm; };
    int const first = std::max(0, static_cast<int>(std::ceil(row_at(box.low.y))));
    int const last = std::min(patch.rows - 1, static_cast<int>(std::floor(row_at(box.high.y))));
    std::vector<double> crossings;
    for (int row = first; row <= last; ++row) {
        double const y = patch.origin_mm.y + row * patch.cell_mm;
        crossings.clear();
        auto const scan = [&](Ring const& ring) {
            for (std::size_t i = 0; i < ring.size(); ++i) {
                Vec2 const& a = ring[i];
                Vec2 const& b = ring[(i + 1) % ring.size()];
                if ((a.y <= y) != (b.y <= y)) crossings.push_back(a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x));
            }
        };
        scan(polygon.outer);
        for (Ring const& hole : polygon.holes) scan(hole);
        std::ranges::sort(crossings);
        std::size_t const start = static_cast<std::size_t>(row) * static_cast<std::size_t>(patch.columns);
        for (std::size_t k = 0; k + 1 < crossings.size(); k += 2) {
            double const from = std::max(0.0, std::ceil((crossings[k] - patch.origin_mm.x) / patch.cell_mm));
            double const to =
                std::min(patch.columns - 1.0, std::floor((crossings[k + 1] - patch.origin_mm.x) / patch.cell_mm));
            if (from <= to) work(start + static_cast<std::size_t>(from), start + static_cast<std::size_t>(to) + 1);
        }
    }
}

// Clay that is bare has no layer; the board beyond the rim has nothing to tell.
void open_the_slab(ShownMap& map, Plan const& plan) {
    each_run(plan.stack->height, {*plan.zone.rim, {}}, [&](std::size_t first, std::size_t end) {
        for (std::size_t i = first; i < end; ++i)
            if (std::isnan(map.values[i])) map.values[i] = 0;
    });
}

} // namespace

std::shared_ptr<ShownMap const> stack_map(Plan const& plan) {
    HeightPatch const& height = plan.stack->height;
    if (height.height_mm.empty()) return nullptr;
    auto map = map_on(height, "Stack above the slab", "mm", kNothing);
    float most = 0;
    for (std::size_t i = 0; i < map->values.size(); ++i) {
        if (height.height_mm[i] > 0) map->values[i] = height.height_mm[i];
        most = std::max(most, height.height_mm[i]);
    }
    open_the_slab(*map, plan);
    set_scale(*map, 0, static_cast<double>(most));
    map->decimals = 0;
    return map;
}

std::shared_ptr<ShownMap const> layers_map(Plan const& plan) {
    HeightPatch const& height = plan.stack->height;
    if (height.height_mm.empty()) return nullptr;
    auto map = map_on(height, "Layers of leaves", "", kNothing);
    float most = 1;
    for (auto const& leaf : plan.laid)
        each_run(height, leaf->chart, [&](std::size_t first, std::size_t end) {
            for (std::size_t i = first; i < end; ++i) {
                map->values[i] = std::isnan(map->values[i]) ? 1 : map->values[i] + 1;
                most = std::max(most, map->values[i]);
            }
        });
    open_the_slab(*map, plan);
    set_scale(*map, 0, static_cast<double>(most));
    map->scale_high = static_cast<double>(most);
    // Whole layers: the lines run between them.
    map->levels.clear();
    for (double level = 0.5; level < static_cast<double>(most); level += 1) map->levels.push_back(level);
    map->decimals = 0;
    return map;
}

std::shared_ptr<ShownMap const> lap_map(Plan const& plan) {
    HeightPatch const& height = plan.stack->height;
    if (height.height_mm.empty() || plan.leaves.overlap.leaves.size() != plan.laid.size()) return nullptr;
    auto map = map_on(height, "Lap of the leaf that shows", "%", kNothing);
    for (std::size_t k = 0; k < plan.laid.size(); ++k) {
        auto const lap = static_cast<float>(100 * plan.leaves.overlap.leaves[k].lap);
        each_run(height, plan.laid[k]->chart, [&](std::size_t first, std::size_t end) {
            std::fill(map->values.begin() + static_cast<std::ptrdiff_t>(first),
                      map->values.begin() + static_cast<std::ptrdiff_t>(end), lap);
        });
    }
    set_scale(*map, 0, 100);
    map->decimals = 0;
    return map;
}

} // namespace leafwright
