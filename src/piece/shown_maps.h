// The figures that can be spread over the piece, by name. To add one: a function of the plan in a file of its own, a
// line in shown_maps.cpp.
#pragma once

#include "piece/making_line.h"
#include "piece/shown_map.h"

namespace leafwright {

struct MapChoice {
    std::string_view key;   // "thickness": for the command line
    std::string_view title; // "Thickness": for a button
    std::vector<MakingStage> stages;
};

// Those made from the plan alone; maps of the second half are made where that is known.
std::vector<MapChoice> map_choices();
std::vector<MapChoice> map_choices_at(MakingStage stage);
std::vector<std::string_view> map_keys();

// Null when there is no such map, or nothing to tell. Cost: 1 to 3 ms.
std::shared_ptr<ShownMap const> shown_map(Plan const& plan, std::string_view key);

} // namespace leafwright
