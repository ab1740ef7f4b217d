// Closing what the rows left bare: neighbours are moved first, leaves are added last, idle leaves are taken out.
#pragma once

#include "rows/lay_course.h"

namespace leafwright {

// How far mending may take a leaf from where its row put it.
struct MendLimits {
    double move_mm = 8;
    double turn_deg = 12;
    double grow = 0.15;
    double shrink = 0.08;
    double reluctance = 1; // weight of the penalties for going there
};

// Moves leaves next to bare spots so that less is bare. Returns the cells gained.
int nudge_round(LayState& state, MendLimits const& limits, Task& task);

// Adds one leaf at the given spot, in the row that it fits best; false when none helps.
bool add_leaf(LayState& state, std::span<CourseRow const> rows, BarePatch const& spot);

// Rounds of nudging with less and less reluctance, until nothing is bare or nothing helps.
void nudge_until_still(LayState& state, Task& task);

// All of it, until nothing is bare or nothing helps.
void mend(LayState& state, std::span<CourseRow const> rows, Task& task);

// Takes out leaves that can be missed, at most with a little moving of their neighbours.
void prune(LayState& state, Task& task);

} // namespace leafwright
