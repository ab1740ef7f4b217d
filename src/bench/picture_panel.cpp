// The picture in the middle: pointer in, deeds out, and the scene behind it.
#include "bench/cutting_view.h"
#include "bench/slab_panel.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kRest_s = 0.15; // a hand that keeps still for so long gets a fine picture

// The spot of the slab's face or the board under the pointer. On the piece by its own ray, which ignores the leaves, so
// that a drag does not jump where one leaf ends and the next begins.
std::optional<Spot> spot_under(Desk const& desk, Hit const& hit, Vec2 const& at_px) {
    UiState const& ui = desk.ui;
    if (!desk.state.plan || !desk.state.plan->outer_face) return std::nullopt;
    if (ui.look == Look::piece && leaves_can_move(ui)) {
        Ray const ray = ray_through(ui.cameras[0], ui.picture, at_px);
        if (auto const spot = desk.state.plan->outer_face->hit(ray.from, ray.direction)) return spot;
    }
    if (auto const* leaf = std::get_if<LeafHit>(&hit)) return leaf->spot;
    if (auto const* feature = std::get_if<FeatureHit>(&hit)) return feature->spot;
    if (auto const* slab = std::get_if<SlabHit>(&hit)) return slab->spot;
    if (auto const* board = std::get_if<BoardHit>(&hit)) return board->spot;
    return std::nullopt;
}

bool is_inside(UiState const& ui, char const* name, Vec2 const& at) {
    auto const found = ui.covers.find(name);
    if (found == ui.covers.end()) return false;
    ScreenBox const& box = found->second;
    return at.x >= static_cast<double>(box.x0) && at.x < static_cast<double>(box.x1) &&
           at.y >= static_cast<double>(box.y0) && at.y < static_cast<double>(box.y1);
}

// On the picture itself, and on nothing that lies over it.
bool is_over_picture(UiState const& ui, Vec2 const& at) {
    Viewport const& p = ui.picture;
    bool const inside = at.x >= p.x && at.y >= p.y && at.x < p.x + p.width && at.y < p.y + p.height;
    bool const popup = ImGui::IsPopupOpen(nullptr, ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
    return inside && !popup && !asks_something(ui) && !is_inside(ui, "look", at) && !is_inside(ui, "views", at) &&
           !is_inside(ui, "message", at);
}

PointerEvent event_of(Desk const& desk, PointerRecord const& record) {
    UiState const& ui = desk.ui;
    PointerEvent event;
    event.what = record.what;
    event.button = record.button;
    event.at_px = record.at - Vec2(ui.picture.x, ui.picture.y);
    event.wheel = record.wheel;
    event.shift = record.shift;
    event.ctrl = record.ctrl;
    event.over_picture = is_over_picture(ui, record.at);
    bool const holds = std::holds_alternative<TurningView>(ui.hand) || std::holds_alternative<MovingView>(ui.hand);
    if (!desk.state.plan || holds || (!event.over_picture && !is_busy(ui.hand))) return event;
    event.hit =
        pick(*desk.state.plan, ui.cameras[ui.look == Look::flat ? 1 : 0], ui.picture, scene_options(desk), event.at_px);
    event.spot = spot_under(desk, event.hit, event.at_px);
    event.handle = handle_under(desk, record.at);
    return event;
}

bool is_placing(Hand const& hand) {
    auto const* dragging = std::get_if<DraggingLeaves>(&hand);
    return std::holds_alternative<Carrying>(hand) || (dragging && dragging->start.size() == 1);
}

void step(Desk& desk, PointerEvent const& event) {
    std::vector<Deed> deeds;
    bool const placed = is_placing(desk.ui.hand);
    desk.ui.hand = after(std::move(desk.ui.hand), event, ground_of(desk), deeds);
    desk.ui.placing = placed || is_placing(desk.ui.hand); // what is laid down now was in hand just before
    desk.ui.off_rows = event.ctrl;
    if (event.what == PointerEvent::What::move) desk.ui.snapped_row = 0;
    carry_out(desk, deeds);
    desk.ui.placing = is_placing(desk.ui.hand);
    if (!desk.ui.placing) desk.ui.snapped_row = 0;
}

void feed(Desk& desk, PointerRecord const& record) {
    using What = PointerEvent::What;
    UiState& ui = desk.ui;
    PointerEvent const event = event_of(desk, record);
    ui.under_pointer = event.hit;
    auto const* leaf = std::get_if<LeafHit>(&event.hit);
    ui.hovered = leaf && event.over_picture && !is_carrying(ui) && !is_busy(ui.hand) ? leaf->id : 0;
    bool const moves = record.what == What::move || record.what == What::wheel;
    if (moves && (is_busy(ui.hand) || is_carrying(ui) || record.what == What::wheel)) ui.moved_s = ui.now_s;
    step(desk, event);
}

void feed_pointer(Desk& desk, std::span<PointerRecord const> records) {
    for (PointerRecord const& record : records) feed(desk, record);
    // The button that took a leaf from the tray may have come up before the leaf was in hand.
    auto* carrying = std::get_if<Carrying>(&desk.ui.hand);
    if (carrying && carrying->held && !ImGui::IsMouseDown(0)) carrying->held = false;
}

// Remembers that the last item lies over the picture.
void cover(UiState& ui, char const* name) {
    mark(ui, name);
    ui.covers[name] = ui.marks[name];
}

void look_buttons(Area const& area, UiState& ui, Intents& intents) {
    ui.covers.erase("look");
    ui.covers.erase("views");
    if (ui.compact) return;
    float const em = ui.theme.em;
    float const pad = 0.6F * em;
    ImGui::SetCursorScreenPos({area.x + pad, area.y + pad});
    look_choice(ui, intents, 17 * em);
    cover(ui, "look");
    if (ui.look == Look::cutting) return; // sheets lie flat
    float const width = 17 * em;
    bool const beside = area.width > 34 * em + 3 * pad;
    ImGui::SetCursorScreenPos({area.x + area.width - pad - width, area.y + pad + (beside ? 0 : 2.6F * em)});
    view_choice(ui, intents, width);
    cover(ui, "views");
}

bool is_moving(UiState const& ui) {
    return ui.look_change || ui.laying_over.start_s || ui.now_s - ui.moved_s < kRest_s;
}

void draw_picture(Area const& area, Desk& desk, PicturePane& pane) {
    UiState const& ui = desk.ui;
    PicturePane::Wish wish;
    wish.plan = desk.state.plan;
    wish.camera = ui.cameras[ui.look == Look::flat ? 1 : 0];
    wish.options = scene_options(desk);
    if (ui.slow_picture) wish.options.hovered = 0; // drawn over the picture instead
    wish.width_px = static_cast<int>(area.width * ui.pixel_ratio);
    wish.height_px = static_cast<int>(area.height * ui.pixel_ratio);
    wish.moving = is_moving(ui);
    pane.draw(wish);
    desk.ui.slow_picture = pane.is_slow();
    if (!pane.texture()) return;
    ImVec4 const tint = desk.state.plan_is_old ? ImVec4(1, 1, 1, 0.75F) : ImVec4(1, 1, 1, 1);
    ImGui::Image(texture_id(pane.texture()), {area.width, area.height}, {0, 1}, {1, 0}, tint);
}

} // namespace

void look_choice(UiState& ui, Intents& intents, float width) {
    constexpr Look kLooks[] = {Look::piece, Look::flat, Look::cutting};
    char const* const labels[] = {"Piece", "Laid flat", "Cutting sheets"};
    int look = static_cast<int>(std::ranges::find(kLooks, ui.look) - kLooks);
    if (segmented(ui, "look", labels, look, width)) intents.emplace_back(SetLook{kLooks[look]});
}

void view_choice(UiState& ui, Intents& intents, float width) {
    constexpr Act kViews[] = {Act::view_front, Act::view_side, Act::view_above, Act::view_quarter};
    char const* const labels[] = {"Front", "Side", "Above", "Quarter"};
    int chosen = -1;
    if (segmented(ui, "views", labels, chosen, width)) intents.emplace_back(DoAct{kViews[chosen]});
}

void picture_panel(Area const& area, Desk& desk, PicturePane& pane, std::span<PointerRecord const> records,
                   Intents& intents) {
    UiState& ui = desk.ui;
    ui.picture = {static_cast<int>(area.x), static_cast<int>(area.y), std::max(1, static_cast<int>(area.width)),
                  std::max(1, static_cast<int>(area.height))};
    refresh_cameras(desk);
    begin_area("picture", area, paint::paper, false, 0);
    ui.marks["picture"] = {area.x, area.y, area.x + area.width, area.y + area.height};
    if (ImGui::IsMouseDown(0) && (ImGui::GetIO().MouseDelta.x != 0 || ImGui::GetIO().MouseDelta.y != 0))
        ui.moved_s = ui.now_s;
    bool const sheets = ui.look == Look::cutting;
    if (sheets)
        for (PointerRecord const& record : records) feed_cutting(desk, record, is_over_picture(ui, record.at));
    else
        feed_pointer(desk, records);
    refresh_plan(desk);
    refresh_second(desk);
    refresh_day(desk);
    refresh_cameras(desk); // the first plan tells how large the piece is
    refresh_map(desk);
    refresh_laying(ui);
    if (sheets) {
        cutting_page(area, desk);
    } else {
        draw_picture(area, desk, pane);
        ImDrawList& draw = *ImGui::GetWindowDrawList();
        draw_overlay(desk, draw);
        draw_slab_measures(desk, draw);
        draw_map_scale(desk, draw);
    }
    look_buttons(area, ui, intents);
    ImGui::End();
}

} // namespace leafwright
