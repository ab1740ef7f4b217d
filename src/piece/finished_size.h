// How wide, high and deep the piece is with everything on it, plastic.
#pragma once

#include "piece/plan.h"

#include <unordered_map>

namespace leafwright {

// Keeps what does not change from plan to plan: points of the slab's face, each leaf's outline in space.
class SizeKeeper {
public:
    // Width, height, depth in mm. Leaves count with what lies on them; depth from the board to the highest place, found
    // on a lattice of 6 mm. Needs face, laid leaves, features and stack of the plan. The same plan gives the same size
    // whatever was asked before.
    Vec3 size_mm(Plan const& plan);

private:
    struct Outline {
        std::shared_ptr<LaidLeaf const> leaf;
        std::vector<LaidPoint> points;
        Vec3 low{0, 0, 0}; // of the points, without what lies on them
        Vec3 high{0, 0, 0};
    };
    void keep_face(Plan const& plan);
    void keep_leaves(Plan const& plan);

    std::shared_ptr<ClaySurface const> face_;
    std::vector<LaidPoint> rim_;
    std::vector<LaidPoint> lattice_; // highest first
    std::unordered_map<LaidLeaf const*, Outline> leaves_;
};

} // namespace leafwright
