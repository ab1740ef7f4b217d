// A drawn line of a width as an area (SVG 1.1, chapter 11.4).
#pragma once

#include "leaf/svg_path.h"
#include "leaf/svg_style.h"

namespace leafwright {

// Rings whose non-zero fill is the stroke, in the path's own units. Round joins and caps are flattened to the
// tolerance.
std::vector<Ring> stroke_rings(FlatPath const& path, double width, SvgStyle const& style, double tolerance);

} // namespace leafwright
