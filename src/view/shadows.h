// The key light's shadow: a depth map from the light, and what it throws on the ground plane, blurred once for all
// frames.
#pragma once

#include "view/gl.h"

#include <functional>

namespace leafwright {

struct ShadowRequest {
    Vec3 centre{0, 0, 0};        // of all that casts a shadow
    double radius_mm = 400;      // about it
    Vec3 key_direction{0, 0, 1}; // towards the light
    double ground_half_mm = 400;
    double narrow_mm = 5; // blur of the shadow on the ground
    double wide_mm = 16;  // and of the dimness near the piece
};

// For the depth map all that casts a shadow is drawn; for the dimness round the piece its outline from above is enough.
enum class Caster { all, outline };
using DrawCasters = std::function<void(Program const&, Caster)>;

class Shadows {
public:
    Shadows();
    // draw_casters gets the program to set flatness and scale on, and draws every mesh that casts a shadow.
    // The framebuffer that was bound is bound again afterwards; viewport and scissor are left for the caller to set.
    void redraw(ShadowRequest const& request, DrawCasters const& draw_casters);

    GLuint depth_map() const { return depth_.name(); }
    GLuint ground_map() const { return ground_[0].name(); }
    glm::mat4 const& to_map() const { return to_map_; } // scene -> 0 to 1
    double texel() const;                               // of the depth map, 0 to 1 across

private:
    void draw_depth(DrawCasters const& draw_casters) const;
    void draw_ground(ShadowRequest const& request, DrawCasters const& draw_casters) const;
    void blur(Vec2 const& narrow, Vec2 const& wide, int from, int to) const;

    Program caster_{"shadow.vert", "shadow.frag"};
    Program ground_shadow_{"screen.vert", "ground_shadow.frag"};
    Program ground_blur_{"screen.vert", "ground_blur.frag"};
    GlArray no_vertices_ = make_array();
    GlTexture depth_;
    GlTexture ground_[2];
    GlFramebuffer depth_target_ = make_framebuffer();
    GlFramebuffer ground_target_[2] = {make_framebuffer(), make_framebuffer()};
    glm::mat4 to_clip_{1};
    glm::mat4 to_map_{1};
};

} // namespace leafwright
