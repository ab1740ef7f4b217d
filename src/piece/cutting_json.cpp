// The cutting sheets as JSON.
#include "piece/json_text.h"
#include "piece/plan_json.h"

#include "piece/cutting_plan.h"

namespace leafwright {

namespace {

JsonText number(double value) { return JsonText::number(value); }
JsonText figure(Figure const& f) { return f.is_exact() ? number(f.value) : figure_text(f); }

JsonText line_text(std::span<Vec2 const> points) {
    JsonText text = JsonText::list();
    for (Vec2 const& p : points) text.add(std::move(JsonText::list().add(number(p.x)).add(number(p.y))));
    return text;
}

std::string_view kind_name(CutKind kind) {
    constexpr std::string_view kNames[] = {"slab", "leaf", "lug", "strip", "bar"};
    return kNames[static_cast<int>(kind)];
}

JsonText piece_text(CutItem const& item, CutPlace const& place, bool with_paths) {
    JsonText text = JsonText::object();
    text.add("name", JsonText::text(item.name)).add("kind", JsonText::text(kind_name(item.kind)));
    if (item.kind == CutKind::leaf) {
        text.add("id", JsonText::whole(item.number)).add("row", JsonText::whole(item.row));
        text.add("leaf_kind", JsonText::text(item.pattern->spec.id)).add("scale", number(item.scale));
        text.add("flipped", JsonText::flag(item.flipped));
    }
    text.add("area_mm2", number(item.area_mm2)).add("x_mm", number(place.pose.at_mm.x));
    text.add("y_mm", number(place.pose.at_mm.y)).add("turn_deg", number(place.pose.turn_deg));
    text.add("pinned", JsonText::flag(place.pinned));
    if (!with_paths) return text;
    Polygon const path = posed(item.outline_mm, place.pose);
    text.add("outline_mm", line_text(path.outer));
    JsonText holes = JsonText::list();
    for (Ring const& hole : path.holes) holes.add(line_text(hole));
    if (!path.holes.empty()) text.add("holes_mm", std::move(holes));
    JsonText cuts = JsonText::list();
    for (CutMark const& mark : item.marks)
        if (mark.cut) cuts.add(line_text(posed({mark.line_mm, {}}, place.pose).outer));
    if (!cuts.empty()) text.add("cuts_mm", std::move(cuts));
    return text;
}

JsonText sheet_text(CuttingAnswer const& answer, CutSheet const& sheet, bool with_paths) {
    JsonText pieces = JsonText::list();
    for (CutPlace const& place : sheet.places) pieces.add(piece_text(answer.item_of(place), place, with_paths));
    JsonText text = JsonText::object();
    text.add("number", JsonText::whole(sheet.number)).add("thickness_mm", number(sheet.thickness_mm));
    text.add("length_mm", number(sheet.size_mm.x)).add("width_mm", number(sheet.size_mm.y));
    text.add("rolled_mm2", number(sheet.rolled_mm2())).add("cut_mm2", number(sheet.cut_mm2));
    text.add("density", number(sheet.rolled_mm2() > 0 ? sheet.cut_mm2 / sheet.rolled_mm2() : 0));
    return std::move(text.add("pieces", std::move(pieces)));
}

} // namespace

JsonText cutting_text(CuttingAnswer const& answer, bool with_paths) {
    JsonText sheets = JsonText::list();
    for (CutSheet const& sheet : answer.sheets) sheets.add(sheet_text(answer, sheet, with_paths));
    JsonText left_out = JsonText::list();
    for (int const item : answer.left_out)
        left_out.add(JsonText::text((*answer.items)[static_cast<std::size_t>(item)].name));
    JsonText text = JsonText::object();
    text.add("density", number(answer.density)).add("rolled_mm2", number(answer.rolled_mm2));
    text.add("cut_mm2", number(answer.cut_mm2)).add("share", number(answer.share));
    text.add("rolled_g", figure(answer.rolled_g)).add("cut_g", figure(answer.cut_g));
    text.add("offcut_g", figure(answer.offcut_g)).add("bars_g", figure(answer.bars_g));
    text.add("offcuts_g", figure(answer.clay.offcuts_g)).add("knead_g", figure(answer.clay.knead_g));
    text.add("beside_slab", JsonText::whole(answer.beside_slab)).add("improved", JsonText::flag(answer.improved));
    text.add("gap_mm", number(answer.plan->piece.cutting.gap_mm));
    text.add("sheets", std::move(sheets)).add("left_out", std::move(left_out));
    return std::move(text.add("warnings", warnings_text(answer.warnings)));
}

std::string cutting_to_json(CuttingAnswer const& answer) {
    JsonText text = JsonText::object();
    text.add("leafwright", JsonText::text("cutting")).add("version", JsonText::whole(1));
    text.add("name", JsonText::text(answer.plan->piece.name));
    return text.add("cutting", cutting_text(answer, true)).str();
}

} // namespace leafwright
