#include "piece/shown_maps.h"

#include "piece/row_maps.h"
#include "piece/slab_maps.h"

#include <algorithm>

namespace leafwright {
namespace {

struct Row {
    MapChoice choice;
    std::shared_ptr<ShownMap const> (*make)(Plan const&);
};

std::vector<Row> rows() {
    using enum MakingStage;
    std::vector<MakingStage> const slab{roll, drape, leaves};
    return {
        {{"thickness", "Thickness", slab}, thickness_map},
        {{"stretch", "Stretch", slab}, stretch_map},
        {{"pucker", "Puckers", slab}, pucker_map},
        {{"stack", "Stack", {leaves, features, dry}}, stack_map},
        {{"layers", "Layers", {leaves, features}}, layers_map},
        {{"lap", "Lap", {leaves, features}}, lap_map},
    };
}

} // namespace

std::vector<MapChoice> map_choices() {
    std::vector<MapChoice> choices;
    for (Row const& row : rows()) choices.push_back(row.choice);
    return choices;
}

std::vector<MapChoice> map_choices_at(MakingStage stage) {
    std::vector<MapChoice> choices = map_choices();
    std::erase_if(choices, [&](MapChoice const& choice) {
        return std::find(choice.stages.begin(), choice.stages.end(), stage) == choice.stages.end();
    });
    return choices;
}

std::vector<std::string_view> map_keys() {
    std::vector<std::string_view> keys;
    for (Row const& row : rows()) keys.push_back(row.choice.key);
    return keys;
}

std::shared_ptr<ShownMap const> shown_map(Plan const& plan, std::string_view key) {
    for (Row const& row : rows())
        if (row.choice.key == key) return row.make(plan);
    return nullptr;
}

} // namespace leafwright
