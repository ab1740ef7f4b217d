// Laying the rows themselves: how deep each row's tips lie, how many leaves it takes, where it starts, and how its
// leaves give way to features.
#pragma once

#include "rows/lay_state.h"

namespace leafwright {

// What a proposal does beyond the maker's rules.
struct CoursePlan {
    int extra_rows = 0;      // more rows than the head lap asks for
    double reach_out_mm = 0; // row 1 further out than the rule
};

// One row.
struct CourseRow {
    int row = 1;
    double tip_depth_mm = 0; // from the rim inward to the tips; negative beyond the rim
    double middle_depth_mm = 0;
    double stalk_depth_mm = 0; // of the last row, which is set out by its stalk ends
    bool by_stalk = false;
    double lap_depth_mm = 0; // where neighbours lap: at the leaves' widest line
    double run_mm = 0;       // length of the row's line there
    int leaves = 0;
};

// Depths of all rows: steps of at most length x (1 - head lap), evened so that the last row's stalk ends come out at
// the features or the crown (rows = round up(run / step), step = run / rows).
std::vector<CourseRow> plan_courses(LayScene const& scene, CoursePlan const& plan);

// Row 1, and all others, over what is there. Row by row the number of leaves is the run over the rule's pitch, rounded
// up, or more where that leaves too much bare; the pitch then is evened so that the row closes. Of the possible starts,
// too, the one that leaves least to mend is taken.
void lay_first_course(LayState& state, std::vector<CourseRow>& rows, Task& task);
void lay_further_courses(LayState& state, std::vector<CourseRow>& rows, Task& task);

// About how many leaves it will take to close these spots.
double mending_leaves(std::span<BarePatch const> spots);

} // namespace leafwright
