#include "bench/report.h"

#include "bench/cutting_view.h"

#include <nlohmann/json.hpp>

#include <cmath>

namespace leafwright {
namespace {

using Json = nlohmann::ordered_json;

Json figures_json(Plan const& plan) {
    Json json;
    json["leaves"] = plan.leaves.count;
    json["rows"] = plan.leaves.rows;
    json["knead_g"] = plan.clay.knead_g.value;
    json["leaves_g"] = plan.clay.leaves_g.value;
    json["union_mm2"] = plan.leaves.overlap.union_mm2;
    json["bare_mm2"] = plan.leaves.overlap.bare_mm2;
    json["overhang_mm2"] = plan.leaves.overlap.overhang_mm2;
    json["lap"] = plan.leaves.lap;
    json["warnings"] = plan.warnings.size();
    return json;
}

Json leaves_json(Desk const& desk) {
    Json json = Json::array();
    UiState const& ui = desk.ui;
    Plan const& plan = *desk.state.plan;
    SceneOptions const options = scene_options(desk);
    Camera const& camera = ui.cameras[ui.look == Look::flat ? 1 : 0];
    for (LeafPlacement const& leaf : plan.piece.leaves) {
        auto const at = middle_on_screen(desk, leaf);
        if (!at) continue;
        Hit const hit = pick(plan, camera, ui.picture, options, *at - Vec2(ui.picture.x, ui.picture.y));
        auto const* seen = std::get_if<LeafHit>(&hit);
        json.push_back({{"id", leaf.id},
                        {"kind", leaf.kind},
                        {"row", leaf.row},
                        {"at", {std::round(at->x), std::round(at->y)}},
                        {"azimuth_deg", leaf.azimuth_deg},
                        {"from_crown_mm", leaf.from_crown_mm},
                        {"turn_deg", leaf.turn_deg},
                        {"scale", leaf.scale},
                        {"seen", seen && seen->id == leaf.id}});
    }
    return json;
}

// Where each piece's number falls on the screen, by name; only while the sheets are shown.
Json cutting_json(Desk const& desk) {
    CuttingView const& view = *desk.ui.cutting;
    Json json{{"running", view.running}, {"pins", desk.state.history.shown().cutting.pins.size()}};
    if (!view.answer) return json;
    json["sheets"] = view.answer->sheets.size();
    json["density"] = view.answer->density;
    if (desk.ui.look != Look::cutting || view.corners.size() != view.answer->sheets.size()) return json;
    BoardOnScreen const board = board_on_screen(desk.ui);
    for (ShownPlace const& place : shown_places(desk)) {
        CutItem const& item = (*view.answer->items)[static_cast<std::size_t>(place.item)];
        Vec2 const own = posed({{item.number_mm}, {}}, place.pose).outer[0];
        Vec2 const at = board.to_screen(view.corners[place.sheet] + own);
        json["places"][item.name] = {std::round(at.x), std::round(at.y), place.pinned};
    }
    return json;
}

Json state_json(Desk const& desk) {
    UiState const& ui = desk.ui;
    Json json;
    json["name"] = desk.state.history.shown().name;
    json["path"] = desk.state.path.string();
    json["unsaved"] = is_unsaved(desk.state);
    json["revision"] = desk.state.history.revision();
    json["undo"] = desk.state.history.undo_label();
    json["redo"] = desk.state.history.redo_label();
    json["stage"] = key(ui.stage);
    constexpr char const* kLooks[] = {"piece", "flat", "cutting"};
    json["look"] = kLooks[static_cast<int>(ui.look)];
    json["cutting"] = cutting_json(desk);
    json["in_hand"] = is_carrying(ui);
    char const* const hands[] = {"resting",         "carrying",           "pressed",
                                 "dragging leaves", "dragging a feature", "turning a leaf",
                                 "sizing a leaf",   "turning a feature",  "sizing a feature",
                                 "drawing a box",   "turning the view",   "moving the view"};
    static_assert(std::variant_size_v<Hand> == std::size(hands));
    json["hand"] = hands[ui.hand.index()];
    char const* const unders[] = {"nothing", "leaf", "feature", "slab", "board"};
    static_assert(std::variant_size_v<Hit> == std::size(unders));
    json["under_pointer"] = unders[ui.under_pointer.index()];
    json["laying"] = ui.laying;
    json["selected"] = ui.selected;
    json["units"] = ui.settings.units == Units::inches ? "inches" : "metric";
    json["text_scale"] = ui.text_scale;
    json["message"] = ui.message.text;
    json["twins"] = ui.twins;
    return json;
}

} // namespace

std::string report_json(Desk const& desk, ReportCounts const& counts) {
    Json json;
    json["frames"] = counts.frames;
    json["pictures"] = counts.pictures;
    json["first_frame_s"] = counts.first_frame_s;
    json["picture_s"] = counts.picture_s;
    json["state"] = state_json(desk);
    if (desk.state.plan) {
        json["figures"] = figures_json(*desk.state.plan);
        json["leaves"] = leaves_json(desk);
    }
    json["boxes"] = Json::object();
    for (auto const& [name, box] : desk.ui.marks)
        json["boxes"][name] = {std::lround(box.x0), std::lround(box.y0), std::lround(box.x1 - box.x0),
                               std::lround(box.y1 - box.y0)};
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace leafwright
