#include "view/camera.h"

#include "base/units.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace leafwright {
namespace {

constexpr double kNearest_mm = 60;
constexpr double kFarthest_mm = 12000;
constexpr double kMargin = 0.92; // share of the frame that a home view fills

struct Axes {
    Vec3 right;
    Vec3 up;
    Vec3 back; // from the target to the eye
};

Axes axes_of(Camera const& camera) {
    double const yaw = radians(camera.yaw_deg);
    double const pitch = radians(camera.pitch_deg);
    Vec3 const back{std::sin(yaw) * std::cos(pitch), std::sin(pitch), std::cos(yaw) * std::cos(pitch)};
    Vec3 const right{std::cos(yaw), 0, -std::sin(yaw)};
    return {right, glm::cross(back, right), back};
}

double half_height(Camera const& camera) { return std::tan(radians(camera.field_deg) / 2); }

// The block that a view must hold: the board's side in full, the crown's side a little smaller, as pieces are.
std::array<Vec3, 8> block(double width_mm, double height_mm, double depth_mm) {
    constexpr double kCrownShare = 0.8;
    std::array<Vec3, 8> corners;
    for (std::size_t k = 0; k < corners.size(); ++k) {
        double const share = (k & 4) ? kCrownShare : 1.0;
        corners[k] = {((k & 1) ? 0.5 : -0.5) * share * width_mm, ((k & 2) ? 0.5 : -0.5) * share * height_mm,
                      (k & 4) ? depth_mm : 0.0};
    }
    return corners;
}

// The nearest distance from which all corners fall within the frame.
double fitting_distance(Camera const& camera, std::span<Vec3 const> corners, double aspect) {
    Axes const axes = axes_of(camera);
    double const tall = half_height(camera) * kMargin;
    double const wide = tall * aspect;
    double distance = kNearest_mm;
    for (Vec3 const& corner : corners) {
        Vec3 const p = corner - camera.target;
        double const towards = glm::dot(p, axes.back);
        distance = std::max(distance, towards + std::abs(glm::dot(p, axes.right)) / wide);
        distance = std::max(distance, towards + std::abs(glm::dot(p, axes.up)) / tall);
    }
    return distance;
}

// Moves the target so that the corners lie evenly about the middle of the frame, up and down.
void centre_upright(Camera& camera, std::span<Vec3 const> corners) {
    Axes const axes = axes_of(camera);
    double low = 1e300, high = -1e300;
    for (Vec3 const& corner : corners) {
        Vec3 const p = corner - camera.target;
        double const slope = glm::dot(p, axes.up) / (camera.distance_mm - glm::dot(p, axes.back));
        low = std::min(low, slope);
        high = std::max(high, slope);
    }
    camera.target += 0.5 * (low + high) * camera.distance_mm * axes.up;
}

} // namespace

std::optional<HomeView> home_view(std::string_view name) {
    if (name == "front") return HomeView::front;
    if (name == "side") return HomeView::side;
    if (name == "above") return HomeView::above;
    if (name == "quarter") return HomeView::quarter;
    return std::nullopt;
}

Camera home_camera(HomeView view, double width_mm, double height_mm, double depth_mm, double aspect) {
    Camera camera;
    switch (view) {
    case HomeView::front:
        break;
    case HomeView::side:
        camera.yaw_deg = -90; // the side that the light comes from
        break;
    case HomeView::above:
        camera.pitch_deg = 62;
        break;
    // As the maker stands at the foot of the board.
    case HomeView::quarter:
        camera.yaw_deg = 7;
        camera.pitch_deg = -39;
        break;
    }
    camera.target = {0, 0, depth_mm / 2};
    auto const corners = block(width_mm, height_mm, depth_mm);
    for (int round = 0; round < 4; ++round) {
        camera.distance_mm = std::min(fitting_distance(camera, corners, aspect), kFarthest_mm);
        if (round < 3) centre_upright(camera, corners);
    }
    return camera;
}

Vec3 eye_of(Camera const& camera) { return camera.target + camera.distance_mm * axes_of(camera).back; }

Ray ray_through(Camera const& camera, Viewport const& viewport, Vec2 const& pixel) {
    Axes const axes = axes_of(camera);
    double const tall = half_height(camera);
    double const wide = tall * viewport.width / viewport.height;
    double const x = (2 * pixel.x / viewport.width - 1) * wide;
    double const y = (1 - 2 * pixel.y / viewport.height) * tall;
    return {eye_of(camera), glm::normalize(x * axes.right + y * axes.up - axes.back)};
}

std::optional<Vec2> project(Camera const& camera, Viewport const& viewport, Vec3 const& point) {
    Axes const axes = axes_of(camera);
    Vec3 const from_eye = point - eye_of(camera);
    double const ahead = -glm::dot(from_eye, axes.back);
    if (ahead <= 1e-6) return std::nullopt;
    double const tall = half_height(camera) * ahead;
    double const wide = tall * viewport.width / viewport.height;
    return Vec2{(1 + glm::dot(from_eye, axes.right) / wide) * 0.5 * viewport.width,
                (1 - glm::dot(from_eye, axes.up) / tall) * 0.5 * viewport.height};
}

Camera turned(Camera camera, double yaw_deg, double pitch_deg) {
    camera.yaw_deg = std::remainder(camera.yaw_deg + yaw_deg, 360.0);
    camera.pitch_deg = std::clamp(camera.pitch_deg + pitch_deg, -89.0, 89.0);
    return camera;
}

Camera panned(Camera camera, Viewport const& viewport, Vec2 const& pixels) {
    Axes const axes = axes_of(camera);
    double const mm_per_pixel = 2 * half_height(camera) * camera.distance_mm / viewport.height;
    camera.target += mm_per_pixel * (-pixels.x * axes.right + pixels.y * axes.up);
    return camera;
}

Camera zoomed(Camera camera, double factor) {
    if (!(factor > 0)) return camera;
    camera.distance_mm = std::clamp(camera.distance_mm / factor, kNearest_mm, kFarthest_mm);
    return camera;
}

} // namespace leafwright
