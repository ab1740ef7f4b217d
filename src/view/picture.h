// Pictures without a window: an off-screen OpenGL context through EGL (a graphics card, or Mesa's software renderer).
#pragma once

#include "view/scene.h"

#include <filesystem>

namespace leafwright {

struct PictureRequest {
    int width_px = 1280; // 16 to 8192
    int height_px = 960;
    HomeView from = HomeView::quarter;
    std::optional<Camera> camera; // instead of the home view
    SceneOptions options;
    int samples = 4; // of antialiasing
};

struct Picture {
    int width_px = 0;
    int height_px = 0;
    std::vector<unsigned char> rgb; // rows from the top
};

// Problems: "picture.size"; "picture.no-gl" when there is no driver (the sentence tells which package to install).
Outcome<Picture> draw_picture(std::shared_ptr<Plan const> plan, PictureRequest const& request);
MaybeProblem check_picture_size(PictureRequest const& request); // "picture.size"
std::string png_of(Picture const& picture);

} // namespace leafwright
