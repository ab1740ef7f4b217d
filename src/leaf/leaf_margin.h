// The margin in botany's words: entire, crenate (rounded teeth), serrate (teeth toward the tip), dentate (square to the
// edge), lobed (cut a quarter of the way to the midrib or more; Ellis et al., Manual of Leaf Architecture, 2009).
#pragma once

#include "leaf/own_leaf.h"

namespace leafwright {

struct LeafMargin {
    std::string word; // "serrate"
    int teeth = 0;    // of both sides; 0 when entire or lobed
};

// Of an upright leaf. Fewer than three teeth to a side, or teeth lower than 0.6 % of the length, do not count.
LeafMargin margin_of(OwnLeaf const& leaf);

} // namespace leafwright
