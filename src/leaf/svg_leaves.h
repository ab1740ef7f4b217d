// Leaves from an SVG drawing.
#pragma once

#include "leaf/own_leaf.h"
#include "leaf/svg_drawing.h"

#include <array>
#include <optional>

namespace leafwright {

struct SvgLeafOptions {
    std::optional<double> length_mm = {}; // of the largest leaf; needed where the drawing tells no size
    double dpi = 0;                       // 90 or 96, where only pixels are told; 0: as the file suggests
    double tolerance_mm = 0.01;           // of the outline against the drawing
    // Set by hand, of the largest leaf: mm of the drawing's page, from its upper left corner, y down.
    std::optional<Vec2> base_mm = {};
    std::optional<Vec2> tip_mm = {};
};

struct SvgLeaves {
    std::vector<OwnLeaf> leaves;              // largest first; id and name are the caller's
    std::vector<std::array<Vec2, 2>> ends_mm; // base and tip of each on the drawing's page, as options have them
    SvgSize size = SvgSize::unknown;
    double dpi = 96;
    std::vector<std::string> remarks;
};

// What the drawing covers: fills by their rule; where a shape has no fill, its closed lines as areas and its open ones
// by their width. as_drawn: every line by its width, beside the fills. mm, y up.
std::vector<Polygon> drawn_regions(SvgDrawing const& drawing, bool as_drawn = false);

// The largest regions (from 15 % of the largest on) as leaves, each upright, base and tip guessed from its shape and
// the veins drawn in it; what is drawn within them is part of them. Open lines within a leaf are its veins
// (svg_veins.h), of one line alone its midrib. A rectangle behind everything is left out. Problems: those of
// read_svg(), "svg.empty", "svg.no-size", and check_own_leaf()'s when no leaf passes.
Outcome<SvgLeaves> leaves_of_svg(std::string_view text, SvgLeafOptions const& options);

} // namespace leafwright
