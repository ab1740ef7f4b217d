// How deep two turned shapes lie in each other, reckoned from their parts without a table: for jobs with so many shapes
// and turns that tables of all pairs would fill the memory.
#pragma once

#include "cutting/four.h"
#include "cutting/nest_shapes.h"

namespace leafwright {

class SolidShape {
public:
    explicit SolidShape(TurnedShape const& shape);

    // Of this one at (x, y) seen from `other`, the gap counted in; 0 when they keep it. Round corners the gap is kept
    // more than need be, never less.
    float depth(SolidShape const& other, float x, float y, float gap) const;

private:
    struct Part {
        float low_x, high_x, low_y, high_y;
        unsigned first_point, end_point; // groups of four
        unsigned first_normal, end_normal;
    };
    struct Points {
        Four x, y;
    };
    struct Normal {
        float x, y, reach;
    };
    // The least distance that takes `points`, moved, out of the half planes; stops below `floor`.
    static float way_out(SolidShape const& walls, Part const& wall, SolidShape const& solid, Part const& part, float x,
                         float y, float gap, float floor);

    std::vector<Part> parts_;
    std::vector<Points> points_;
    std::vector<Normal> normals_;
};

} // namespace leafwright
