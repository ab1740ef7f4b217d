// Beginning anew from what was nearly a layout: which to begin from, and what to change in it.
#pragma once

#include "cutting/crowd.h"

namespace leafwright {

// Layouts that still overlap, the least first; of those with the same loss, which are the same, only one.
class NearMisses {
public:
    void clear() { kept_.clear(); }
    void add(Layout const& layout, float loss);
    // Rather one of the better ones. Not when there is none.
    Layout const& pick(Random& random) const;

private:
    struct Kept {
        Layout layout;
        float loss;
    };
    std::vector<Kept> kept_;
};

// Two large pieces change places, each with the smaller ones that lie within its box.
void disturb(Crowd& crowd, Random& random);

} // namespace leafwright
