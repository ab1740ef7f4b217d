// What clay looks like at each stage, and the colours round it. All colours linear, 0 to 1.
#pragma once

#include "piece/making_line.h"

#include <glm/vec3.hpp>

namespace leafwright {

struct ClayLook {
    glm::vec3 base;
    glm::vec3 cavity;   // in hollows
    float cavity_stain; // how much of it stays there, 0 to 2
    float sheen;
    float grain; // depth of the grain's shading
};
ClayLook clay_look(MakingStage stage);
// With the piece's finish from that stage on: oxide settles in the veins, glaze shines and lies thin on the heights, a
// cold finish comes after the last firing, without any the fired clay stays as it is.
ClayLook clay_look(MakingStage stage, FinishKind finish);

struct RoomLook {
    glm::vec3 light_side; // of the background
    glm::vec3 dark_side;
};
RoomLook room_look(MakingStage stage);

inline constexpr glm::vec3 kFormerCloth{0.50f, 0.47f, 0.41f};
inline constexpr glm::vec3 kFormerFold{0.36f, 0.34f, 0.30f};
inline constexpr glm::vec3 kInk{0.035f, 0.028f, 0.022f};
inline constexpr glm::vec3 kPaper{0.97f, 0.95f, 0.90f};

} // namespace leafwright
