#include "view/painter.h"

#include "view/camera_matrix.h"
#include "view/palette.h"
#include "view/stage_space.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

struct Painter::Frame {
    Plan const* plan = nullptr;
    Parts const& parts;
    Camera const& camera;
    Viewport const& viewport;
    SceneOptions const& options;
    StageScene scene;
    glm::mat4 view{1};
    float flatness = 0;
    float scale = 1;
    float flat_base = 0;
    float lift = 0;
    double laid = 1;
    double ground_half_mm = 400;
    Vec3 key_direction{0, 0, 1};

    bool lays() const { return scene.slab && laid < 1 && parts.laying.mesh; }
    bool sees_inside() const { return parts.slab.opened || eye_of(camera).z < 0; }
    bool is_selected(int id) const {
        return std::find(options.selected.begin(), options.selected.end(), id) != options.selected.end();
    }
};

namespace {

enum Unit { relief_unit, grain_unit, shade_unit, shadow_unit, map_unit };

void bind(int unit, GLuint texture) {
    glActiveTexture(static_cast<GLenum>(GL_TEXTURE0 + unit));
    glBindTexture(GL_TEXTURE_2D, texture);
}

Vec3 key_direction_for(StageScene const& scene) {
    return glm::normalize(scene.on_wall ? Vec3{-0.46, 0.66, 0.74} : Vec3{-0.60, 0.36, 0.72});
}

double depth_of(Plan const& plan) {
    double const crown = plan.outer_face ? plan.outer_face->at({0, 0}).position.z + lift_mm(plan) : 0;
    return crown + (plan.stack ? plan.stack->most_mm : 0);
}

// A part that stands on the board as it is, without a flat look.
void set_place(Program const& program, float scale) {
    program.set("flatness", 0.0f);
    program.set("flat_base", 0.0f);
    program.set("lift", 0.0f);
    program.set("scale", scale);
}

// Guides and pin have gone once the slab is cut.
bool rolls(auto const& frame) { return frame.scene.flat_slab && frame.options.stage == MakingStage::roll; }

void set_place(Program const& program, auto const& frame) {
    program.set("flatness", frame.flatness);
    program.set("flat_base", frame.flat_base);
    program.set("lift", frame.lift);
    program.set("scale", frame.scale);
}

} // namespace

void Painter::paint(Plan const* plan, Parts& parts, Camera const& camera, Viewport const& viewport,
                    SceneOptions const& options) {
    Frame frame{plan, parts, camera, viewport, options, scene_of(options)};
    frame.view = view_projection(camera, viewport);
    frame.key_direction = key_direction_for(frame.scene);
    frame.ground_half_mm = 1.12 * std::max(parts.flat.board_half.x, parts.flat.board_half.y);
    if (plan && plan->outer_face) {
        frame.flatness = static_cast<float>(flatness_of(options));
        frame.laid = laid_of(options);
        if (frame.scene.slab && frame.laid < 1) parts.lay(*plan, frame.laid);
        if (frame.scene.leaves || frame.scene.features) parts.sync_leaves_too(*plan);
        frame.scale = static_cast<float>(scale_at(*plan, options.stage));
        frame.flat_base = static_cast<float>(flat_base_mm(*plan));
        frame.lift = static_cast<float>(lift_mm(*plan));
    }
    refresh_shadows(frame);
    map_.show(options.map, plan, plan && frame.scene.leaves ? plan->stack : nullptr);
    glViewport(viewport.x, viewport.y, viewport.width, viewport.height);
    glEnable(GL_SCISSOR_TEST);
    glScissor(viewport.x, viewport.y, viewport.width, viewport.height);
    glEnable(GL_DEPTH_TEST);
    glDepthFunc(GL_LEQUAL);
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);
    glDisable(GL_CULL_FACE);
    glDisable(GL_FRAMEBUFFER_SRGB);
    glClear(GL_DEPTH_BUFFER_BIT);
    // Near things first: what they hide is not shaded.
    draw_clay(frame);
    draw_ground(frame);
    draw_background(frame);
    draw_lines(frame);
    glBindVertexArray(0);
    glUseProgram(0);
    glActiveTexture(GL_TEXTURE0);
    glDisable(GL_SCISSOR_TEST);
}

void Painter::refresh_shadows(Frame const& frame) {
    ShadowKey const key{shown, frame.options.stage, static_cast<double>(frame.flatness), laid_of(frame.options)};
    if (key == shadowed_) return;
    shadowed_ = key;
    ShadowRequest request;
    double const depth = frame.plan ? depth_of(*frame.plan) : 0;
    bool const on_board = frame.scene.flat_slab || frame.scene.lump;
    Vec2 const half = on_board ? frame.parts.flat.board_half : 0.94 * frame.parts.flat.board_half;
    request.centre = {0, 0, depth / 2};
    request.radius_mm = glm::length(Vec3{half, depth / 2});
    request.key_direction = frame.key_direction;
    request.ground_half_mm = frame.ground_half_mm;
    if (frame.scene.on_wall) request.narrow_mm = 9, request.wide_mm = 26;
    shadows_.redraw(request, [&](Program const& program, Caster which) { draw_casters(frame, program, which); });
}

void Painter::draw_casters(Frame const& frame, Program const& program, Caster which) const {
    set_place(program, frame);
    if (!frame.plan) return;
    if (frame.scene.lump) {
        set_place(program, static_cast<float>(std::cbrt(lump_mm3(*frame.plan))));
        frame.parts.lump.draw();
    }
    if (frame.scene.flat_slab) {
        set_place(program, 1.0f);
        frame.parts.flat.slab_mesh.draw();
        if (rolls(frame)) frame.parts.flat.rolling.draw();
    }
    if (frame.scene.slab) (frame.lays() ? frame.parts.laying.mesh : frame.parts.slab.mesh).draw();
    if (frame.lays()) frame.parts.former.mesh.draw();
    if (frame.scene.features && which == Caster::all)
        for (FeaturePart const& part : frame.parts.features) part.mesh.draw();
    if (frame.scene.leaves)
        for (int const id : frame.parts.order) {
            LeafPart const& part = frame.parts.leaves.at(id);
            if (which == Caster::all || part.leaf->placement.row == 1) part.mesh.draw();
        }
}

void Painter::begin_clay(Frame const& frame) const {
    ClayLook const look =
        frame.plan ? clay_look(frame.options.stage, frame.plan->piece.finish.kind) : clay_look(frame.options.stage);
    clay_.use();
    set_place(clay_, frame);
    clay_.set("view_projection", frame.view);
    clay_.set("shadow_matrix", shadows_.to_map());
    clay_.set("eye", glm::vec3(eye_of(frame.camera)));
    clay_.set("key_direction", glm::vec3(frame.key_direction));
    clay_.set("base", look.base);
    clay_.set("cavity_colour", look.cavity);
    clay_.set("cavity_stain", look.cavity_stain);
    clay_.set("sheen", look.sheen);
    clay_.set("grain_depth", look.grain);
    clay_.set("tone", 1.0f);
    clay_.set("relief_depth", 0.0f);
    clay_.set("relief_frame", glm::vec4(0));
    clay_.set("grain_offset", glm::vec2(0));
    clay_.set("shade_frame", frame.parts.shade_frame);
    clay_.set("shade_range_mm", kShadeRange_mm);
    clay_.set("open_shade", 0.0f);
    clay_.set("hatch", glm::vec4(0));
    clay_.set("shadow_step", static_cast<float>(1.4 * shadows_.texel()));
    clay_.set("relief_map", static_cast<int>(relief_unit));
    clay_.set("grain_map", static_cast<int>(grain_unit));
    clay_.set("shade_map", static_cast<int>(shade_unit));
    clay_.set("shadow_map", static_cast<int>(shadow_unit));
    bind(relief_unit, grain_.name());
    bind(grain_unit, grain_.name());
    bind(shade_unit, frame.parts.shade.name() ? frame.parts.shade.name() : grain_.name());
    bind(shadow_unit, shadows_.depth_map());
}

void Painter::draw_clay(Frame const& frame) const {
    if (!frame.plan) return;
    begin_clay(frame);
    auto const colour_by_map = [&](MapPaint::On on) { map_.set(clay_, on, map_unit, frame.options.pixel_scale); };
    colour_by_map(MapPaint::On::piece);
    if (frame.scene.leaves && frame.parts.shade.name()) clay_.set("open_shade", 1.0f);
    if (frame.scene.leaves) draw_leaves(frame);
    if (frame.scene.features) draw_features(frame);
    if (frame.scene.slab && !frame.lays()) draw_slab(frame);
    clay_.set("open_shade", 0.0f);
    colour_by_map(MapPaint::On::flat_slab);
    if (frame.lays()) frame.parts.laying.mesh.draw();
    if (frame.scene.flat_slab) draw_flat_slab(frame);
    colour_by_map(MapPaint::On::nothing);
    bool const bared = frame.lays() || frame.sees_inside();
    if (frame.scene.former && frame.flatness < 0.5f && bared) draw_former(frame);
    if (frame.scene.lump) {
        set_place(clay_, static_cast<float>(std::cbrt(lump_mm3(*frame.plan))));
        frame.parts.lump.draw();
    }
}

void Painter::draw_leaves(Frame const& frame) const {
    Parts const& parts = frame.parts;
    clay_.set("relief_depth", 1.0f);
    // Upper leaves first.
    for (auto id = parts.order.rbegin(); id != parts.order.rend(); ++id) {
        LeafPart const& part = parts.leaves.at(*id);
        KindPart const& kind = parts.kinds.at(part.pattern.get());
        float const lift = frame.is_selected(*id) ? 1.16f : *id == frame.options.hovered ? 1.07f : 1.0f;
        clay_.set("tone", part.tone * lift);
        clay_.set("grain_offset", part.grain_offset);
        clay_.set("relief_frame", kind.relief_frame);
        bind(relief_unit, kind.relief.name());
        part.mesh.draw();
    }
    clay_.set("relief_depth", 0.0f);
}

void Painter::draw_features(Frame const& frame) const {
    for (std::size_t i = 0; i < frame.parts.features.size(); ++i) {
        FeaturePart const& part = frame.parts.features[i];
        bool const selected = static_cast<int>(i) == frame.options.selected_feature;
        clay_.set("tone", selected ? 1.12f : 1.0f);
        clay_.set("grain_offset", glm::vec2(0.13f * static_cast<float>(i), 0.29f));
        clay_.set("relief_depth", part.relief_depth);
        clay_.set("relief_frame", part.relief_frame);
        bind(relief_unit, part.relief_depth > 0 ? part.relief.name() : grain_.name());
        part.mesh.draw();
    }
    clay_.set("relief_depth", 0.0f);
}

void Painter::draw_slab(Frame const& frame) const {
    SlabPart const& slab = frame.parts.slab;
    bool const hatched = frame.options.show_bare && frame.scene.leaves && !map_.shown();
    clay_.set("tone", 0.98f);
    clay_.set("grain_offset", glm::vec2(0.4f, 0.7f));
    clay_.set("hatch", glm::vec4(kInk, hatched ? 0.85f : 0.0f));
    slab.mesh.draw(0, slab.zone_indices);
    clay_.set("hatch", glm::vec4(0));
    std::size_t const end = frame.sees_inside() ? slab.all_indices : slab.outside_indices;
    slab.mesh.draw(slab.zone_indices, end - slab.zone_indices);
}

void Painter::draw_flat_slab(Frame const& frame) const {
    set_place(clay_, 1.0f);
    frame.parts.flat.slab_mesh.draw();
    if (map_.shown()) return;
    ClayLook const look = clay_look(frame.options.stage);
    clay_.set("base", glm::mix(look.base, kPaper, 0.30f));
    frame.parts.flat.lines.band.draw();
    clay_.set("base", look.base);
}

void Painter::draw_former(Frame const& frame) const {
    clay_.set("base", kFormerCloth);
    clay_.set("cavity_colour", kFormerFold);
    clay_.set("sheen", 0.0f);
    clay_.set("tone", 1.0f);
    clay_.set("grain_depth", 0.9f);
    frame.parts.former.mesh.draw();
}

void Painter::draw_ground(Frame const& frame) const {
    RoomLook const room = room_look(frame.options.stage);
    Parts const& parts = frame.parts;
    if (!frame.scene.on_wall) {
        wood_.use();
        wood_.set("view_projection", frame.view);
        wood_.set("key_direction", glm::vec3(frame.key_direction));
        wood_.set("wood_map", 0);
        wood_.set("ground_map", 1);
        wood_.set("ground_half_mm", static_cast<float>(frame.ground_half_mm));
        bind(0, wood_map_.name());
        bind(1, shadows_.ground_map());
        wood_.set("on_ground", 0.0f);
        wood_.set("tint", glm::vec3(0.80f, 0.66f, 0.50f));
        if (rolls(frame)) parts.flat.rolling.draw();
        wood_.set("on_ground", 1.0f);
        wood_.set("tint", glm::vec3(0.94f, 0.92f, 0.90f));
        glEnable(GL_CULL_FACE); // from behind, the board does not hide the piece
        parts.flat.board.draw();
        glDisable(GL_CULL_FACE);
    }
    bench_.use();
    bench_.set("view_projection", frame.view);
    bench_.set("light_side", room.light_side);
    bench_.set("dark_side", room.dark_side);
    Viewport const& port = frame.viewport;
    bench_.set("viewport", glm::vec4(port.x, port.y, 1.0f / static_cast<float>(port.width),
                                     1.0f / static_cast<float>(port.height)));
    bench_.set("board_half_mm", glm::vec2(parts.flat.board_half));
    Vec2 const shift = -18.0 / frame.key_direction.z * Vec2(frame.key_direction);
    bench_.set("board_shift_mm", glm::vec2(shift));
    bench_.set("wall", frame.scene.on_wall ? 1.0f : 0.0f);
    bench_.set("ground_half_mm", static_cast<float>(frame.ground_half_mm));
    bench_.set("eye", glm::vec3(eye_of(frame.camera)));
    bench_.set("ground_map", 0);
    bench_.set("grain_map", 1);
    bind(0, shadows_.ground_map());
    bind(1, grain_.name());
    glEnable(GL_CULL_FACE); // as with the board: from behind they do not hide the piece
    (frame.scene.on_wall ? parts.wall : parts.bench).draw();
    glDisable(GL_CULL_FACE);
}

void Painter::draw_background(Frame const& frame) const {
    RoomLook const room = room_look(frame.options.stage);
    background_.use();
    background_.set("light_side", room.light_side);
    background_.set("dark_side", room.dark_side);
    glBindVertexArray(no_vertices_.name());
    glDrawArrays(GL_TRIANGLES, 0, 3);
}

void Painter::gather_marks(Frame const& frame) {
    LineSet selected, hovered;
    for (int const id : frame.options.selected)
        if (auto const found = frame.parts.leaves.find(id); found != frame.parts.leaves.end())
            selected.add_run(found->second.outline, true);
    if (auto const found = frame.parts.leaves.find(frame.options.hovered);
        found != frame.parts.leaves.end() && !frame.is_selected(frame.options.hovered))
        hovered.add_run(found->second.outline, true);
    auto const index = static_cast<std::size_t>(frame.options.selected_feature);
    if (frame.options.selected_feature >= 0 && index < frame.parts.features.size())
        selected.add_run(frame.parts.features[index].outline, true);
    selected_.update(selected);
    hovered_.update(hovered);
}

void Painter::draw_line(Frame const& frame, GpuLines const& lines, float width, glm::vec4 const& ink, float dash,
                        float share, float towards) const {
    line_.set("width_px", width * frame.options.pixel_scale);
    line_.set("ink", ink);
    line_.set("dash_mm", dash);
    line_.set("dash_share", share);
    line_.set("towards", towards);
    lines.draw();
}

void Painter::draw_cut_lines(Frame const& frame) const {
    CutLines const& lines = frame.parts.flat.lines;
    draw_line(frame, lines.rim, 1.0f, glm::vec4(kInk, 0.55f));
    draw_line(frame, lines.axes, 1.0f, glm::vec4(kInk, 0.35f), 9, 0.6f);
    draw_line(frame, lines.marks, 1.8f, glm::vec4(kInk, 0.85f));
    draw_line(frame, lines.darts, 2.4f, glm::vec4(kInk, 0.95f));
    draw_line(frame, lines.outline, 2.0f, glm::vec4(kInk, 0.9f));
}

void Painter::draw_lines(Frame const& frame) {
    bool const flat_slab = frame.scene.flat_slab;
    if (!frame.plan || (!frame.scene.slab && !flat_slab)) return;
    gather_marks(frame);
    line_.use();
    set_place(line_, frame);
    if (flat_slab) set_place(line_, 1.0f);
    line_.set("view_projection", frame.view);
    line_.set("pixels", glm::vec2(frame.viewport.width, frame.viewport.height));
    glEnable(GL_BLEND);
    glBlendFuncSeparate(GL_SRC_ALPHA, GL_ONE_MINUS_SRC_ALPHA, GL_ONE, GL_ONE_MINUS_SRC_ALPHA);
    glDepthMask(GL_FALSE);
    auto const draw = [&](GpuLines const& lines, float width, glm::vec4 const& ink, float dash, float share,
                          float towards) { draw_line(frame, lines, width, ink, dash, share, towards); };
    if (flat_slab) draw_cut_lines(frame);
    if (frame.options.map_ticks && map_.shown() && !frame.lays()) {
        GpuLines const& ticks = map_.ticks(flat_slab ? MapPaint::On::flat_slab : MapPaint::On::piece);
        draw(ticks, 4.2f, glm::vec4(kPaper, 0.8f), 0, 1, 2e-4f);
        draw(ticks, 2.0f, glm::vec4(kInk, 0.95f), 0, 1, 2.2e-4f);
    }
    bool const marks = frame.scene.leaves;
    if (flat_slab) {
        glDepthMask(GL_TRUE);
        glDisable(GL_BLEND);
        return;
    }
    if (frame.flatness > 0) draw(frame.parts.rim, 1.3f, glm::vec4(kInk, 0.75f * frame.flatness), 0, 1, 2e-4f);
    if (marks && (frame.options.show_rows || frame.flatness > 0)) {
        float const strength = frame.options.show_rows ? 0.8f : 0.55f * frame.flatness;
        draw(frame.parts.rows, 2.6f, glm::vec4(kPaper, 0.45f * strength), 0, 1, 2e-4f);
        draw(frame.parts.rows, 1.0f, glm::vec4(kInk, strength), 0, 1, 2e-4f);
    }
    if (marks) {
        // What lies under other leaves shows through faintly.
        glDepthFunc(GL_GREATER);
        draw(selected_, 1.6f, glm::vec4(kInk, 0.45f), 5, 0.5f, 0);
        glDepthFunc(GL_LEQUAL);
        draw(hovered_, 1.6f, glm::vec4(kInk, 0.8f), 0, 1, 2e-4f);
        draw(selected_, 4.6f, glm::vec4(kInk, 0.95f), 0, 1, 2e-4f);
        draw(selected_, 1.9f, glm::vec4(kPaper, 1.0f), 6, 0.62f, 2.2e-4f);
    }
    glDepthMask(GL_TRUE);
    glDisable(GL_BLEND);
}

} // namespace leafwright
