// The main ribs and side veins of each pattern, laid into an outline as nodes a step apart.
#pragma once

#include "base/random.h"
#include "leaf/blade_map.h"
#include "leaf/own_leaf.h"
#include "leaf/vein_tree.h"

namespace leafwright {

struct RibWork {
    BladeMap const& blade;
    std::vector<Vec2> midrib; // within the outline, from the base
    double foot_mm = 0;       // length of it below the blade: the stalk
    double step_mm = 1;
    Random& random;
};

// The midrib as given where it lies in the blade; where a straight one leaves it, it is led along the blade's middle.
std::vector<Vec2> midrib_in(BladeMap const& blade, std::span<Vec2 const> midrib);

// Points of the outline that stand out from `from`, those farther than their surroundings by a share of the farthest.
std::vector<Vec2> lobe_tips(Ring const& outline, Vec2 const& from, double prominence);

// Fills in the nodes; tree.at[0] is the base. An empty tree when the midrib lies outside.
VeinTree laid_ribs(RibWork const& work, VeinPattern pattern);

} // namespace leafwright
