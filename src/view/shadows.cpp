#include "view/shadows.h"

#include <glm/ext/matrix_clip_space.hpp>
#include <glm/ext/matrix_transform.hpp>

namespace leafwright {
namespace {

constexpr int kDepthSize = 2048;
constexpr int kGroundSize = 320;

GlTexture blank_texture(GLint inner, GLenum outer, GLenum type, int size) {
    GlTexture texture = make_texture();
    glBindTexture(GL_TEXTURE_2D, texture.name());
    glTexImage2D(GL_TEXTURE_2D, 0, inner, size, size, 0, outer, type, nullptr);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    return texture;
}

void attach(GlFramebuffer const& target, GLenum point, GlTexture const& texture) {
    glBindFramebuffer(GL_FRAMEBUFFER, target.name());
    glFramebufferTexture2D(GL_FRAMEBUFFER, point, GL_TEXTURE_2D, texture.name(), 0);
    if (point == GL_DEPTH_ATTACHMENT) {
        glDrawBuffer(GL_NONE);
        glReadBuffer(GL_NONE);
    }
}

GLint bound_framebuffer() {
    GLint name = 0;
    glGetIntegerv(GL_DRAW_FRAMEBUFFER_BINDING, &name);
    return name;
}

glm::mat4 light_clip(ShadowRequest const& request) {
    glm::vec3 const centre(request.centre), towards(request.key_direction);
    auto const r = static_cast<float>(request.radius_mm);
    glm::mat4 const view = glm::lookAt(centre + towards * (2 * r), centre, glm::vec3(0, 1, 0));
    return glm::ortho(-r, r, -r, r, 0.5f * r, 3.5f * r) * view;
}

} // namespace

Shadows::Shadows() {
    GLint const before = bound_framebuffer();
    depth_ = blank_texture(GL_DEPTH_COMPONENT24, GL_DEPTH_COMPONENT, GL_UNSIGNED_INT, kDepthSize);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_MODE, GL_COMPARE_REF_TO_TEXTURE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_COMPARE_FUNC, GL_LEQUAL);
    attach(depth_target_, GL_DEPTH_ATTACHMENT, depth_);
    for (int k = 0; k < 2; ++k) {
        ground_[k] = blank_texture(GL_RG8, GL_RG, GL_UNSIGNED_BYTE, kGroundSize);
        attach(ground_target_[k], GL_COLOR_ATTACHMENT0, ground_[k]);
    }
    glBindFramebuffer(GL_FRAMEBUFFER, static_cast<GLuint>(before));
}

double Shadows::texel() const { return 1.0 / kDepthSize; }

void Shadows::redraw(ShadowRequest const& request, DrawCasters const& draw_casters) {
    GLint const before = bound_framebuffer();
    to_clip_ = light_clip(request);
    to_map_ = glm::scale(glm::translate(glm::mat4(1), glm::vec3(0.5f)), glm::vec3(0.5f)) * to_clip_;
    glDisable(GL_SCISSOR_TEST);
    glDisable(GL_BLEND);
    draw_depth(draw_casters);
    draw_ground(request, draw_casters);
    Vec2 const per_mm = Vec2{1 / (2 * request.ground_half_mm)};
    // Nine taps reach about 2 sigma at step 4: the step for a blur is a quarter of its width.
    Vec2 const narrow = per_mm * request.narrow_mm * 0.5, wide = per_mm * request.wide_mm * 0.5;
    blur({narrow.x, 0}, {wide.x, 0}, 0, 1);
    blur({0, narrow.y}, {0, wide.y}, 1, 0);
    glBindFramebuffer(GL_FRAMEBUFFER, static_cast<GLuint>(before));
}

void Shadows::draw_depth(DrawCasters const& draw_casters) const {
    glBindFramebuffer(GL_FRAMEBUFFER, depth_target_.name());
    glViewport(0, 0, kDepthSize, kDepthSize);
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    glDepthMask(GL_TRUE);
    glClear(GL_DEPTH_BUFFER_BIT);
    glEnable(GL_POLYGON_OFFSET_FILL);
    glPolygonOffset(1.5f, 4.0f);
    caster_.use();
    caster_.set("shadow_matrix", to_clip_);
    draw_casters(caster_, Caster::all);
    glDisable(GL_POLYGON_OFFSET_FILL);
}

void Shadows::draw_ground(ShadowRequest const& request, DrawCasters const& draw_casters) const {
    glBindFramebuffer(GL_FRAMEBUFFER, ground_target_[0].name());
    glViewport(0, 0, kGroundSize, kGroundSize);
    glDisable(GL_DEPTH_TEST);
    glClearColor(0, 0, 0, 1);
    glClear(GL_COLOR_BUFFER_BIT);
    glColorMask(GL_FALSE, GL_TRUE, GL_FALSE, GL_FALSE);
    auto const half = static_cast<float>(request.ground_half_mm);
    caster_.use();
    caster_.set("shadow_matrix", glm::ortho(-half, half, -half, half, -2000.0f, 2000.0f));
    draw_casters(caster_, Caster::outline);
    glColorMask(GL_TRUE, GL_FALSE, GL_FALSE, GL_FALSE);
    ground_shadow_.use();
    ground_shadow_.set("shadow_map", 0);
    ground_shadow_.set("shadow_matrix", to_map_);
    ground_shadow_.set("ground_half_mm", half);
    ground_shadow_.set("ground_z_mm", 0.4f);
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, depth_.name());
    glBindVertexArray(no_vertices_.name());
    glDrawArrays(GL_TRIANGLES, 0, 3);
    glColorMask(GL_TRUE, GL_TRUE, GL_TRUE, GL_TRUE);
}

void Shadows::blur(Vec2 const& narrow, Vec2 const& wide, int from, int to) const {
    glBindFramebuffer(GL_FRAMEBUFFER, ground_target_[to].name());
    glViewport(0, 0, kGroundSize, kGroundSize);
    ground_blur_.use();
    ground_blur_.set("source", 0);
    ground_blur_.set("narrow_step", glm::vec2(narrow));
    ground_blur_.set("wide_step", glm::vec2(wide));
    glActiveTexture(GL_TEXTURE0);
    glBindTexture(GL_TEXTURE_2D, ground_[from].name());
    glBindVertexArray(no_vertices_.name());
    glDrawArrays(GL_TRIANGLES, 0, 3);
}

} // namespace leafwright
