#include "view/picture.h"

#include "view/egl_context.h"
#include "view/gl.h"

#include <algorithm>
#include <cmath>
#include <thread>

namespace leafwright {
namespace {

constexpr int kLeast_px = 16;
constexpr int kMost_px = 8192;

void delete_renderbuffer(GLuint name) { glDeleteRenderbuffers(1, &name); }
using GlRenderbuffer = GlName<delete_renderbuffer>;

struct Target {
    GlFramebuffer frame = make_framebuffer();
    GlRenderbuffer colour;
    GlRenderbuffer depth;
};

GlRenderbuffer storage(GLenum format, int samples, int width, int height) {
    GLuint name = 0;
    glGenRenderbuffers(1, &name);
    glBindRenderbuffer(GL_RENDERBUFFER, name);
    glRenderbufferStorageMultisample(GL_RENDERBUFFER, samples, format, width, height);
    return GlRenderbuffer(name);
}

Target make_target(int samples, int width, int height) {
    Target target;
    target.colour = storage(GL_RGBA8, samples, width, height);
    target.depth = storage(GL_DEPTH_COMPONENT24, samples, width, height);
    glBindFramebuffer(GL_FRAMEBUFFER, target.frame.name());
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, target.colour.name());
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_DEPTH_ATTACHMENT, GL_RENDERBUFFER, target.depth.name());
    return target;
}

Picture read_back(Target const& many, int width, int height) {
    Target const one = make_target(0, width, height);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, many.frame.name());
    glBindFramebuffer(GL_DRAW_FRAMEBUFFER, one.frame.name());
    glBlitFramebuffer(0, 0, width, height, 0, 0, width, height, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, one.frame.name());
    std::size_t const row = static_cast<std::size_t>(width) * 3;
    std::vector<unsigned char> upward(row * static_cast<std::size_t>(height));
    glPixelStorei(GL_PACK_ALIGNMENT, 1);
    glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE, upward.data());
    Picture picture{width, height, std::vector<unsigned char>(upward.size())};
    for (std::size_t j = 0; j < static_cast<std::size_t>(height); ++j)
        std::copy_n(upward.begin() + static_cast<std::ptrdiff_t>(j * row), row,
                    picture.rgb.end() - static_cast<std::ptrdiff_t>((j + 1) * row));
    return picture;
}

Outcome<Picture> draw_here(std::shared_ptr<Plan const> const& plan, PictureRequest const& request) {
    Outcome<std::unique_ptr<EglContext>> const context = EglContext::make();
    if (!context) return context.problem();
    GLint most_samples = 0;
    glGetIntegerv(GL_MAX_SAMPLES, &most_samples);
    int const samples = std::clamp(request.samples, 0, static_cast<int>(most_samples));
    Target const target = make_target(samples, request.width_px, request.height_px);
    Scene scene;
    scene.show(plan);
    glBindFramebuffer(GL_FRAMEBUFFER, target.frame.name());
    Vec3 const size = scene_size(*plan, request.options);
    double const aspect = static_cast<double>(request.width_px) / request.height_px;
    Camera const home = home_camera(request.from, size.x, size.y, size.z, aspect);
    Camera const camera = request.camera.value_or(home);
    scene.draw(camera, {0, 0, request.width_px, request.height_px}, request.options);
    return read_back(target, request.width_px, request.height_px);
}

MaybeProblem size_problem(char const* key, int value) {
    if (value >= kLeast_px && value <= kMost_px) return std::nullopt;
    return Problem{"picture.size", key, "is " + std::to_string(value) + " pixels; the range is 16 to 8192",
                   "ask for a size within it", ProblemKind::input};
}

} // namespace

MaybeProblem check_picture_size(PictureRequest const& request) {
    if (auto const problem = size_problem("width", request.width_px)) return *problem;
    return size_problem("height", request.height_px);
}

Outcome<Picture> draw_picture(std::shared_ptr<Plan const> plan, PictureRequest const& request) {
    if (auto const problem = check_picture_size(request)) return *problem;
    // On a thread of its own: a context that is current here stays so.
    std::optional<Outcome<Picture>> picture;
    std::thread([&] { picture.emplace(draw_here(plan, request)); }).join();
    return std::move(*picture);
}

} // namespace leafwright
