// Cuts that help, and other ways to clothe a former, on a ready table of meridians.
#pragma once

#include "former/meridian_table.h"
#include "slab/slab.h"

namespace leafwright {

// See propose_cuts and compare_ways in drape.h.
std::vector<SlabCut> propose_cuts_on(MeridianTable const& middle, FormerSpec const& former);
std::vector<SlabWay> compare_ways_on(MeridianTable const& middle, FormerSpec const& former, SlabSpec const& spec,
                                     std::vector<SlabCut> const& cuts);

} // namespace leafwright
