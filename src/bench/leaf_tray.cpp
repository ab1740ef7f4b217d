// The leaf tray: the piece's kinds as drawings at one scale, to be picked up.
#include "bench/panels.h"

#include <fmt/format.h>

#include <algorithm>
#include <cfloat>

namespace leafwright {
namespace {

constexpr double kScaleBar_mm = 50;

// Pixels a millimetre, so that the widest and the longest kind both fit.
float tray_scale(Piece const& piece, LeafDrawings& drawings, float width, float height) {
    double widest = 20;
    double longest = 60;
    for (LeafKindSpec const& kind : piece.leaf_kinds) {
        LeafDrawing const* const drawing = drawings.of(kind.outline, kind.length_mm);
        if (!drawing) continue;
        Vec2 const size = bounds(drawing->shape.outline_mm.outer).size();
        widest = std::max(widest, size.x);
        longest = std::max(longest, size.y);
    }
    return std::min(width / static_cast<float>(widest), height / static_cast<float>(longest));
}

void kind_entry(LeafKindSpec const& kind, LeafDrawings& drawings, float scale, UiState& ui, Intents& intents) {
    float const em = ui.theme.em;
    auto const* carried = std::get_if<Carrying>(&ui.hand);
    bool const in_hand = carried && carried->leaf.kind == kind.id;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const width = ImGui::GetContentRegionAvail().x;
    LeafDrawing const* const drawing = drawings.of(kind.outline, kind.length_mm);
    // Lobes may reach below the stalk: the outline's own height counts.
    double const tall = drawing ? bounds(drawing->shape.outline_mm.outer).size().y : kind.length_mm;
    float const picture = static_cast<float>(tall) * scale;
    float const height = picture + 3.3F * em;
    ImGui::InvisibleButton(kind.id.c_str(), {width, height});
    mark(ui, "tray." + kind.id);
    bool const lit = ImGui::IsItemHovered();
    if (ImGui::IsItemActivated()) intents.emplace_back(PickUpKind{kind.id, true});
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    ImVec2 const end{at.x + width, at.y + height};
    draw.AddRectFilled(at, end, in_hand || lit ? paint::leaf_pale : paint::card, 0.47F * em);
    draw.AddRect(at, end, in_hand ? paint::leaf : paint::border, 0.47F * em, 0, in_hand ? 0.13F * em : 0.06F * em);
    if (drawing)
        draw_leaf_picture(draw, *drawing, {at.x + 0.5F * width, at.y + 0.6F * em + 0.5F * picture}, scale,
                          paint::clay_pale, paint::clay_dark);
    std::string const size = quantity_text(kind.length_mm, Quantity::length, ui.settings.units);
    fitted_text(draw, ui.theme.strong, {at.x + 0.4F * em, end.y - 2.3F * em}, width - 0.8F * em, paint::ink,
                drawings.label(kind.outline, kind.id), true);
    fitted_text(draw, ui.theme.small, {at.x + 0.4F * em, end.y - 1.15F * em}, width - 0.8F * em, paint::ink_soft,
                in_hand ? std::string("in hand") : size, true);
}

void scale_bar(UiState& ui, float scale) {
    float const em = ui.theme.em;
    ImVec2 const at = ImGui::GetCursorScreenPos();
    float const room = ImGui::GetContentRegionAvail().x;
    float const length = std::min(room, static_cast<float>(kScaleBar_mm) * scale);
    float const x = at.x + 0.5F * (room - length);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    float const y = at.y + 0.5F * em;
    draw.AddLine({x, y}, {x + length, y}, paint::ink_soft, 0.09F * em);
    for (float const end : {x, x + length})
        draw.AddLine({end, y - 0.25F * em}, {end, y + 0.25F * em}, paint::ink_soft, 0.09F * em);
    fitted_text(draw, ui.theme.small, {at.x, y + 0.35F * em}, room, paint::ink_soft,
                quantity_text(kScaleBar_mm, Quantity::length, ui.settings.units), true);
    ImGui::Dummy({room, 1.9F * em});
}

void add_from_drawer(Piece const& piece, UiState& ui, LeafDrawings& drawings, Intents& intents, int columns) {
    float const em = ui.theme.em;
    int column = 0;
    for (DrawerEntry const& entry : drawings.drawer()) {
        bool const there = std::any_of(piece.leaf_kinds.begin(), piece.leaf_kinds.end(),
                                       [&](auto const& kind) { return kind.id == entry.name; });
        if (there) continue;
        if (column++ % columns) ImGui::SameLine();
        LeafDrawing const* const drawing = drawings.of("drawer:" + entry.name, entry.usual_length_mm);
        auto const picture = [&](ImDrawList& draw, ImVec2 low, ImVec2 high) {
            if (!drawing) return;
            Vec2 const size = bounds(drawing->shape.outline_mm.outer).size();
            float const scale =
                std::min((high.y - low.y) / static_cast<float>(size.y), (high.x - low.x) / static_cast<float>(size.x));
            draw_leaf_picture(draw, *drawing, {0.5F * (low.x + high.x), 0.5F * (low.y + high.y)}, scale,
                              paint::clay_pale, paint::clay_dark);
        };
        if (!picture_button(ui, entry.label.c_str(), false, {7.5F * em, 8 * em}, picture)) continue;
        LeafKindSpec kind{entry.name, "drawer:" + entry.name, entry.usual_length_mm, entry.usual_thickness_mm};
        intents.emplace_back(Commit{SetLeafKind{kind}});
        ui.kind_shown = kind.id;
        ImGui::CloseCurrentPopup();
    }
    if (column == 0) ImGui::TextUnformatted("Every kind of the drawer is in the tray.");
}

// Leaves that the maker gathered.
void from_nature(UiState& ui, Intents& intents, int columns) {
    float const em = ui.theme.em;
    float const width = std::min(15.3F, 3.9F * static_cast<float>(columns)) * em;
    heading(ui, "From nature");
    if (button(ui, "From a photograph", ButtonLook::strong, width)) {
        intents.emplace_back(OpenPhoto{});
        ImGui::CloseCurrentPopup();
    }
    mark(ui, "tray.photo");
    if (ImGui::IsItemHovered())
        tip(ui, "Traced at true size from a photograph or a scan. Or drop the picture on the window.");
    if (columns > 2) ImGui::SameLine();
    if (button(ui, "My leaves", ButtonLook::plain, width)) {
        intents.emplace_back(BookAct{});
        ImGui::CloseCurrentPopup();
    }
    mark(ui, "tray.mine");
    if (ImGui::IsItemHovered()) tip(ui, "Leaves of your own: from drawings, leaf files and photographs");
}

} // namespace

void leaf_tray(Area const& area, Piece const& piece, UiState& ui, LeafDrawings& drawings, Intents& intents) {
    if (area.width <= 0) return;
    float const em = ui.theme.em;
    begin_area("tray", area, paint::panel, false, 0.7F * em);
    ImGui::GetWindowDrawList()->AddLine({area.x + area.width - 1, area.y},
                                        {area.x + area.width - 1, area.y + area.height}, paint::border);
    drawings.know(piece.own_leaves);
    heading(ui, "Leaf tray");
    float const width = ImGui::GetContentRegionAvail().x - 1.0F * em;
    float const scale = tray_scale(piece, drawings, width, std::min(8.5F * em, 0.4F * area.height));
    ImGui::BeginChild("kinds", {0, std::max(4 * em, ImGui::GetContentRegionAvail().y - 4.9F * em)});
    for (LeafKindSpec const& kind : piece.leaf_kinds) kind_entry(kind, drawings, scale, ui, intents);
    if (piece.leaf_kinds.size() > ui.tray_kinds && ui.tray_kinds > 0) ImGui::SetScrollHereY(1);
    ui.tray_kinds = piece.leaf_kinds.size();
    ImGui::EndChild();
    scale_bar(ui, scale);
    if (button(ui, "Add leaves", ButtonLook::plain, -1)) ImGui::OpenPopup("drawer");
    mark(ui, "tray.add");
    if (ImGui::IsItemHovered()) tip(ui, "From the drawer, from a photograph, or leaves of your own");
    ImGui::SetNextWindowPos({area.x + area.width + 0.5F * em, area.y + 0.5F * em});
    ImVec2 const screen = ImGui::GetIO().DisplaySize;
    float const room = screen.x - area.x - area.width - 4 * em;
    int const columns = std::clamp(static_cast<int>(room / (8.1F * em)), 1, 4);
    ImGui::SetNextWindowSizeConstraints({1, 1}, {FLT_MAX, screen.y - area.y - 1.5F * em});
    if (ImGui::BeginPopup("drawer")) {
        from_nature(ui, intents, columns);
        heading(ui, "From the leaf drawer");
        add_from_drawer(piece, ui, drawings, intents, columns);
        ImGui::EndPopup();
    }
    ImGui::End();
}

} // namespace leafwright
