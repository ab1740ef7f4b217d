// What the laying solver needs to know of a leaf kind: a slightly smaller, simpler outline that is quick to draw on the
// grid, and where along its length it is widest.
#pragma once

#include "leaf/leaf_shape.h"

#include <cstdint>
#include <span>

namespace leafwright {

// The solid outline as half-millimetre cells: for counting quickly about how much it covers.
struct LeafMask {
    static constexpr double kPerMm = 2.0;
    Vec2 low{0, 0};
    int columns = 0;
    int rows = 0;
    std::vector<std::uint8_t> cells;
};

enum class Fineness { exact, rough };

struct LayKind {
    LeafPattern const* pattern = nullptr;
    Ring solid; // inset and simplified, mm, the leaf's middle at (0, 0), counter-clockwise; holes joined to it by cuts
    Ring rough; // with a third of the points, for comparing whole rows
    std::vector<Vec2> ends; // thin ends that the inset loses: of the stalk and the tip
    Ring const& outline(Fineness fineness) const { return fineness == Fineness::exact ? solid : rough; }
    double length_mm = 0;
    double width_mm = 0;
    double lap_line_mm =
        0; // from the stalk end: the outermost place where the leaf has its full width about the midrib
    LeafMask mask;
    std::vector<Vec2> samples; // evenly over the solid outline
    double reach_mm = 0;       // greatest distance of the outline from the middle
};

// `inset_mm`: how much smaller than the leaf `solid` is, so that a covered cell's middle means a covered cell.
LayKind prepare_kind(LeafPattern const& pattern, double inset_mm);

// Width of the part of the outline that holds the midrib at height y; 0 where the midrib lies outside.
double width_at(std::span<Vec2 const> outline, double y);

} // namespace leafwright
