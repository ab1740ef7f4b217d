// Days that no order can do without. Internal to the room.
#pragma once

#include "range/work_days.h"

namespace leafwright {

struct ScheduleBound {
    int least = 0;
    std::string by;
};
// The largest of: one copy alone; all making by one pair of hands, then one copy's way on; all work before the last
// load; one former after another; one drying place after another; one load after another.
ScheduleBound least_days(ScheduleJob const& job, std::vector<char> const& works);

} // namespace leafwright
