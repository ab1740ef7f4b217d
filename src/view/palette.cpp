#include "view/palette.h"

namespace leafwright {

ClayLook clay_look(MakingStage stage) {
    switch (stage) {
    case MakingStage::knead:
        return {{0.335f, 0.255f, 0.190f}, {0.19f, 0.135f, 0.095f}, 0.7f, 0.20f, 0.40f};
    case MakingStage::roll:
        return {{0.345f, 0.265f, 0.198f}, {0.20f, 0.14f, 0.10f}, 0.7f, 0.15f, 0.36f};
    case MakingStage::drape:
        return {{0.355f, 0.272f, 0.203f}, {0.20f, 0.14f, 0.10f}, 0.7f, 0.12f, 0.36f};
    case MakingStage::leaves:
    case MakingStage::features:
        return {{0.370f, 0.283f, 0.210f}, {0.19f, 0.13f, 0.09f}, 0.8f, 0.08f, 0.36f};
    case MakingStage::dry:
        return {{0.600f, 0.505f, 0.400f}, {0.42f, 0.33f, 0.25f}, 0.7f, 0.0f, 0.42f};
    case MakingStage::first_firing:
        return {{0.665f, 0.440f, 0.315f}, {0.46f, 0.26f, 0.17f}, 0.8f, 0.0f, 0.42f};
    case MakingStage::finish:
        return {{0.600f, 0.405f, 0.290f}, {0.055f, 0.036f, 0.027f}, 1.5f, 0.0f, 0.42f};
    case MakingStage::last_firing:
    case MakingStage::hang:
        return {{0.400f, 0.300f, 0.215f}, {0.060f, 0.042f, 0.033f}, 1.35f, 0.05f, 0.42f};
    }
    return {};
}

RoomLook room_look(MakingStage stage) {
    if (scene_at(stage).on_wall) return {{0.890f, 0.875f, 0.850f}, {0.690f, 0.668f, 0.640f}};
    return {{0.905f, 0.880f, 0.840f}, {0.735f, 0.695f, 0.640f}};
}

} // namespace leafwright
