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

// Rounds of nudging with less and less reluctance, until nothing is bare or nothing helps.
void nudge_until_still(LayState& state, Task& task);

// What a bare cell weighs against leaves when arrangements are compared.
inline constexpr double kBareCost = 0.3;

// Closes bare spots in two steps, so that an arrangement which promises little is given up after the first.
class Mender {
public:
    Mender(LayState& state, std::span<CourseRow const> rows) : state_(&state), rows_(rows) {}
    void close_large(Task& task);
    void close_all(Task& task);
    // About what it will come to, in leaves; spots that no leaf helps count heavily.
    double promise() const;

private:
    using Seen = std::pair<int, Vec2>; // a spot's cells and where it is deepest

    bool add_leaves(int least_cells, Task& task);
    void close(int least_cells, Task& task);
    bool is_hopeless(BarePatch const& spot) const;

    LayState* state_;
    std::span<CourseRow const> rows_;
    std::vector<Seen> hopeless_;
};

// All of it, until nothing is bare or nothing helps.
void mend(LayState& state, std::span<CourseRow const> rows, Task& task);

// Takes out leaves that can be missed, at most with a little moving of their neighbours.
void prune(LayState& state, Task& task);

} // namespace leafwright
