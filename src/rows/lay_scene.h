// From a request to the scene that the laying solver works in: grid with zone and features, prepared kinds, sorted
// rules.
#pragma once

#include "rows/lay_state.h"

namespace leafwright {

// Leaves drawn this much smaller than they are; see LayKind.
inline constexpr double kUsualInset_mm = 0.45;

// Problems: "rows.no-rules", "leaf.unknown".
MaybeProblem check_request(LayRequest const& request);
// The request must have passed check_request.
LayScene make_scene(LayRequest const& request, double inset_mm);
// The pinned leaves, on the grid.
LayState pinned_state(LayScene const& scene, LayRequest const& request);

// How far a leaf may run under a feature that is built up over it afterwards: a mound, or an opening's lip.
double tuck_mm(Feature const& feature);

} // namespace leafwright
