// What is drawn over the picture: handles of the chosen leaf, the leaf in hand, the box, names.
#include "bench/panels.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kHandleBeyond = 0.17; // of the leaf's length, past its tip
constexpr double kHandleLift_mm = 4;

// Points of a leaf's own drawing, on the screen.
std::vector<ImVec2> leaf_on_screen(Desk const& desk, LeafPlacement const& leaf, std::span<Vec2 const> drawing_mm) {
    Plan const& plan = *desk.state.plan;
    LeafPattern const* const pattern = plan.pattern_of(leaf);
    std::vector<ImVec2> points;
    if (!pattern) return points;
    for (LaidPoint const& laid : lay_points(*plan.outer_face, *pattern, leaf, drawing_mm)) {
        auto const at = on_screen(desk, plan.outer_face->from_chart(laid.chart), kHandleLift_mm);
        if (!at) return {};
        points.emplace_back(static_cast<float>(at->x), static_cast<float>(at->y));
    }
    return points;
}

// The one chosen leaf, as it is shown.
LeafPlacement const* chosen_leaf(Desk const& desk) {
    UiState const& ui = desk.ui;
    if (ui.selected.size() != 1 || !leaves_can_move(ui) || !desk.state.plan || ui.look_change || is_carrying(ui))
        return nullptr;
    return leaf_of(desk.state.history.shown(), ui.selected.front());
}

// The one chosen feature, as it is shown.
Feature const* chosen_feature(Desk const& desk) {
    UiState const& ui = desk.ui;
    bool const there = ui.stage == MakingStage::features && ui.selected.empty() && ui.selected_feature >= 0;
    if (!there || !desk.state.plan || ui.look_change || is_carrying(ui)) return nullptr;
    auto const& features = desk.state.history.shown().features;
    auto const index = static_cast<std::size_t>(ui.selected_feature);
    return index < features.size() ? &features[index] : nullptr;
}

struct HandlePlaces {
    ImVec2 tip;
    ImVec2 turn;
    ImVec2 size;
};

std::optional<HandlePlaces> feature_handle_places(Desk const& desk, Feature const& feature) {
    ClaySurface const& face = *desk.state.plan->outer_face;
    Box2 const box = bounds(feature_footprint(feature));
    double const beyond = std::max(12.0, kHandleBeyond * feature.height_mm);
    Vec2 const local[] = {{0, box.high.y}, {0, box.high.y + beyond}, {box.high.x + 0.5 * beyond, 0}};
    std::vector<ImVec2> points;
    for (LaidPoint const& laid : lay_feature_points(face, feature, local)) {
        auto const at = on_screen(desk, face.from_chart(laid.chart), kHandleLift_mm);
        if (!at) return std::nullopt;
        points.emplace_back(static_cast<float>(at->x), static_cast<float>(at->y));
    }
    return HandlePlaces{points[0], points[1], points[2]};
}

std::optional<HandlePlaces> handle_places(Desk const& desk) {
    if (Feature const* const feature = chosen_feature(desk)) return feature_handle_places(desk, *feature);
    LeafPlacement const* const leaf = chosen_leaf(desk);
    if (!leaf) return std::nullopt;
    LeafPattern const* const pattern = desk.state.plan->pattern_of(*leaf);
    if (!pattern) return std::nullopt;
    double const length = pattern->shape.length_mm;
    double const beyond = std::max(kHandleBeyond * length, 12.0 / leaf->scale);
    Vec2 const drawing[] = {
        {0, length}, {0, length + beyond}, {0.5 * pattern->shape.width_mm + 0.5 * beyond, 0.5 * length}};
    auto const points = leaf_on_screen(desk, *leaf, drawing);
    if (points.size() != 3) return std::nullopt;
    return HandlePlaces{points[0], points[1], points[2]};
}

double distance(ImVec2 const& a, Vec2 const& b) {
    return std::hypot(static_cast<double>(a.x) - b.x, static_cast<double>(a.y) - b.y);
}

void draw_handles(UiState& ui, ImDrawList& draw, HandlePlaces const& places) {
    float const em = ui.theme.em;
    float const r = 0.62F * em;
    draw.AddLine(places.tip, places.turn, paint::leaf_dark, 0.1F * em);
    draw.AddCircleFilled(places.turn, r, paint::card);
    draw.AddCircle(places.turn, r, paint::leaf_dark, 0, 0.12F * em);
    draw.PathArcTo(places.turn, 0.32F * em, -2.4F, 1.6F, 16);
    draw.PathStroke(paint::leaf_dark, 0, 0.11F * em);
    ImVec2 const head{places.turn.x - 0.01F * em, places.turn.y + 0.32F * em};
    draw.AddTriangleFilled({head.x - 0.2F * em, head.y}, {head.x + 0.06F * em, head.y - 0.17F * em},
                           {head.x + 0.06F * em, head.y + 0.17F * em}, paint::leaf_dark);
    float const s = 0.52F * em;
    ImVec2 const c = places.size;
    draw.AddRectFilled({c.x - s, c.y - s}, {c.x + s, c.y + s}, paint::card, 0.15F * em);
    draw.AddRect({c.x - s, c.y - s}, {c.x + s, c.y + s}, paint::leaf_dark, 0.15F * em, 0, 0.12F * em);
    draw.AddLine({c.x - 0.22F * em, c.y + 0.22F * em}, {c.x + 0.22F * em, c.y - 0.22F * em}, paint::leaf_dark,
                 0.11F * em);
    draw.AddTriangleFilled({c.x + 0.32F * em, c.y - 0.32F * em}, {c.x + 0.02F * em, c.y - 0.28F * em},
                           {c.x + 0.28F * em, c.y - 0.02F * em}, paint::leaf_dark);
    draw.AddTriangleFilled({c.x - 0.32F * em, c.y + 0.32F * em}, {c.x - 0.02F * em, c.y + 0.28F * em},
                           {c.x - 0.28F * em, c.y + 0.02F * em}, paint::leaf_dark);
    ui.marks["handle.turn"] = {places.turn.x - r, places.turn.y - r, places.turn.x + r, places.turn.y + r};
    ui.marks["handle.size"] = {c.x - s, c.y - s, c.x + s, c.y + s};
}

// The outline of the leaf in hand: seen at once, also while its figures are still being worked out.
void draw_in_hand(Desk const& desk, ImDrawList& draw) {
    auto const* carrying = std::get_if<Carrying>(&desk.ui.hand);
    if (!carrying || !desk.state.plan) return;
    if (desk.state.history.shown() == desk.state.history.now()) return;
    LeafPattern const* const pattern = desk.state.plan->pattern_of(carrying->leaf);
    if (!pattern) return;
    auto const points = leaf_on_screen(desk, carrying->leaf, pattern->shape.outline_mm.outer);
    float const width = 0.14F * desk.ui.theme.em;
    draw.AddPolyline(points.data(), static_cast<int>(points.size()), paint::card, ImDrawFlags_Closed, 2.2F * width);
    draw.AddPolyline(points.data(), static_cast<int>(points.size()), paint::leaf_dark, ImDrawFlags_Closed, width);
}

// Where the picture is too slow to follow the pointer, the leaf under it is marked here.
void draw_hovered(Desk const& desk, ImDrawList& draw) {
    UiState const& ui = desk.ui;
    if (!ui.slow_picture || ui.hovered == 0 || !leaves_can_move(ui) || ui.look_change || !desk.state.plan) return;
    LeafPlacement const* const leaf = leaf_of(desk.state.plan->piece, ui.hovered);
    LeafPattern const* const pattern = leaf ? desk.state.plan->pattern_of(*leaf) : nullptr;
    if (!pattern) return;
    auto const points = leaf_on_screen(desk, *leaf, pattern->shape.outline_mm.outer);
    draw.AddPolyline(points.data(), static_cast<int>(points.size()), faded(paint::card, 0.8F), ImDrawFlags_Closed,
                     0.12F * ui.theme.em);
}

// The chosen leaves' outlines, through whatever lies on them. While one is moved its outline tells how it laps.
void draw_chosen_leaves(Desk const& desk, ImDrawList& draw) {
    constexpr std::size_t kMostDrawn = 40;
    UiState const& ui = desk.ui;
    if (ui.selected.empty() || ui.selected.size() > kMostDrawn || is_busy(ui.hand) || !leaves_can_move(ui) ||
        ui.look_change || !desk.state.plan)
        return;
    float const width = 0.1F * ui.theme.em;
    for (LeafPlacement const& leaf : leaves_of(desk.state.history.shown(), ui.selected)) {
        LeafPattern const* const pattern = desk.state.plan->pattern_of(leaf);
        if (!pattern) continue;
        auto const points = leaf_on_screen(desk, leaf, pattern->shape.outline_mm.outer);
        int const count = static_cast<int>(points.size());
        draw.AddPolyline(points.data(), count, faded(paint::card, 0.9F), ImDrawFlags_Closed, 2.6F * width);
        draw.AddPolyline(points.data(), count, paint::leaf_dark, ImDrawFlags_Closed, width);
    }
}

// The chosen feature's footprint, over what lies on it.
void draw_chosen_feature(Desk const& desk, ImDrawList& draw) {
    UiState const& ui = desk.ui;
    auto const index = static_cast<std::size_t>(ui.selected_feature);
    if (ui.selected_feature < 0 || ui.stage != MakingStage::features || ui.look_change || !desk.state.plan) return;
    if (index >= desk.state.plan->features.size()) return;
    std::vector<ImVec2> points;
    for (Vec2 const& p : desk.state.plan->features[index].chart) {
        auto const at = on_screen(desk, desk.state.plan->outer_face->from_chart(p), 1);
        if (!at) return;
        points.emplace_back(static_cast<float>(at->x), static_cast<float>(at->y));
    }
    float const width = 0.12F * ui.theme.em;
    int const count = static_cast<int>(points.size());
    draw.AddPolyline(points.data(), count, paint::card, ImDrawFlags_Closed, 2.4F * width);
    draw.AddPolyline(points.data(), count, paint::leaf_dark, ImDrawFlags_Closed, width);
}

void draw_box(UiState const& ui, ImDrawList& draw) {
    auto const* box = std::get_if<DrawingBox>(&ui.hand);
    if (!box) return;
    auto const corner = [&](Vec2 const& p) {
        return ImVec2(static_cast<float>(p.x + ui.picture.x), static_cast<float>(p.y + ui.picture.y));
    };
    Vec2 const low = glm::min(box->from_px, box->to_px);
    Vec2 const high = glm::max(box->from_px, box->to_px);
    draw.AddRectFilled(corner(low), corner(high), faded(paint::leaf, 0.15F));
    draw.AddRect(corner(low), corner(high), paint::leaf_dark, 0, 0, 0.1F * ui.theme.em);
}

} // namespace

HandleKind handle_under(Desk const& desk, Vec2 const& at_window) {
    auto const places = handle_places(desk);
    if (!places) return HandleKind::none;
    double const reach = 0.85 * static_cast<double>(desk.ui.theme.em);
    if (distance(places->turn, at_window) < reach) return HandleKind::turn;
    if (distance(places->size, at_window) < reach) return HandleKind::size;
    return HandleKind::none;
}

void draw_overlay(Desk& desk, ImDrawList& draw) {
    UiState& ui = desk.ui;
    auto const corner = ImVec2(static_cast<float>(ui.picture.x), static_cast<float>(ui.picture.y));
    draw.PushClipRect(
        corner, {corner.x + static_cast<float>(ui.picture.width), corner.y + static_cast<float>(ui.picture.height)});
    ui.marks.erase("handle.turn");
    ui.marks.erase("handle.size");
    draw_chosen_leaves(desk, draw);
    if (auto const places = handle_places(desk)) draw_handles(ui, draw, *places);
    draw_row_guides(desk, draw);
    draw_hovered(desk, draw);
    draw_in_hand(desk, draw);
    draw_chosen_feature(desk, draw);
    draw_box(ui, draw);
    draw.PopClipRect();
}

} // namespace leafwright
