// Finds one piece a better place: tries many over the whole row and round the present one, and refines the best.
#pragma once

#include "cutting/crowd.h"

namespace leafwright {

class Mover {
public:
    Mover(Crowd& crowd, double mean_size_mm) : crowd_(crowd), mean_size_(mean_size_mm) {}

    // Moves piece i to the best place found, when that is better than the present one.
    void move(int i, Random& random);

private:
    struct Try {
        int number;
        Vec2 at;
        float cost;
    };
    static constexpr int kMostKept = 3;

    void offer(int i, int number, Vec2 at);
    void try_near(int i, Random& random);
    void try_far(int i, Random& random);
    void refine(int i, Try& tried, double step, double finest, Random& random) const;
    std::vector<int> const& turns(int i) const;

    Crowd& crowd_;
    double mean_size_;
    Try top_[kMostKept];
    int count_ = 0;
};

} // namespace leafwright
