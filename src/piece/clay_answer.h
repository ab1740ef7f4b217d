// How much clay to knead: every part as a mass with its range.
#pragma once

#include "piece/plan.h"

namespace leafwright {

// Of the body, plastic: low where it is wettest and its particles lightest.
Figure plastic_density(BodySpec const& body); // g/cm3

// Two lugs, each made of a ball of clay 30 mm across (common practice, no source); nothing for holes.
double lug_volume_mm3(HangingSpec const& hanging);

// What is cut from rolled sheets and becomes part of the piece: slab, leaves, lugs, the lips of openings.
double cut_volume_mm3(Plan const& plan);
double cut_area_mm2(Plan const& plan); // lugs and lips as thick as the slab

// Needs slab, leaves and features of the plan.
ClayAnswer clay_answer(Plan const& plan);
// The same with offcuts of this volume, known from cutting sheets.
ClayAnswer clay_answer(Plan const& plan, double offcuts_mm3);

// Clay in the piece itself: trimmed slab, leaves, mounds and lugs, less what openings take out of the slab.
double piece_volume_mm3(Plan const& plan);

} // namespace leafwright
