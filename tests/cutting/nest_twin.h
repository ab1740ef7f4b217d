// A layout judged by GEOS, which shares nothing with the nesting: overlap in all, the least distance, what leaves the
// sheet.
#pragma once

#include "cutting/nest.h"

namespace leafwright {

struct TwinVerdict {
    double overlap_mm2 = 0;     // of all pairs on one sheet
    double distance_mm = 1e300; // the least between two on one sheet; 0 where they overlap
    double outside_mm2 = 0;     // beyond the used length or the width, less the edge gap
    double area_mm2 = 0;        // of all that is placed
};
TwinVerdict geos_verdict(NestJob const& job, NestResult const& result);

} // namespace leafwright
