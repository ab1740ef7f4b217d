// Drawings of leaves on paper, shared by the making sheet and the single templates.
#pragma once

#include "leaf/leaf_shape.h"
#include "sheet/paper.h"

namespace leafwright {

struct LeafDrawing {
    Vec2 stalk_mm{0, 0}; // where the stalk end comes on the page
    double scale = 1.0;
    bool veins = true;
    double line_mm = 0.35;
};

// The leaf with its tip up the page.
void draw_leaf_on(Paper& paper, LeafShape const& shape, LeafDrawing const& drawing);

// A bar of exactly 100 mm with ends and words, to prove that the printer kept the size.
void check_bar(Paper& paper, Vec2 at);

// Pages of templates: every kind at true size; one that is larger than the page is drawn at half size and says so.
void template_pages(Paper& paper, std::span<LeafPattern const* const> patterns, std::span<int const> counts);

} // namespace leafwright
