#include "sheet/cutting_drawing.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr Ink kLine{0.16, 0.14, 0.12};
constexpr Ink kPencil{0.55, 0.50, 0.44};
constexpr Ink kClay{0.86, 0.76, 0.66};
constexpr Ink kOdd{0.97, 0.94, 0.88};
constexpr Ink kEven{0.91, 0.85, 0.76};
constexpr Ink kOther{0.95, 0.90, 0.83};
constexpr Ink kPin{0.20, 0.35, 0.20};

std::vector<Vec2> posed_line(std::vector<Vec2> const& line, NestPose const& pose) {
    return posed({line, {}}, pose).outer;
}

Ink fill_of(CutItem const& item) {
    if (item.kind != CutKind::leaf) return kOther;
    return item.row % 2 == 1 ? kOdd : kEven;
}

DrawnPiece drawn(CutItem const& item, CutPlace const& place) {
    DrawnPiece piece;
    piece.item = &item;
    piece.pinned = place.pinned;
    piece.path = posed(item.outline_mm, place.pose);
    piece.box = bounds(piece.path.outer);
    for (CutMark const& mark : item.marks) piece.marks.push_back({posed_line(mark.line_mm, place.pose), mark.cut});
    if (item.kind == CutKind::leaf) {
        LeafShape const shape = shape_of(item);
        for (Vein const& vein : shape.veins)
            if (vein.order <= 2) piece.veins.push_back(posed_line(vein.line_mm, place.pose));
    }
    piece.number_at = posed_line({item.number_mm}, place.pose)[0];
    piece.clear_mm = item.number_room_mm;
    return piece;
}

void draw_number(Paper& paper, DrawnPiece const& piece, SheetOnPage const& at, SheetStyle const& look) {
    double const clear = at.scale * piece.clear_mm;
    TextStyle style{
        .size_mm = std::clamp(0.95 * clear, 0.1, look.number_most_mm), .weight = Weight::bold, .align = Align::centre};
    double const width = paper.text_width(piece.item->label, style);
    double const room = 1.75 * clear;
    if (width > room && piece.item->kind != CutKind::bar) style.size_mm *= room / width;
    if (style.size_mm < 0.1 * look.number_most_mm) return;
    Vec2 const middle = at(piece.number_at);
    paper.text(middle + Vec2(0, 0.36 * style.size_mm), piece.item->label, style);
    if (piece.item->kind == CutKind::leaf && look.row_mm > 0 && clear > 3 * look.row_mm)
        paper.text(middle + Vec2(0, 0.36 * style.size_mm + 1.35 * look.row_mm), fmt::format("row {}", piece.item->row),
                   {.size_mm = look.row_mm, .align = Align::centre, .ink = kPencil});
}

void draw_pin(Paper& paper, DrawnPiece const& piece, SheetOnPage const& at, double size) {
    Vec2 const head = at({piece.box.centre().x, piece.box.high.y}) + Vec2(0, 1.7 * size);
    std::vector<Vec2> disc;
    for (int i = 0; i < 16; ++i) disc.push_back(head + size * Vec2(std::cos(i * 0.3927), std::sin(i * 0.3927)));
    paper.fill(disc, kPin);
    paper.line(std::vector<Vec2>{head, head + Vec2(0, 2.7 * size)}, 0.3 * size, kPin);
}

} // namespace

std::vector<Vec2> SheetOnPage::line(std::span<Vec2 const> points) const {
    std::vector<Vec2> out;
    out.reserve(points.size());
    for (Vec2 const& p : points) out.push_back((*this)(p));
    return out;
}

Polygon SheetOnPage::polygon(Polygon const& outline) const {
    Polygon out{line(outline.outer), {}};
    for (Ring const& hole : outline.holes) out.holes.push_back(line(hole));
    return out;
}

std::vector<DrawnPiece> drawn_pieces(CuttingAnswer const& answer, CutSheet const& sheet) {
    std::vector<DrawnPiece> pieces;
    for (CutPlace const& place : sheet.places) pieces.push_back(drawn(answer.item_of(place), place));
    return pieces;
}

void draw_cut_sheet(Paper& paper, CutSheet const& sheet, std::span<DrawnPiece const> pieces, SheetOnPage const& at,
                    SheetStyle const& style) {
    std::vector<Vec2> const edge =
        at.line(std::vector<Vec2>{{0, 0}, {sheet.size_mm.x, 0}, sheet.size_mm, {0, sheet.size_mm.y}});
    if (style.filled) paper.fill(edge, kClay);
    paper.line(edge, 0.6 * style.line_mm, kPencil, true);
    for (DrawnPiece const& piece : pieces) {
        if (style.filled) paper.fill(at.polygon(piece.path), fill_of(*piece.item));
        if (style.veins)
            for (auto const& vein : piece.veins) paper.line(at.line(vein), 0.4 * style.line_mm, kPencil);
        for (CutMark const& mark : piece.marks)
            paper.line(at.line(mark.line_mm), mark.cut ? style.line_mm : 0.6 * style.line_mm,
                       mark.cut ? kLine : kPencil);
        paper.line(at.line(piece.path.outer), style.line_mm, kLine, true);
        for (Ring const& hole : piece.path.holes) paper.line(at.line(hole), style.line_mm, kLine, true);
    }
    if (style.numbers)
        for (DrawnPiece const& piece : pieces) {
            draw_number(paper, piece, at, style);
            if (piece.pinned) draw_pin(paper, piece, at, style.number_most_mm / 6);
        }
}

std::string rolled_size_words(CutSheet const& sheet, UnitWords const& units) {
    if (units.inches)
        return fmt::format("{:.1f} x {:.1f} in", std::ceil(sheet.size_mm.x / 2.54) / 10,
                           std::ceil(sheet.size_mm.y / 2.54) / 10);
    return fmt::format("{:.0f} x {:.0f} mm", std::ceil(sheet.size_mm.x - 1e-6), std::ceil(sheet.size_mm.y - 1e-6));
}

std::string sheet_words(CutSheet const& sheet, UnitWords const& units) {
    std::string const thick =
        units.inches ? fmt::format("{:.2f} in", sheet.thickness_mm / 25.4) : fmt::format("{:g} mm", sheet.thickness_mm);
    return fmt::format("Sheet {}, {} thick, {}", sheet.number, thick, rolled_size_words(sheet, units));
}

} // namespace leafwright
