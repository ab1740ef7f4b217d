// Guides over the picture while leaves are laid: pins, bare spots, the lap of the leaf in hand.
#include "bench/panels.h"

#include "piece/lap_verdict.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr std::size_t kMostMarked = 12;

ImVec2 at_window(Vec2 const& p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

// Whether the clay there looks towards the eye.
bool faces_eye(Desk const& desk, Spot const& spot) {
    UiState const& ui = desk.ui;
    if (ui.look == Look::flat) return true;
    LaidPoint const at = desk.state.plan->outer_face->at(spot);
    auto const screen = on_screen(desk, spot, 0);
    if (!screen) return false;
    Ray const ray = ray_through(ui.cameras[0], ui.picture, *screen - Vec2(ui.picture.x, ui.picture.y));
    return glm::dot(ray.direction, at.normal) < 0;
}

std::vector<ImVec2> ring_on_screen(Desk const& desk, Ring const& chart) {
    std::vector<ImVec2> points;
    for (Vec2 const& p : chart) {
        auto const at = on_screen(desk, desk.state.plan->outer_face->from_chart(p), 0.5);
        if (!at) return {};
        points.push_back(at_window(*at));
    }
    return points;
}

// A line of dashes, light on dark, so that it shows on any ground.
void draw_dashes(ImDrawList& draw, std::span<ImVec2 const> points, float dash, float width) {
    float along = 0;
    for (std::size_t i = 0; i < points.size(); ++i) {
        ImVec2 const a = points[i];
        ImVec2 const b = points[(i + 1) % points.size()];
        float const length = std::hypot(b.x - a.x, b.y - a.y);
        for (float t = 0; t < length;) {
            float const phase = std::fmod(along + t, 2 * dash);
            float const step = std::min(length - t, (phase < dash ? dash : 2 * dash) - phase + 0.01F);
            auto const on = [&](float s) {
                return ImVec2(a.x + (b.x - a.x) * s / length, a.y + (b.y - a.y) * s / length);
            };
            if (phase < dash) {
                draw.AddLine(on(t), on(t + step), paint::ink, 2.2F * width);
                draw.AddLine(on(t), on(t + step), paint::card, width);
            }
            t += step;
        }
        along += length;
    }
}

void draw_label(UiState const& ui, ImDrawList& draw, ImVec2 at, std::string const& words) {
    float const em = ui.theme.em;
    ImVec2 const size = text_size(ui.theme.strong, words);
    at.x = std::min(at.x, static_cast<float>(ui.picture.x + ui.picture.width) - size.x - em);
    ImVec2 const low{at.x, at.y - 0.5F * size.y - 0.2F * em};
    ImVec2 const high{at.x + size.x + 0.8F * em, at.y + 0.5F * size.y + 0.2F * em};
    draw.AddRectFilled(low, high, paint::card, 0.3F * em);
    draw.AddRect(low, high, paint::ink, 0.3F * em, 0, 0.08F * em);
    draw.AddText(ui.theme.strong, em, {at.x + 0.4F * em, at.y - 0.5F * size.y}, paint::ink, words.c_str());
}

void draw_bare_spots(Desk const& desk, ImDrawList& draw) {
    UiState const& ui = desk.ui;
    Plan const& plan = *desk.state.plan;
    if (plan.laid.empty()) return;
    float const em = ui.theme.em;
    std::vector<ImVec2> labels;
    std::size_t const count = std::min(kMostMarked, plan.leaves.bare_spots.size());
    for (std::size_t k = 0; k < count; ++k) {
        BareSpot const& spot = plan.leaves.bare_spots[k];
        if (!faces_eye(desk, spot.at)) continue;
        auto const middle = on_screen(desk, spot.at, 0.5);
        if (!middle) continue;
        ImVec2 const at = at_window(*middle);
        std::vector<ImVec2> ring = ring_on_screen(desk, spot.ring);
        float reach = 0;
        for (ImVec2 const& p : ring) reach = std::max(reach, std::hypot(p.x - at.x, p.y - at.y));
        // A small one is ringed, so that it is found; a large one is drawn along its edge.
        if (reach < 0.8F * em) {
            reach = 0.8F * em;
            ring.clear();
            for (int i = 0; i < 24; ++i) {
                float const turn = 6.2831853F * static_cast<float>(i) / 24;
                ring.push_back({at.x + reach * std::cos(turn), at.y + reach * std::sin(turn)});
            }
        }
        draw_dashes(draw, ring, 0.35F * em, 0.12F * em);
        // Labels that would lie on an earlier one are set beneath it.
        ImVec2 label{at.x + std::min(reach, 2 * em) + 0.3F * em, at.y};
        for (ImVec2 const& taken : labels)
            if (std::abs(taken.x - label.x) < 9 * em && std::abs(taken.y - label.y) < 1.6F * em)
                label.y = taken.y + 1.7F * em;
        labels.push_back(label);
        draw_label(ui, draw, label,
                   fmt::format("{}  bare {}", k + 1,
                               quantity_text(std::max(1.0, spot.area_mm2), Quantity::area, ui.settings.units)));
    }
}

void draw_pin(UiState const& ui, ImDrawList& draw, ImVec2 at) {
    float const em = ui.theme.em;
    ImVec2 const head{at.x + 0.22F * em, at.y - 0.5F * em};
    draw.AddLine(at, head, paint::card, 0.26F * em);
    draw.AddLine(at, head, paint::ink, 0.12F * em);
    draw.AddCircleFilled(head, 0.26F * em, paint::card);
    draw.AddCircleFilled(head, 0.19F * em, paint::ink);
}

void draw_pins(Desk const& desk, ImDrawList& draw) {
    for (LeafPlacement const& leaf : desk.state.plan->piece.leaves) {
        if (!leaf.pinned || !faces_eye(desk, spot_of(leaf))) continue;
        if (auto const at = middle_on_screen(desk, leaf)) draw_pin(desk.ui, draw, at_window(*at));
    }
}

// The leaf that the hand moves, if it is one.
int leaf_in_hand(Desk const& desk) {
    Hand const& hand = desk.ui.hand;
    if (auto const* carrying = std::get_if<Carrying>(&hand)) {
        if (desk.state.history.shown() == desk.state.history.now()) return 0; // beside the picture
        return carrying->lifted ? carrying->leaf.id : next_leaf_id(desk.state.history.now());
    }
    if (auto const* dragging = std::get_if<DraggingLeaves>(&hand))
        return dragging->start.size() == 1 ? dragging->start.front().id : 0;
    if (auto const* turning = std::get_if<TurningLeaf>(&hand)) return turning->start.id;
    if (auto const* sizing = std::get_if<SizingLeaf>(&hand)) return sizing->start.id;
    return 0;
}

// Its outline: dashes for too little lap, a double line for too much, a plain one when it laps well.
void draw_verdict_line(Desk const& desk, ImDrawList& draw, int id, LapVerdict verdict) {
    Plan const& plan = *desk.state.plan;
    auto const found = std::ranges::find(plan.laid, id, [](auto const& leaf) { return leaf->placement.id; });
    if (found == plan.laid.end()) return;
    std::vector<ImVec2> const points = ring_on_screen(desk, (*found)->chart.outer);
    int const count = static_cast<int>(points.size());
    if (count == 0) return;
    float const em = desk.ui.theme.em;
    if (verdict == LapVerdict::too_little || verdict == LapVerdict::alone)
        return draw_dashes(draw, points, 0.5F * em, 0.14F * em);
    bool const twice = verdict == LapVerdict::too_much;
    draw.AddPolyline(points.data(), count, paint::ink, ImDrawFlags_Closed, (twice ? 0.5F : 0.3F) * em);
    draw.AddPolyline(points.data(), count, paint::card, ImDrawFlags_Closed, (twice ? 0.32F : 0.13F) * em);
    if (twice) draw.AddPolyline(points.data(), count, paint::ink, ImDrawFlags_Closed, 0.12F * em);
}

void draw_lap_in_hand(Desk const& desk, ImDrawList& draw) {
    int const id = leaf_in_hand(desk);
    Plan const& plan = *desk.state.plan;
    OverlapOfLeaf const* const figures = id != 0 ? plan.overlap_of(id) : nullptr;
    if (figures == nullptr) return;
    LapVerdict const verdict = lap_verdict(plan, id);
    draw_verdict_line(desk, draw, id, verdict);
    ImVec2 const pointer = ImGui::GetIO().MousePos;
    float const em = desk.ui.theme.em;
    std::string const lap = quantity_text(figures->lap, Quantity::share, desk.ui.settings.units);
    // Both lines stay within the picture, above its lower edge.
    float const room = (desk.ui.snapped_row > 0 ? 2.7F : 1.0F) * em;
    ImVec2 const at{
        pointer.x + 1.4F * em,
        std::min(pointer.y + 1.6F * em, static_cast<float>(desk.ui.picture.y + desk.ui.picture.height) - room)};
    draw_label(desk.ui, draw, at, fmt::format("Lap {}: {}", lap, verdict_words(verdict)));
    if (desk.ui.snapped_row > 0)
        draw_label(desk.ui, draw, {at.x, at.y + 1.7F * em}, fmt::format("on row {}; Ctrl: free", desk.ui.snapped_row));
}

} // namespace

void draw_row_guides(Desk& desk, ImDrawList& draw) {
    UiState const& ui = desk.ui;
    if (!leaves_can_move(ui) || ui.look_change || !desk.state.plan) return;
    draw_pins(desk, draw);
    draw_bare_spots(desk, draw);
    draw_lap_in_hand(desk, draw);
}

} // namespace leafwright
