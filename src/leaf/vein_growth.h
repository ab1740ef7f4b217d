// Veins grown into any outline: main ribs and side veins by the pattern, the finer ones by space colonisation (Runions
// et al., ACM Trans. Graph. 24(3) (2005) 702): sources lie over the blade, each draws the nearest vein that it can see,
// and is gone once a vein has come near. Widths by Murray's law.
#pragma once

#include "leaf/own_leaf.h"
#include "leaf/vein_tree.h"

namespace leafwright {

struct VeinGrowth {
    VeinTree tree;
    double step_mm = 0;        // between a node and its parent, everywhere
    double kill_mm = 0;        // a vein so near takes a source away
    std::vector<Vec2> sources; // all that were laid out
    std::size_t unreached = 0; // of them, sources that no vein could see
};

enum class NearestBy { grid, plain }; // plain: every source at every new node, the peer of the benchmark

// mm, in the outline's own frame (base at the origin, tip up); `midrib` from base to tip.
// Cost: 2 to 6 ms for 200 points.
VeinGrowth grow_vein_tree(Polygon const& outline, std::span<Vec2 const> midrib, double stalk_mm, VeinPattern pattern,
                          std::uint64_t seed, NearestBy nearest = NearestBy::grid);

// VeinPattern::none gives no veins, not even a midrib.
std::vector<Vein> grown_veins(Polygon const& outline, std::span<Vec2 const> midrib, double stalk_mm,
                              VeinPattern pattern, std::uint64_t seed);

} // namespace leafwright
