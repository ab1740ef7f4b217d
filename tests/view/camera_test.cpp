#include "base/units.h"
#include "near.h"
#include "view/camera.h"
#include "view/camera_matrix.h"

#include <glm/vec4.hpp>

#include <algorithm>

using namespace leafwright;

namespace {

Viewport const kPort{0, 0, 1280, 800};

double distance_from_ray(Ray const& ray, Vec3 const& point) {
    Vec3 const off = point - ray.from;
    return glm::length(off - glm::dot(off, ray.direction) * ray.direction);
}

} // namespace

TEST_CASE("the ray through a projected point meets the point") {
    int checked = 0;
    for (double yaw = -170; yaw < 180; yaw += 50)
        for (double pitch = -80; pitch < 85; pitch += 40) {
            Camera const camera{{10, -20, 35}, 900, yaw, pitch, 28};
            for (Vec3 const& point : {Vec3{0, 0, 0}, Vec3{120, -80, 60}, Vec3{-90, 150, 5}}) {
                auto const pixel = project(camera, kPort, point);
                REQUIRE(pixel);
                CHECK_NEAR(distance_from_ray(ray_through(camera, kPort, *pixel), point), 0, 1e-9);
                ++checked;
            }
        }
    CHECK(checked > 90);
}

TEST_CASE("the middle of the viewport looks at the target and pixels count downward") {
    Camera const camera{{5, 6, 7}, 700, 30, 20, 28};
    auto const middle = project(camera, kPort, camera.target);
    REQUIRE(middle);
    CHECK_NEAR(middle->x, 640, 1e-9);
    CHECK_NEAR(middle->y, 400, 1e-9);
    Camera const front{};
    CHECK(project(front, kPort, front.target + Vec3{0, 10, 0})->y < 400);
    CHECK(project(front, kPort, front.target + Vec3{10, 0, 0})->x > 640);
}

TEST_CASE("the angle of view is the one asked for") {
    // A point at the upper edge stands half the angle above the axis: tan(14 degrees) of the distance.
    Camera camera;
    camera.field_deg = 28;
    auto const edge = project(camera, kPort, camera.target + Vec3{0, camera.distance_mm * std::tan(radians(14)), 0});
    REQUIRE(edge);
    CHECK_NEAR(edge->y, 0, 1e-9);
}

TEST_CASE("projecting by hand and by OpenGL's matrix agree") {
    Camera const camera{{10, -20, 35}, 900, 25, -40, 28};
    glm::mat4 const matrix = view_projection(camera, kPort);
    for (Vec3 const& point : {Vec3{0, 0, 0}, Vec3{150, 100, 60}, Vec3{-140, -60, 20}}) {
        glm::vec4 const clip = matrix * glm::vec4(glm::vec3(point), 1.0f);
        Vec2 const pixel = *project(camera, kPort, point);
        CHECK_NEAR(static_cast<double>(clip.x / clip.w * 0.5f + 0.5f) * 1280, pixel.x, 0.01);
        CHECK_NEAR((0.5 - 0.5 * static_cast<double>(clip.y / clip.w)) * 800, pixel.y, 0.01);
        CHECK(std::abs(clip.z) < clip.w);
    }
}

TEST_CASE("nothing behind the eye is projected") {
    Camera const camera;
    CHECK_FALSE(project(camera, kPort, eye_of(camera) + Vec3{0, 0, 50}));
}

TEST_CASE("home views hold a dome whole and fill the frame") {
    Vec3 const size{320, 420, 110};
    for (HomeView const view : {HomeView::front, HomeView::side, HomeView::above, HomeView::quarter})
        for (double const aspect : {0.6, 1.0, 1.6, 2.4}) {
            Viewport const port{0, 0, static_cast<int>(1000 * aspect), 1000};
            Camera const camera = home_camera(view, size.x, size.y, size.z, aspect);
            double most = 0;
            for (int k = 0; k < 72; ++k)
                for (double const w : {0.0, 0.5, 0.8, 1.0}) {
                    double const angle = kTwoPi * k / 72;
                    Vec3 const p{0.5 * w * size.x * std::cos(angle), 0.5 * w * size.y * std::sin(angle),
                                 size.z * std::sqrt(1 - w * w)};
                    Vec2 const pixel = *project(camera, port, p);
                    most = std::max(
                        {most, std::abs(2 * pixel.x / port.width - 1), std::abs(2 * pixel.y / port.height - 1)});
                }
            CHECK(most < 0.97);
            CHECK(most > 0.55);
        }
}

TEST_CASE("turning stops short of the poles, zooming and panning keep to what they say") {
    Camera const camera;
    CHECK(turned(camera, 0, 500).pitch_deg == 89);
    CHECK(turned(camera, 0, -500).pitch_deg == -89);
    CHECK_NEAR(turned(camera, 350, 0).yaw_deg, -10, 1e-9);
    CHECK_NEAR(zoomed(camera, 2).distance_mm, camera.distance_mm / 2, 1e-9);
    // What lay under the pointer follows it.
    Vec2 const before = *project(camera, kPort, camera.target);
    Vec2 const after = *project(panned(camera, kPort, {30, -12}), kPort, camera.target);
    CHECK_NEAR(after.x - before.x, 30, 1e-6);
    CHECK_NEAR(after.y - before.y, -12, 1e-6);
}

TEST_CASE("home views have names") {
    CHECK(home_view("quarter") == HomeView::quarter);
    CHECK(home_view("side") == HomeView::side);
    CHECK_FALSE(home_view("beneath"));
}
