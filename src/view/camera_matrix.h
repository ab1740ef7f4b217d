// The camera as OpenGL's matrix.
#pragma once

#include "view/camera.h"

#include <glm/mat4x4.hpp>

namespace leafwright {

glm::mat4 view_projection(Camera const& camera, Viewport const& viewport);

} // namespace leafwright
