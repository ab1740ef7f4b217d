#include "view/palette.h"

namespace leafwright {

ClayLook clay_look(MakingStage stage) {
    switch (stage) {
    case MakingStage::knead:
        return {{0.400f, 0.293f, 0.208f}, {0.19f, 0.135f, 0.095f}, 0.7f, 0.20f, 0.40f};
    case MakingStage::roll:
        return {{0.410f, 0.302f, 0.215f}, {0.20f, 0.14f, 0.10f}, 0.7f, 0.12f, 0.24f};
    case MakingStage::drape:
        return {{0.420f, 0.310f, 0.221f}, {0.20f, 0.14f, 0.10f}, 0.7f, 0.10f, 0.26f};
    case MakingStage::leaves:
    case MakingStage::features:
        return {{0.435f, 0.320f, 0.228f}, {0.20f, 0.132f, 0.088f}, 0.9f, 0.13f, 0.36f};
    case MakingStage::dry:
        return {{0.600f, 0.505f, 0.400f}, {0.42f, 0.33f, 0.25f}, 0.7f, 0.0f, 0.42f};
    case MakingStage::first_firing:
        return {{0.665f, 0.440f, 0.315f}, {0.46f, 0.26f, 0.17f}, 0.8f, 0.0f, 0.42f};
    case MakingStage::finish:
        return {{0.600f, 0.410f, 0.295f}, {0.050f, 0.034f, 0.027f}, 2.4f, 0.0f, 0.42f};
    case MakingStage::last_firing:
    case MakingStage::hang:
        return {{0.415f, 0.310f, 0.222f}, {0.060f, 0.040f, 0.030f}, 2.0f, 0.05f, 0.42f};
    }
    return {};
}

ClayLook clay_look(MakingStage stage, FinishKind finish) {
    ClayLook look = clay_look(stage);
    if (stage < MakingStage::finish) return look;
    bool const fired = stage >= MakingStage::last_firing;
    switch (finish) {
    case FinishKind::oxide_wash: // what the stages themselves show
        return look;
    case FinishKind::glaze:
        // Raw glaze is a pale powder; fired it is glassy, breaks to brown where it is thin and pools in the hollows.
        if (!fired) return {{0.720f, 0.690f, 0.640f}, {0.78f, 0.76f, 0.72f}, 0.8f, 0.0f, 0.20f};
        return {{0.300f, 0.345f, 0.300f}, {0.130f, 0.185f, 0.170f}, 1.6f, 0.85f, 0.12f};
    case FinishKind::cold:
        if (!fired) return clay_look(MakingStage::first_firing);
        return {{0.330f, 0.245f, 0.180f}, {0.110f, 0.080f, 0.060f}, 1.3f, 0.30f, 0.34f};
    case FinishKind::none:
        break;
    }
    if (!fired) return clay_look(MakingStage::first_firing);
    look.cavity = 0.62f * look.base;
    look.cavity_stain = 0.8f;
    return look;
}

RoomLook room_look(MakingStage stage) {
    if (scene_at(stage).on_wall) return {{0.890f, 0.875f, 0.850f}, {0.690f, 0.668f, 0.640f}};
    return {{0.905f, 0.880f, 0.840f}, {0.735f, 0.695f, 0.640f}};
}

} // namespace leafwright
