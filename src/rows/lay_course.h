// Laying the rows themselves: how deep each row's tips lie, how many leaves it takes, where it starts, and how its
// leaves give way to features.
#pragma once

#include "rows/lay_state.h"

namespace leafwright {

// How much closer than the maker's rules a proposal lays its leaves.
struct CoursePlan {
    double side_factor = 1;  // on the pitch along a row
    double rim_factor = 1;   // the same for row 1
    double head_factor = 1;  // on the step from row to row
    double reach_out_mm = 0; // row 1 further out than the rule
};

struct CourseRow {
    int row = 1;
    double tip_depth_mm = 0; // from the rim inward to the tips; negative beyond the rim
    double middle_depth_mm = 0;
    double lap_depth_mm = 0; // where neighbours lap: at the leaves' widest line
    double run_mm = 0;       // length of the row's line there
    int leaves = 0;
};

// Depths of all rows: steps of at most length x (1 - head lap), evened so that the last row's stalk ends come out at
// the features or the crown (rows = round up(run / step), step = run / rows).
std::vector<CourseRow> plan_courses(LayScene const& scene, CoursePlan const& plan);

// Adds one row (or all) to what is there. The number of leaves is the run over the rule's pitch, rounded up; the pitch
// then is evened so that the row closes. Of the possible starts the one that leaves least bare is taken.
void lay_course(LayState& state, CourseRow& row, CoursePlan const& plan);
std::vector<CourseRow> lay_courses(LayState& state, CoursePlan const& plan, bool only_first = false);

} // namespace leafwright
