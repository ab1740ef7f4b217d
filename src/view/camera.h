// Where the piece is looked at from. Orbits about a target; the piece's up (y) is up on the wall.
#pragma once

#include "base/vec.h"

#include <optional>
#include <string_view>

namespace leafwright {

enum class HomeView { front, side, above, quarter };
std::optional<HomeView> home_view(std::string_view name);

struct Camera {
    Vec3 target{0, 0, 40};     // mm
    double distance_mm = 1100; // eye to target
    double yaw_deg = 0;        // 0: from the front; positive: from the right
    double pitch_deg = 0;      // positive: from above
    double field_deg = 28;     // vertical angle of view
    bool operator==(Camera const&) const = default;
};

struct Viewport {
    int x = 0; // pixels, from the lower left corner of the window
    int y = 0;
    int width = 1;
    int height = 1;
    bool operator==(Viewport const&) const = default;
};

struct Ray {
    Vec3 from;
    Vec3 direction; // unit
};

// A camera that shows a piece of that size whole, with a margin.
Camera home_camera(HomeView view, double width_mm, double height_mm, double depth_mm, double aspect);
Vec3 eye_of(Camera const& camera);
// Through a pixel; y counted from the top of the viewport, as pointers do.
Ray ray_through(Camera const& camera, Viewport const& viewport, Vec2 const& pixel);
// Where a point falls in the viewport, same convention; nothing behind the eye.
std::optional<Vec2> project(Camera const& camera, Viewport const& viewport, Vec3 const& point);

Camera turned(Camera camera, double yaw_deg, double pitch_deg); // pitch kept within -89 to 89
Camera panned(Camera camera, Viewport const& viewport, Vec2 const& pixels);
Camera zoomed(Camera camera, double factor);

} // namespace leafwright
