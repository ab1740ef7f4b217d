// From a form to a leaf: both halves, joined, swept and fitted to length 1.
#pragma once

#include "leaf/leaf_form.h"
#include "leaf/leaf_shape.h"

namespace leafwright {

// length_mm of the result is 1. The same form gives the same leaf, bit for bit. Cost: about 1 ms.
LeafShape grown_leaf(LeafForm const& form);

} // namespace leafwright
