// Veins as a tree of nodes a step apart, and their widths by Murray's law (PNAS 12 (1926) 207; J. Gen. Physiol. 9
// (1926) 835): at each fork the cubes of the branches' widths add up to the cube of what feeds them.
#pragma once

#include "leaf/leaf_shape.h"

namespace leafwright {

struct VeinTree {
    std::vector<Vec2> at;    // [0] is the root
    std::vector<int> parent; // before the node itself; -1 of the root
    std::vector<int> order;  // 1 main ribs, 2 side veins, 3 finer
    std::vector<double> width_mm;

    int add(Vec2 const& point, int from, int its_order);
    std::size_t size() const { return at.size(); }
    // What flows into the node comes to this width at the root; filled into width_mm.
    void take_widths(double root_width_mm);
    // One vein from each fork to its end; at a fork the widest branch of the same order goes on.
    std::vector<Vein> veins() const;
};

// Width of what feeds two branches; the angle that the first of them makes with it (degrees).
double murray_width(double first, double second);
double murray_angle_deg(double first, double second);

} // namespace leafwright
