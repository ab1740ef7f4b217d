// From drying to hanging on the making sheet: figures, the window's plots and drawings, cautions.
#pragma once

#include "piece/second_half.h"
#include "sheet/paper.h"
#include "sheet/words.h"

namespace leafwright {

// Two pages: drying and both firings; on the wall, finish and cost.
void second_pages(Paper& paper, SecondHalf const& half, UnitWords const& units);

} // namespace leafwright
