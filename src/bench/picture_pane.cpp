#include "bench/picture_pane.h"

#include <epoxy/gl.h>

#include <algorithm>
#include <chrono>

namespace leafwright {
namespace {

constexpr int kSamples = 4;
constexpr double kSlow_s = 0.03; // a fine picture that takes longer is replaced by a fast one while things move

} // namespace

bool PicturePane::is_slow() const { return fine_s_ > kSlow_s; }

PicturePane::~PicturePane() { release(); }

void PicturePane::release() {
    unsigned const frames[] = {resolve_frame_, draw_frame_};
    unsigned const buffers[] = {color_, depth_};
    if (texture_) glDeleteTextures(1, &texture_);
    if (draw_frame_) glDeleteFramebuffers(2, frames);
    if (color_) glDeleteRenderbuffers(2, buffers);
    texture_ = resolve_frame_ = draw_frame_ = color_ = depth_ = 0;
}

void PicturePane::resize(int width_px, int height_px, int samples) {
    if (width_ == width_px && height_ == height_px && samples_ == samples) return;
    release();
    width_ = width_px;
    height_ = height_px;
    samples_ = samples;
    glGenTextures(1, &texture_);
    glBindTexture(GL_TEXTURE_2D, texture_);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGBA8, width_, height_, 0, GL_RGBA, GL_UNSIGNED_BYTE, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    glGenRenderbuffers(1, &color_);
    glBindRenderbuffer(GL_RENDERBUFFER, color_);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples_, GL_RGBA8, width_, height_);
    glGenRenderbuffers(1, &depth_);
    glBindRenderbuffer(GL_RENDERBUFFER, depth_);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples_, GL_DEPTH24_STENCIL8, width_, height_);
    glGenFramebuffers(1, &resolve_frame_);
    glBindFramebuffer(GL_FRAMEBUFFER, resolve_frame_);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, texture_, 0);
    glGenFramebuffers(1, &draw_frame_);
    glBindFramebuffer(GL_FRAMEBUFFER, draw_frame_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, color_);
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_STENCIL_ATTACHMENT, GL_RENDERBUFFER, depth_);
}

bool PicturePane::draw(Wish const& wish) {
    if (!wish.plan) return false;
    bool const rough = wish.moving && is_slow();
    Wish asked = wish;
    asked.moving = rough;
    if (shown_ && *shown_ == asked) return false;
    // Resting on a fine picture, nothing is gained by a rough one.
    if (shown_ && rough && !rough_) {
        Wish fine = asked;
        fine.moving = false;
        if (*shown_ == fine) return false;
    }
    int const divisor = rough ? 2 : 1;
    resize(std::max(1, wish.width_px / divisor), std::max(1, wish.height_px / divisor), rough ? 0 : kSamples);
    scene_.show(wish.plan);
    auto const start = std::chrono::steady_clock::now(); // a coarser picture would not bring the meshes sooner
    glBindFramebuffer(GL_FRAMEBUFFER, draw_frame_);
    SceneOptions options = wish.options;
    options.pixel_scale /= static_cast<float>(divisor);
    scene_.draw(wish.camera, {0, 0, width_, height_}, options);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, draw_frame_);
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, resolve_frame_);
    glBlitFramebuffer(0, 0, width_, height_, 0, 0, width_, height_, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    glFinish(); // so that the time is the picture's own
    double const took = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    if (!rough) fine_s_ = took;
    rough_ = rough;
    shown_ = std::move(asked);
    ++drawn_;
    return true;
}

} // namespace leafwright
