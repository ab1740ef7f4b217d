// The nesting jobs of a cutting plan: one a thickness. Internal to the room.
#pragma once

#include "piece/cutting_plan.h"

namespace leafwright {

struct CutGroup {
    double thickness_mm = 0;
    std::vector<int> items; // as the job's shapes
    NestJob job;
    NestResult best;
    bool pinned = false;
};

struct CutGroups {
    std::vector<CutGroup> groups; // in the order of making
    std::vector<int> left_out;
    std::vector<Warning> warnings;
};

// Every group with its first layout. Sheets already laid out keep their width when `from` is given.
CutGroups first_groups(Plan const& plan, std::vector<CutItem> const& items, CuttingAnswer const* from);

// The layout of one group in an earlier answer, as the nesting takes it; empty when it is not complete.
std::vector<NestPlacement> start_of(CutGroup const& group, std::vector<CutItem> const& items,
                                    CuttingAnswer const& from);

// Sheets, sums and clay of the groups' best layouts.
std::shared_ptr<CuttingAnswer> assembled(std::shared_ptr<Plan const> plan,
                                         std::shared_ptr<std::vector<CutItem> const> items, CutGroups const& groups);

} // namespace leafwright
