// The leaf cut from rolled clay: where it is too fine to hold, and what it takes.
#pragma once

#include "leaf/own_leaf.h"

namespace leafwright {

double clay_volume_mm3(Polygon const& outline, double thickness_mm);
// How long to cut a leaf that is to end at a length; shrinkage is linear, from plastic to fired (0.12).
double cut_length_mm(double finished_mm, double shrinkage);
double finished_length_mm(double cut_mm, double shrinkage);

// Fails are places narrower than the clay is thick (common practice, no source: thinner ones dry first, curl and snap).
// Found as what an opening by a disc of that diameter leaves out, on a grid of a tenth of the thickness (0.15 to 0.5
// mm). Points are told when they reach farther than 1.5 thicknesses beyond what holds; necks always.
// At most 20, the longest first. Cost: about 10 ms for an outline of 100 x 80 mm.
std::vector<FineSpot> fine_spots(Polygon const& outline, double thickness_mm);

// The outline with those places filled out to the clay's thickness; the rest as it was. The leaf as given when nothing
// is too fine, or when filling out did not give one whole outline.
OwnLeaf thickened(OwnLeaf const& leaf, double thickness_mm);

} // namespace leafwright
