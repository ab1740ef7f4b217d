// From the plan's space to the scene's: the size at a stage, and how far the piece is rolled out flat.
#pragma once

#include "view/scene.h"

namespace leafwright {

// 0 the piece to 1 the chart; at Drape always 0, for there the slab is laid over instead.
double flatness_of(SceneOptions const& options);
// How far the slab is laid over the former: 1 but at Drape.
double laid_of(SceneOptions const& options);
// What there is to see; at Drape, looked at flat, the slab as cut.
StageScene scene_of(SceneOptions const& options);
// Size now, of the plastic size; 1 where the plan does not tell.
double scale_at(Plan const& plan, MakingStage stage);
// Volume of the clay to knead, mm3; 0 when the plan does not tell.
double lump_mm3(Plan const& plan);
// How far the piece is raised so that the board its surface knows lies at z = 0, mm of the plastic piece.
double lift_mm(Plan const& plan);
// Height of the slab's outer face above the board in the flat look, mm.
double flat_base_mm(Plan const& plan);

} // namespace leafwright
