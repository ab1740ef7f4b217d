// Where drying strains the clay more than it can stretch. Internal to the room.
#pragma once

#include "drying/drying.h"

namespace leafwright {

// The maps' cells: thickness and dry mass of each.
struct MapGround {
    int columns = 0;
    int rows = 0;
    Vec2 origin_mm{0, 0};
    double cell_mm = 4;
    std::vector<float> thick_mm;
    std::vector<float> dry_g;        // 0 where there is no clay
    std::vector<unsigned char> held; // on slab all over: not a tip beyond the rim, which shrinks as it likes
};

// Mean over a square of about the given radius, by dry mass; where there is no clay, 0. Two passes of running sums.
std::vector<float> mean_around(MapGround const& ground, std::vector<float> const& value, double radius_mm);

class CrackWatch {
public:
    CrackWatch(MapGround const& ground, DryingClay const& clay, Figure const& stretch);
    // Water and surface water of every map cell at this hour.
    void look(double hour, std::vector<float> const& water, std::vector<float> const& surface);
    CrackAnswer answer() const;

private:
    MapGround const& ground_;
    DryingClay clay_;
    Figure stretch_;
    double radius_mm_;
    std::vector<float> around_thick_;
    std::vector<double> misfit_, pull_; // at the last look; the pull is what has not crept away
    double last_hour_ = 0;
    double most_ = 0;
    double pull_most_ = 0;
    double wet_most_ = 1;
    double hour_ = 0;
    std::size_t at_ = 0;
    bool by_neighbours_ = true;
};

} // namespace leafwright
