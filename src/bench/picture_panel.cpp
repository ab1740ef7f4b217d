// The picture in the middle: pointer in, deeds out, and the scene behind it.
#include "bench/panels.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kRest_s = 0.15; // a hand that keeps still for so long gets a fine picture

PointerButton button_of(int index) {
    return index == 0 ? PointerButton::left : (index == 1 ? PointerButton::right : PointerButton::middle);
}

// The spot of the slab's face or the board under the pointer. On the piece by its own ray, which ignores the leaves, so
// that a drag does not jump where one leaf ends and the next begins.
std::optional<Spot> spot_under(Desk const& desk, Hit const& hit, Vec2 const& at_px) {
    UiState const& ui = desk.ui;
    if (!desk.state.plan || !desk.state.plan->outer_face) return std::nullopt;
    if (ui.look == Look::piece && leaves_can_move(ui)) {
        Ray const ray = ray_through(ui.cameras[0], ui.picture, at_px);
        return desk.state.plan->outer_face->hit(ray.from, ray.direction);
    }
    if (auto const* leaf = std::get_if<LeafHit>(&hit)) return leaf->spot;
    if (auto const* feature = std::get_if<FeatureHit>(&hit)) return feature->spot;
    if (auto const* slab = std::get_if<SlabHit>(&hit)) return slab->spot;
    if (auto const* board = std::get_if<BoardHit>(&hit)) return board->spot;
    return std::nullopt;
}

PointerEvent event_now(Desk const& desk, bool over_picture) {
    UiState const& ui = desk.ui;
    ImGuiIO const& io = ImGui::GetIO();
    PointerEvent event;
    event.at_px = {static_cast<double>(io.MousePos.x) - ui.picture.x,
                   static_cast<double>(io.MousePos.y) - ui.picture.y};
    event.shift = io.KeyShift;
    event.ctrl = io.KeyCtrl;
    event.over_picture = over_picture;
    bool const holds = std::holds_alternative<TurningView>(ui.hand) || std::holds_alternative<MovingView>(ui.hand);
    if (!desk.state.plan || holds || (!over_picture && !is_busy(ui.hand))) return event;
    event.hit =
        pick(*desk.state.plan, ui.cameras[ui.look == Look::flat ? 1 : 0], ui.picture, scene_options(desk), event.at_px);
    event.spot = spot_under(desk, event.hit, event.at_px);
    event.handle = handle_under(desk, event.at_px + Vec2(ui.picture.x, ui.picture.y));
    return event;
}

void step(Desk& desk, PointerEvent const& event) {
    std::vector<Deed> deeds;
    desk.ui.hand = after(std::move(desk.ui.hand), event, ground_of(desk), deeds);
    carry_out(desk, deeds);
}

void feed_pointer(Desk& desk, bool over_picture) {
    ImGuiIO const& io = ImGui::GetIO();
    bool const moved = io.MouseDelta.x != 0 || io.MouseDelta.y != 0;
    bool any = moved || io.MouseWheel != 0;
    for (int i = 0; i < 3; ++i) any = any || ImGui::IsMouseClicked(i) || ImGui::IsMouseReleased(i);
    if (!any) return;
    bool const counts = is_busy(desk.ui.hand) || is_carrying(desk.ui) || io.MouseWheel != 0 || ImGui::IsMouseDown(0);
    if (counts && (moved || io.MouseWheel != 0)) desk.ui.moved_s = desk.ui.now_s;
    PointerEvent event = event_now(desk, over_picture);
    desk.ui.under_pointer = event.hit;
    auto const* leaf = std::get_if<LeafHit>(&event.hit);
    desk.ui.hovered = leaf && over_picture && !is_carrying(desk.ui) && !is_busy(desk.ui.hand) ? leaf->id : 0;
    if (moved) step(desk, event);
    for (int i = 0; i < 3; ++i) {
        event.button = button_of(i);
        event.what = PointerEvent::What::press;
        if (ImGui::IsMouseClicked(i) && over_picture) step(desk, event);
        event.what = PointerEvent::What::double_click;
        if (i == 0 && ImGui::IsMouseDoubleClicked(i) && over_picture && std::holds_alternative<Pressed>(desk.ui.hand)) {
            desk.ui.hand = Resting{};
            step(desk, event);
        }
        event.what = PointerEvent::What::release;
        if (ImGui::IsMouseReleased(i)) step(desk, event);
    }
    if (io.MouseWheel == 0 || !over_picture) return;
    event.what = PointerEvent::What::wheel;
    event.wheel = static_cast<double>(io.MouseWheel);
    step(desk, event);
}

void look_buttons(Area const& area, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    float const pad = 0.6F * em;
    char const* const looks[] = {"Piece", "Laid flat"};
    int look = ui.look == Look::flat ? 1 : 0;
    ImGui::SetCursorScreenPos({area.x + pad, area.y + pad});
    float const share = std::min(11 * em, 0.46F * area.width);
    if (segmented(ui, "look", looks, look, share)) intents.emplace_back(SetLook{look == 1 ? Look::flat : Look::piece});
    constexpr struct {
        char const* label;
        Act act;
    } kViews[] = {{"Front", Act::view_front},
                  {"Side", Act::view_side},
                  {"Above", Act::view_above},
                  {"Quarter", Act::view_quarter}};
    char const* const labels[] = {kViews[0].label, kViews[1].label, kViews[2].label, kViews[3].label};
    float const all = 17 * em;
    bool const beside = area.width > share + all + 3 * pad;
    float const width = beside ? all : std::min(all, area.width - 2 * pad);
    ImGui::SetCursorScreenPos({area.x + area.width - pad - width, area.y + pad + (beside ? 0 : 2.6F * em)});
    int chosen = -1;
    if (segmented(ui, "views", labels, chosen, width)) intents.emplace_back(DoAct{kViews[chosen].act});
}

bool is_moving(UiState const& ui) { return ui.look_change || ui.now_s - ui.moved_s < kRest_s; }

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
    ImGui::Image(reinterpret_cast<ImTextureID>(static_cast<std::uintptr_t>(pane.texture())), {area.width, area.height},
                 {0, 1}, {1, 0}, tint);
}

} // namespace

void picture_panel(Area const& area, Desk& desk, PicturePane& pane, Intents& intents) {
    UiState& ui = desk.ui;
    ui.picture = {static_cast<int>(area.x), static_cast<int>(area.y), std::max(1, static_cast<int>(area.width)),
                  std::max(1, static_cast<int>(area.height))};
    refresh_cameras(desk);
    begin_area("picture", area, paint::paper, false, 0);
    ui.marks["picture"] = {area.x, area.y, area.x + area.width, area.y + area.height};
    bool const over =
        ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem) && !ImGui::IsAnyItemHovered();
    feed_pointer(desk, over);
    refresh_plan(desk);
    refresh_cameras(desk); // the first plan tells how large the piece is
    draw_picture(area, desk, pane);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw_overlay(desk, draw);
    look_buttons(area, ui, intents);
    ImGui::End();
}

} // namespace leafwright
