#include "sheet/templates.h"

#include "sheet/making_sheet.h"
#include "sheet/words.h"

#include <algorithm>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr Ink kPencil{0.45, 0.42, 0.38};
constexpr Ink kLine{0.16, 0.14, 0.12};
constexpr double kMargin = 14;

std::vector<Vec2> on_page(std::span<Vec2 const> leaf_mm, LeafDrawing const& drawing) {
    std::vector<Vec2> points;
    points.reserve(leaf_mm.size());
    for (Vec2 const& p : leaf_mm) points.push_back(drawing.stalk_mm + drawing.scale * Vec2(p.x, -p.y));
    return points;
}

} // namespace

void draw_leaf_on(Paper& paper, LeafShape const& shape, LeafDrawing const& drawing) {
    if (drawing.veins)
        for (Vein const& vein : shape.veins) {
            double const width = std::max(0.12, 0.08 * drawing.scale * vein.root_width_mm);
            if (vein.order <= 2) paper.line(on_page(vein.line_mm, drawing), width, kPencil);
        }
    paper.line(on_page(shape.outline_mm.outer, drawing), drawing.line_mm, kLine, true);
    for (Ring const& hole : shape.outline_mm.holes) paper.line(on_page(hole, drawing), drawing.line_mm, kLine, true);
}

void check_bar(Paper& paper, Vec2 at) {
    Vec2 const end = at + Vec2(100, 0);
    paper.line(std::vector<Vec2>{at, end}, 0.3, kLine);
    for (int i = 0; i <= 10; ++i) {
        Vec2 const tick = at + Vec2(10 * i, 0);
        paper.line(std::vector<Vec2>{tick, tick - Vec2(0, i % 5 == 0 ? 3 : 1.6)}, 0.25, kLine);
    }
    paper.text(at + Vec2(0, 4), "This bar is 100 mm long. If it is not, print again at 100 % (no fitting to the page).",
               {.size_mm = 2.8, .ink = kPencil});
}

void template_pages(Paper& paper, std::span<LeafPattern const* const> patterns, std::span<int const> counts) {
    Vec2 const page{paper.size().width_mm, paper.size().height_mm};
    double const floor = page.y - kMargin - 12;
    Vec2 cursor{kMargin, kMargin + 12};
    double row_height = 0;
    bool open = false;
    auto new_page = [&] {
        paper.next_page();
        paper.text({kMargin, kMargin + 4}, "Leaf templates, true size", {.size_mm = 5.5, .weight = Weight::bold});
        check_bar(paper, {kMargin, page.y - kMargin - 4});
        cursor = {kMargin, kMargin + 12};
        row_height = 0;
        open = true;
    };
    for (std::size_t k = 0; k < patterns.size(); ++k) {
        LeafShape const& shape = patterns[k]->shape;
        Box2 const box = bounds(shape.outline_mm.outer);
        Vec2 const room{page.x - 2 * kMargin, floor - kMargin - 24};
        double const scale = box.size().x > room.x || box.size().y > room.y ? 0.5 : 1.0;
        Vec2 const cell = scale * box.size() + Vec2(10, 16);
        if (!open) new_page();
        if (cursor.x + cell.x > page.x - kMargin + 10) cursor = {kMargin, cursor.y + row_height}, row_height = 0;
        if (cursor.y + cell.y > floor) new_page();
        Vec2 const stalk = cursor + scale * Vec2(-box.low.x, box.high.y);
        draw_leaf_on(paper, shape, {.stalk_mm = stalk, .scale = scale});
        double const under = cursor.y + scale * box.size().y + 5;
        paper.text({cursor.x, under}, patterns[k]->spec.id, {.size_mm = 3.6, .weight = Weight::bold});
        std::string const note =
            fmt::format("{:.0f} mm, {:.1f} mm thick, cut {}{}", shape.length_mm, patterns[k]->spec.thickness_mm,
                        counts[k], scale < 1 ? " - DRAWN AT HALF SIZE" : "");
        double const width = paper.text({cursor.x, under + 4.2}, note, {.size_mm = 2.9, .ink = kPencil});
        cursor.x += std::max(cell.x, width + 8);
        row_height = std::max(row_height, cell.y);
    }
}

std::string leaf_template_svg(LeafPattern const& pattern) {
    Box2 const box = bounds(pattern.shape.outline_mm.outer);
    PaperSize const size{std::max(box.size().x, 100.0) + 20, box.size().y + 34};
    Paper paper(PaperKind::svg, size, pattern.spec.id);
    draw_leaf_on(paper, pattern.shape, {.stalk_mm = Vec2(10, 10) + Vec2(-box.low.x, box.high.y)});
    check_bar(paper, {10, size.height_mm - 12});
    return paper.finish();
}

} // namespace leafwright
