// What a slab laid by a given map is like.
#pragma once

#include "slab/membrane.h"
#include "slab/slab.h"

namespace leafwright {

inline constexpr double kPuckerStrain = 0.05; // log strain beyond which clay no longer packs evenly; no source

struct DrapeSurvey {
    SlabMap map;
    double laid_mm2 = 0, flat_mm2 = 0; // of the triangles
    double rms_stretch = 0, pucker_mm2 = 0, surplus_rim_mm = 0;
    double least_product = 1, most_product = 1; // of flat to laid area: thickness by rolled
    double stretch_least = 1, stretch_most = 1; // cut tips left out
    Spot most_stretched;
};

DrapeSurvey survey_drape(DrapeMesh const& mesh, Membrane const& membrane, std::span<Vec2 const> flat,
                         double thickness_mm);

// Share of a triangle in which the linear function with these corner values is above 0.
double share_above(double a, double b, double c);

} // namespace leafwright
