// Draws the parts of one plan as they are at a stage.
#pragma once

#include "view/map_paint.h"
#include "view/parts.h"
#include "view/scene.h"
#include "view/shadows.h"

namespace leafwright {

class Painter {
public:
    void paint(Plan const* plan, Parts& parts, Camera const& camera, Viewport const& viewport,
               SceneOptions const& options);

private:
    struct Frame;
    struct ShadowKey {
        std::uint64_t shown = 0;
        MakingStage stage = MakingStage::knead;
        double flatness = -1;
        double laid = -1;
        bool operator==(ShadowKey const&) const = default;
    };

    void refresh_shadows(Frame const& frame);
    void draw_casters(Frame const& frame, Program const& program, Caster which) const;
    void draw_clay(Frame const& frame) const;
    void begin_clay(Frame const& frame) const;
    void draw_leaves(Frame const& frame) const;
    void draw_features(Frame const& frame) const;
    void draw_slab(Frame const& frame) const;
    void draw_former(Frame const& frame) const;
    void draw_flat_slab(Frame const& frame) const;
    void draw_cut_lines(Frame const& frame) const;
    void draw_line(Frame const& frame, GpuLines const& lines, float width, glm::vec4 const& ink, float dash = 0,
                   float share = 1, float towards = 2e-4f) const;
    void draw_ground(Frame const& frame) const;
    void draw_background(Frame const& frame) const;
    void draw_lines(Frame const& frame);
    void gather_marks(Frame const& frame);

    Program clay_{"clay.vert", "clay.frag"};
    Program wood_{"ground.vert", "wood.frag"};
    Program bench_{"ground.vert", "bench.frag"};
    Program background_{"screen.vert", "background.frag"};
    Program line_{"line.vert", "line.frag", "line.geom"};
    GlTexture grain_ = grain_texture();
    GlTexture wood_map_ = wood_texture();
    GlArray no_vertices_ = make_array();
    Shadows shadows_;
    ShadowKey shadowed_;
    MapPaint map_;
    GpuLines selected_;
    GpuLines hovered_;

public:
    std::uint64_t shown = 0; // counts the plans shown; the owner raises it
};

} // namespace leafwright
