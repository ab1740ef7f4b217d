// Trying several plans of rows and taking the one that promises fewest leaves once it is mended.
#pragma once

#include "rows/lay_course.h"

namespace leafwright {

struct Proposal {
    CoursePlan plan;
    LayState state;
    std::vector<CourseRow> rows;
    double cost = 1e300; // leaves, and what it will take to close the bare spots
};

// Over the pinned leaves, the most promising first, as many as are worth mending. Plans are tried side by side; the
// answer does not depend on the number of threads.
std::vector<Proposal> propose_rows(LayState const& pinned, Task& task);

} // namespace leafwright
