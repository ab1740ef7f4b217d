#include "piece/moisture_map.h"

#include "drying/drying.h"

#include <algorithm>
#include <limits>

namespace leafwright {

namespace {

// The maps before and after the hour, and how far between.
struct Between {
    MoistureMap const* before = nullptr;
    MoistureMap const* after = nullptr;
    float share = 0;
};

Between around(std::vector<MoistureMap> const& maps, double hour) {
    auto const next =
        std::upper_bound(maps.begin(), maps.end(), hour, [](double h, MoistureMap const& map) { return h < map.hour; });
    if (next == maps.begin()) return {&maps.front(), &maps.front(), 0};
    if (next == maps.end()) return {&maps.back(), &maps.back(), 0};
    MoistureMap const& before = *(next - 1);
    return {&before, &*next, static_cast<float>((hour - before.hour) / (next->hour - before.hour))};
}

} // namespace

std::vector<ShownMap::Named> named_waters(Piece const& piece) {
    DryingClay const clay = drying_clay(piece.body);
    double const balance = std::min(balance_water(piece.drying.room_humidity), clay.water);
    return {{100 * clay.leather_water, "leather-hard"}, {100 * (balance + 0.05 * (clay.water - balance)), "bone dry"}};
}

ShownMap moisture_map(SecondHalf const& half, double hour) {
    DryingAnswer const& drying = *half.drying;
    ShownMap map;
    map.title = "Water in the clay";
    map.unit = "%";
    set_scale(map, 0, drying.moments.empty() ? 25 : 100 * drying.moments.front().wettest);
    map.named = named_waters(half.plan->piece);
    if (drying.maps.empty()) return map;
    map.columns = drying.map_columns;
    map.rows = drying.map_rows;
    double const cell = drying.map_cell_mm;
    map.low_mm = drying.map_origin_mm - Vec2(cell / 2, cell / 2);
    map.size_mm = cell * Vec2(map.columns, map.rows);
    Between const b = around(drying.maps, hour);
    map.values.reserve(b.before->water.size());
    for (std::size_t i = 0; i < b.before->water.size(); ++i) {
        float const water = b.before->water[i] + b.share * (b.after->water[i] - b.before->water[i]);
        map.values.push_back(b.before->water[i] < 0 ? std::numeric_limits<float>::quiet_NaN() : 100 * water);
    }
    return map;
}

} // namespace leafwright
