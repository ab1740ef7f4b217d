#include "view/camera_matrix.h"

#include "base/units.h"

#include <glm/ext/matrix_clip_space.hpp>
#include <glm/ext/matrix_transform.hpp>

#include <algorithm>

namespace leafwright {

glm::mat4 view_projection(Camera const& camera, Viewport const& viewport) {
    double const near_mm = std::max(4.0, camera.distance_mm * 0.08);
    double const far_mm = camera.distance_mm * 3 + 8000;
    double const aspect = static_cast<double>(viewport.width) / viewport.height;
    glm::dmat4 const lens = glm::perspective(radians(camera.field_deg), aspect, near_mm, far_mm);
    // Pitch stays short of upright, so that y is always a good "up".
    return glm::mat4(lens * glm::lookAt(eye_of(camera), camera.target, Vec3{0, 1, 0}));
}

} // namespace leafwright
