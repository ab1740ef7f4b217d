#include "view/camera.h"

#include "base/units.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kNearest_mm = 60;
constexpr double kFarthest_mm = 12000;
constexpr double kMargin = 0.86; // share of the frame that a home view fills

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

// The nearest distance from which the box's corners all fall within the frame.
double fitting_distance(Camera const& camera, Vec3 const& half, double aspect) {
    Axes const axes = axes_of(camera);
    double const tall = half_height(camera) * kMargin;
    double const wide = tall * aspect;
    double distance = kNearest_mm;
    for (int corner = 0; corner < 8; ++corner) {
        Vec3 const p{(corner & 1) ? half.x : -half.x, (corner & 2) ? half.y : -half.y, (corner & 4) ? half.z : -half.z};
        double const towards = glm::dot(p, axes.back);
        distance = std::max(distance, towards + std::abs(glm::dot(p, axes.right)) / wide);
        distance = std::max(distance, towards + std::abs(glm::dot(p, axes.up)) / tall);
    }
    return distance;
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
        camera.yaw_deg = 90;
        break;
    case HomeView::above:
        camera.pitch_deg = 62;
        break;
    // As the maker stands at the foot of the board.
    case HomeView::quarter:
        camera.yaw_deg = 20;
        camera.pitch_deg = -36;
        break;
    }
    camera.target = {0, 0, depth_mm / 2};
    Vec3 const half{width_mm / 2, height_mm / 2, depth_mm / 2};
    camera.distance_mm = std::min(fitting_distance(camera, half, aspect), kFarthest_mm);
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
