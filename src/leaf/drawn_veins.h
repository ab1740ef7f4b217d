// Veins as a drawing has them: its lines joined to a tree from the midrib, each at the place nearest to it, with widths
// by Murray's law as grown ones have.
#pragma once

#include "leaf/own_leaf.h"
#include "leaf/vein_tree.h"

namespace leafwright {

// mm, in the leaf's frame. The line that runs along `midrib` best is the midrib and reaches to the base; a line that
// comes within a fiftieth of the leaf's length of another hangs on it, one that crosses it hangs on it with both its
// parts, one that stands alone stays alone. What lies outside the outline is left out. An empty tree without lines.
// Cost: about 10 ms at most (some 3,000 nodes).
VeinTree drawn_vein_tree(Polygon const& outline, std::span<Vec2 const> midrib,
                         std::span<std::vector<Vec2> const> lines);

std::vector<Vein> drawn_veins(Polygon const& outline, std::span<Vec2 const> midrib,
                              std::span<std::vector<Vec2> const> lines);

// Which of the lines is the midrib: the one that goes farthest along the way from base to tip, at least 0.35 of it and
// within 25 degrees; -1: none.
int midrib_among(std::span<std::vector<Vec2> const> lines, Vec2 const& base, Vec2 const& tip);

} // namespace leafwright
