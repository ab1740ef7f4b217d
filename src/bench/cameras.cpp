// Home views, the change between the piece and the flat slab, and where things fall on the screen.
#include "bench/desk.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kLookChange_s = 0.35;
constexpr double kRoomAround_mm = 34; // for leaves that overhang

double aspect_of(UiState const& ui) {
    return static_cast<double>(std::max(1, ui.picture.width)) / std::max(1, ui.picture.height);
}

// Width and height of the slab in the chart.
Vec2 flat_size(Plan const& plan) {
    if (!plan.zone.rim) return {500, 500};
    Box2 const box = bounds(*plan.zone.rim);
    return box.size() + Vec2(2 * kRoomAround_mm);
}

Camera home_of(UiState const& ui, Plan const& plan, Look look, HomeView view) {
    if (look == Look::flat) {
        Vec2 const size = flat_size(plan);
        return home_camera(HomeView::front, size.x, size.y, 10, aspect_of(ui));
    }
    Vec3 size{400, 500, 120};
    if (!plan.stages.empty()) size = {plan.stages[0].width_mm, plan.stages[0].height_mm, plan.stages[0].depth_mm};
    return home_camera(view, size.x + kRoomAround_mm, size.y + kRoomAround_mm, size.z, aspect_of(ui));
}

// At first the piece is seen from the front, turned just enough to tell its depth.
Camera first_view(UiState const& ui, Plan const& plan, Look look) {
    Camera const front = home_of(ui, plan, look, HomeView::front);
    return look == Look::flat ? front : turned(front, 12, -14);
}

double smooth(double t) { return t * t * (3 - 2 * t); }

} // namespace

SceneOptions scene_options(Desk const& desk) {
    UiState const& ui = desk.ui;
    SceneOptions options;
    options.stage = ui.stage;
    options.look = ui.look;
    if (leaves_can_move(ui)) {
        options.selected = ui.selected;
        options.hovered = ui.hovered;
        options.selected_feature = ui.selected_feature;
    }
    options.show_rows = leaves_can_move(ui) && (ui.show_row_lines || ui.placing);
    options.pixel_scale = ui.pixel_ratio * ui.theme.em / kTextHeight;
    options.map = ui.map;
    if (ui.look == Look::piece && ui.laying_over.laid < 1) options.laid = ui.laying_over.laid;
    if (auto const shown = ui.maps.find(ui.stage); shown != ui.maps.end()) options.map_ticks = shown->second.ticks;
    if (ui.stage == MakingStage::dry) options.map = ui.after.map;
    if (ui.look_change) {
        double const share = std::clamp((ui.now_s - ui.look_change->start_s) / kLookChange_s, 0.0, 1.0);
        options.flatness = ui.look_change->from + (ui.look_change->to - ui.look_change->from) * smooth(share);
    }
    return options;
}

std::optional<Vec2> on_screen(Desk const& desk, Spot const& spot, double above_mm) {
    UiState const& ui = desk.ui;
    if (!desk.state.plan) return std::nullopt;
    Plan const& plan = *desk.state.plan;
    double height = above_mm;
    if (plan.stack) height += plan.stack->height.at(plan.outer_face->to_chart(spot));
    Vec3 const point = scene_point(plan, scene_options(desk), spot, height);
    auto const at = project(ui.cameras[ui.look == Look::flat ? 1 : 0], ui.picture, point);
    if (!at) return std::nullopt;
    return *at + Vec2(ui.picture.x, ui.picture.y);
}

std::optional<Vec2> middle_on_screen(Desk const& desk, LeafPlacement const& leaf) {
    return on_screen(desk, spot_of(leaf), 0);
}

void look_from(Desk& desk, HomeView view) {
    if (!desk.state.plan) return;
    if (desk.ui.look == Look::flat) set_look(desk, Look::piece);
    camera_of(desk.ui) = home_of(desk.ui, *desk.state.plan, desk.ui.look, view);
}

void look_home(Desk& desk) {
    if (!desk.state.plan) return;
    camera_of(desk.ui) = first_view(desk.ui, *desk.state.plan, desk.ui.look);
}

void set_look(Desk& desk, Look look) {
    UiState& ui = desk.ui;
    if (ui.look == look) return;
    ui.look_change = LookChange{ui.look == Look::flat ? 1.0 : 0.0, look == Look::flat ? 1.0 : 0.0, ui.now_s};
    ui.look = look;
    ui.hovered = 0;
}

bool refresh_cameras(Desk& desk) {
    UiState& ui = desk.ui;
    std::size_t const which = ui.look == Look::flat ? 1 : 0;
    if (!ui.camera_set[which] && desk.state.plan && ui.picture.width > 1) {
        ui.cameras[which] = first_view(ui, *desk.state.plan, ui.look);
        ui.camera_set[which] = true;
    }
    if (ui.look_change && ui.now_s - ui.look_change->start_s >= kLookChange_s) ui.look_change.reset();
    return ui.look_change.has_value();
}

} // namespace leafwright
