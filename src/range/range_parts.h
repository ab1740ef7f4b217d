// Steps of plan_range(). Internal to the room.
#pragma once

#include "range/range_plan.h"

namespace leafwright {

// What to get ready: clay by body, leaves by kind, formers by shape (without `enough`).
void plan_clay(RangePlan& plan);
void plan_leaves(RangePlan& plan);
void plan_shapes(RangePlan& plan);

// Loads of every firing; pieces that do not go in are told and left out of all loads.
void plan_loads(RangePlan& plan);

// The job for the calendar. `drying`: which end of the days' range.
enum class DryingEnd { usual, early, late };
ScheduleJob schedule_job(RangePlan const& plan, DryingEnd drying);
// The calendar, how it would be with more of something, and the latest start.
MaybeProblem plan_calendar(RangePlan& plan);

void plan_costs(RangePlan& plan);

} // namespace leafwright
