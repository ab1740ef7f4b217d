// The scene as a texture: drawn again only when the plan, the camera, the options or the size changed.
#pragma once

#include "view/scene.h"

namespace leafwright {

class PicturePane {
public:
    PicturePane() = default;
    ~PicturePane();
    PicturePane(PicturePane const&) = delete;
    PicturePane& operator=(PicturePane const&) = delete;

    struct Wish {
        std::shared_ptr<Plan const> plan;
        Camera camera;
        SceneOptions options;
        int width_px = 1;
        int height_px = 1;
        bool moving = false; // draw fast rather than fine where the machine is slow
        bool operator==(Wish const&) const = default;
    };
    // Returns whether it drew. Needs the GL context.
    bool draw(Wish const& wish);
    // The last picture was a fast one: ask again with moving = false once the hand rests.
    bool is_rough() const { return rough_; }
    double fine_seconds() const { return fine_s_; } // how long the last fine picture took
    bool is_slow() const;                           // a fine picture takes too long to follow a hand
    unsigned texture() const { return texture_; }
    int pictures_drawn() const { return drawn_; } // for the report

private:
    void resize(int width_px, int height_px, int samples);
    void release();

    Scene scene_;
    std::optional<Wish> shown_;
    unsigned texture_ = 0;
    unsigned resolve_frame_ = 0;
    unsigned draw_frame_ = 0;
    unsigned color_ = 0;
    unsigned depth_ = 0;
    int width_ = 0;
    int height_ = 0;
    int samples_ = 0;
    bool rough_ = false;
    double fine_s_ = 0; // how long the last fine picture took
    int drawn_ = 0;
};

} // namespace leafwright
