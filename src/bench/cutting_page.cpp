// The look "cutting sheets": clay sheets with numbered pieces.
#include "bench/cutting_view.h"
#include "view/mesh.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr ImU32 kSheet = IM_COL32(214, 186, 160, 255);
constexpr ImU32 kSheetEdge = IM_COL32(170, 134, 104, 255);
constexpr ImU32 kOdd = IM_COL32(250, 243, 230, 255);
constexpr ImU32 kEven = IM_COL32(234, 218, 196, 255);
constexpr ImU32 kOther = IM_COL32(242, 230, 213, 255);
constexpr ImU32 kShade = IM_COL32(120, 84, 56, 90);
constexpr ImU32 kVein = IM_COL32(170, 142, 116, 255);
constexpr ImU32 kLine = IM_COL32(84, 62, 46, 255);

CutDrawing drawing_of(CutItem const& item) {
    FlatMeshOptions options;
    options.spacing_mm = 1000; // no points inside: flat colour needs none
    FlatMesh mesh = triangulated(item.outline_mm, options);
    CutDrawing drawing{std::move(mesh.points), std::move(mesh.indices), {}};
    if (item.kind == CutKind::leaf)
        for (Vein const& vein : shape_of(item).veins)
            if (vein.order <= 2) drawing.veins.push_back(vein.line_mm);
    return drawing;
}

// Drawings follow the answer's items; what is alike is not made again.
void refresh_drawings(CuttingView& view) {
    auto const& items = view.answer->items;
    if (view.drawn_of == items) return;
    std::vector<CutDrawing> drawings;
    for (std::size_t i = 0; i < items->size(); ++i) {
        bool const same = view.drawn_of && i < view.drawn_of->size() && (*view.drawn_of)[i] == (*items)[i];
        drawings.push_back(same ? std::move(view.drawings[i]) : drawing_of((*items)[i]));
    }
    view.drawings = std::move(drawings);
    view.drawn_of = items;
}

ImVec2 im(Vec2 const& p) { return {static_cast<float>(p.x), static_cast<float>(p.y)}; }

class Page {
public:
    Page(Desk const& desk, ImDrawList& draw)
        : desk_(desk), ui_(desk.ui), view_(*desk.ui.cutting), draw_(draw), board_(board_on_screen(desk.ui)) {}

    void sheets() {
        for (std::size_t s = 0; s < view_.answer->sheets.size(); ++s) sheet(view_.answer->sheets[s], view_.corners[s]);
    }

    void piece(ShownPlace const& place) {
        CutItem const& item = item_of(place);
        CutDrawing const& drawing = view_.drawings[static_cast<std::size_t>(place.item)];
        bool const lit = place.item == view_.hovered || place.item == view_.chosen;
        ImU32 const fill = place.in_hand ? paint::leaf_pale : fill_of(item);
        auto const points = on_screen(place, drawing.points);
        // A thin shadow, so that pieces lie on the clay.
        if (place.in_hand) triangles(points, drawing.triangles, kShade, 0.35F * em());
        triangles(points, drawing.triangles, fill, 0);
        float const thin = std::clamp(static_cast<float>(0.35 * board_.scale), 0.8F, 2.0F);
        for (auto const& vein : drawing.veins) line(on_screen(place, vein), kVein, thin, false);
        for (CutMark const& mark : item.marks)
            line(on_screen(place, mark.line_mm), mark.cut ? kLine : kVein, mark.cut ? 1.6F * thin : 1.2F * thin, false);
        line(on_screen(place, item.outline_mm.outer), lit ? paint::leaf_dark : kLine, lit ? 2.4F : 1.3F, true);
        number(place, item);
        if (place.pinned) pin(place, item);
    }

    void handle() {
        auto const at = cut_handle(desk_);
        if (!at) return;
        draw_.AddCircleFilled(im(*at), 0.62F * em(), paint::card);
        draw_.AddCircle(im(*at), 0.62F * em(), paint::leaf_dark, 0, 0.12F * em());
        draw_.PathArcTo(im(*at), 0.3F * em(), -2.6F, 1.6F);
        draw_.PathStroke(paint::leaf_dark, 0, 0.1F * em());
    }

private:
    float em() const { return ui_.theme.em; }
    CutItem const& item_of(ShownPlace const& place) const {
        return (*view_.answer->items)[static_cast<std::size_t>(place.item)];
    }
    static ImU32 fill_of(CutItem const& item) {
        if (item.kind != CutKind::leaf) return kOther;
        return item.row % 2 == 1 ? kOdd : kEven;
    }
    Vec2 at_screen(ShownPlace const& place, Vec2 const& in_sheet) const {
        return board_.to_screen(view_.corners[place.sheet] + in_sheet);
    }
    std::vector<ImVec2> on_screen(ShownPlace const& place, std::span<Vec2 const> own) const {
        std::vector<ImVec2> out;
        double const c = std::cos(place.pose.turn_deg * 0.017453292519943295);
        double const s = std::sin(place.pose.turn_deg * 0.017453292519943295);
        for (Vec2 const& p : own)
            out.push_back(im(at_screen(place, place.pose.at_mm + Vec2(c * p.x - s * p.y, s * p.x + c * p.y))));
        return out;
    }
    void triangles(std::vector<ImVec2> const& points, std::vector<std::uint32_t> const& indices, ImU32 colour,
                   float off) {
        ImDrawListFlags const flags = draw_.Flags;
        draw_.Flags &= ~ImDrawListFlags_AntiAliasedFill; // else seams show between the triangles
        auto const at = [&](std::uint32_t i) { return ImVec2(points[i].x + off, points[i].y + off); };
        for (std::size_t i = 0; i + 2 < indices.size(); i += 3)
            draw_.AddTriangleFilled(at(indices[i]), at(indices[i + 1]), at(indices[i + 2]), colour);
        draw_.Flags = flags;
    }
    void line(std::vector<ImVec2> const& points, ImU32 colour, float width, bool closed) {
        draw_.AddPolyline(points.data(), static_cast<int>(points.size()), colour, closed ? ImDrawFlags_Closed : 0,
                          width);
    }

    void sheet(CutSheet const& sheet, Vec2 const& corner) {
        ImVec2 const low = im(board_.to_screen(corner + Vec2(0, sheet.size_mm.y)));
        ImVec2 const high = im(board_.to_screen(corner + Vec2(sheet.size_mm.x, 0)));
        draw_.AddRectFilled(low, high, kSheet, 0.2F * em());
        draw_.AddRect(low, high, kSheetEdge, 0.2F * em(), 0, 1.5F);
        Units const units = ui_.settings.units;
        std::string words = fmt::format("Sheet {}, {} thick: {}", sheet.number,
                                        quantity_text(sheet.thickness_mm, Quantity::length, units),
                                        size_text(sheet.size_mm.x, sheet.size_mm.y, units));
        // A narrow sheet is told by its number; the worktop has the rest.
        float const room = std::max(high.x - low.x, 4 * em());
        if (text_size(ui_.theme.strong, words).x > 1.25F * room) words = fmt::format("Sheet {}", sheet.number);
        fitted_text(draw_, ui_.theme.strong, {low.x, low.y - 1.3F * em()}, room, paint::ink, words);
        arrow(low, high);
    }
    // The way it is rolled.
    void arrow(ImVec2 low, ImVec2 high) {
        float const y = high.y + 0.55F * em(), x = low.x + 3.2F * em();
        if (high.x - low.x < 6 * em()) return;
        draw_.AddLine({low.x, y}, {x, y}, paint::ink_soft, 0.09F * em());
        draw_.AddTriangleFilled({x, y - 0.25F * em()}, {x + 0.5F * em(), y}, {x, y + 0.25F * em()}, paint::ink_soft);
        draw_.AddText(ui_.theme.small, 0.8F * em(), {x + 0.8F * em(), y - 0.42F * em()}, paint::ink_soft,
                      "rolled this way");
    }

    void number(ShownPlace const& place, CutItem const& item) {
        auto const room = static_cast<float>(item.number_room_mm * board_.scale);
        ImFont* const font = ui_.theme.figure;
        float size = std::min(1.15F * room, 2.4F * em());
        ImVec2 extent = font->CalcTextSizeA(size, FLT_MAX, 0, item.label.c_str());
        float const most = item.kind == CutKind::bar ? 4 * room : 1.75F * room;
        if (extent.x > most) size *= most / extent.x;
        float const legible = 0.62F * em();
        bool const spills = size < legible; // a small leaf: its number runs over the edge, on a ground of its own
        size = std::max(size, legible);
        extent = font->CalcTextSizeA(size, FLT_MAX, 0, item.label.c_str());
        Vec2 const own[] = {item.number_mm};
        ImVec2 const middle = on_screen(place, own)[0];
        if (spills)
            draw_.AddRectFilled({middle.x - 0.5F * extent.x - 2, middle.y - 0.42F * extent.y},
                                {middle.x + 0.5F * extent.x + 2, middle.y + 0.42F * extent.y}, faded(kOdd, 0.8F), 3);
        draw_.AddText(font, size, {middle.x - 0.5F * extent.x, middle.y - 0.5F * extent.y}, paint::ink,
                      item.label.c_str());
    }
    void pin(ShownPlace const& place, CutItem const& item) {
        Vec2 own = item.number_mm;
        double const turn = place.pose.turn_deg * 0.017453292519943295;
        double const up = item.number_room_mm * 0.8; // on the screen's upper side of the number
        own += up * Vec2(std::sin(turn), std::cos(turn));
        Vec2 const owns[] = {own};
        ImVec2 const at = on_screen(place, owns)[0];
        float const r =
            std::clamp(0.35F * em(), 3.0F, static_cast<float>(std::max(3.0, 0.4 * item.number_room_mm * board_.scale)));
        draw_.AddLine(at, {at.x - 1.2F * r, at.y + 1.9F * r}, paint::ink, 0.28F * r);
        draw_.AddCircleFilled(at, r, paint::leaf_dark);
        draw_.AddCircle(at, r, paint::card, 0, 0.22F * r);
    }

    Desk const& desk_;
    UiState const& ui_;
    CuttingView const& view_;
    ImDrawList& draw_;
    BoardOnScreen board_;
};

void words_only(Area const& area, UiState const& ui, char const* words) {
    ImVec2 const size = text_size(ui.theme.text, words);
    ImGui::GetWindowDrawList()->AddText(ui.theme.text, ui.theme.em,
                                        {area.x + 0.5F * (area.width - size.x), area.y + 0.5F * (area.height - size.y)},
                                        paint::ink_soft, words);
}

} // namespace

void cutting_page(Area const& area, Desk& desk) {
    UiState& ui = desk.ui;
    CuttingView& view = *ui.cutting;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    if (!view.answer) return words_only(area, ui, "Laying out the cutting sheets ...");
    set_out_board(ui);
    refresh_drawings(view);
    draw.PushClipRect({area.x, area.y}, {area.x + area.width, area.y + area.height});
    Page page(desk, draw);
    page.sheets();
    for (ShownPlace const& place : shown_places(desk)) page.piece(place);
    page.handle();
    draw.PopClipRect();
}

} // namespace leafwright
