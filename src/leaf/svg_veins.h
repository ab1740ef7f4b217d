// Lines that an SVG drawing has within a leaf: its midrib, and its veins where there are several.
#pragma once

#include "leaf/outline_ends.h"
#include "leaf/own_leaf.h"
#include "leaf/svg_drawing.h"

namespace leafwright {

// The open lines of the drawing that could be veins, mm, y up.
std::vector<std::vector<Vec2>> open_lines(SvgDrawing const& drawing);

// Those of them that run within the region, away from its edge; thinned to the tolerance.
std::vector<std::vector<Vec2>> lines_within(Polygon const& region, std::span<std::vector<Vec2> const> lines,
                                            double tolerance_mm);

// The ends turned round where side veins point the other way, and the stalk tells nothing.
OutlineEnds ends_by_veins(OutlineEnds ends, std::span<std::vector<Vec2> const> lines);

// midrib_mm from the ends and the drawn midrib; veins as drawn when there are at least two lines beside it.
void take_drawn_veins(OwnLeaf& leaf, OutlineEnds const& ends, std::vector<std::vector<Vec2>> lines);

// Where the leaf's veins come from, in words.
std::string veins_told(OwnLeaf const& leaf);

} // namespace leafwright
