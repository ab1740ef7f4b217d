// The PDF of the cutting sheets: an overview, then every sheet at 1:1 over as many pages as it takes.
#include "sheet/cutting_drawing.h"
#include "sheet/cutting_sheets.h"
#include "sheet/templates.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr Ink kInk{0.16, 0.14, 0.12};
constexpr Ink kSoft{0.45, 0.42, 0.38};
constexpr Ink kRule{0.80, 0.76, 0.70};
constexpr Ink kMark{0.10, 0.30, 0.55};
constexpr double kMargin = 9;   // what printers leave white, and a little more
constexpr double kFooter = 21;  // check bar, name, map
constexpr double kOverlap = 10; // of neighbouring pages
constexpr double kCross = 4;    // arm of a registration cross

Vec2 room_on(PaperSize const& page) { return {page.width_mm - 2 * kMargin, page.height_mm - 2 * kMargin - kFooter}; }

int pages_along(double length, double room) {
    return std::max(1, static_cast<int>(std::ceil((length - kOverlap) / (room - kOverlap) - 1e-9)));
}

CutTiling grid_on(CutSheet const& sheet, PaperSize page) {
    CutTiling tiling;
    tiling.page = page;
    Vec2 const room = room_on(page);
    tiling.columns = pages_along(sheet.size_mm.x, room.x);
    tiling.rows = pages_along(sheet.size_mm.y, room.y);
    for (int row = 0; row < tiling.rows; ++row)
        for (int column = 0; column < tiling.columns; ++column) {
            CutTile tile;
            tile.column = column;
            tile.row = row;
            double const left = column * (room.x - kOverlap);
            double const top = sheet.size_mm.y - row * (room.y - kOverlap);
            tile.part = {{left, top - room.y}, {left + room.x, top}};
            tiling.tiles.push_back(tile);
        }
    return tiling;
}

struct Pages {
    Paper& paper;
    CuttingAnswer const& answer;
    UnitWords units;
    std::vector<CutTiling> tilings; // as the sheets
    int count = 0;                  // of all pages
    int page = 1;
    double width() const { return paper.size().width_mm; }
    double height() const { return paper.size().height_mm; }
};

void line_of(Pages& p, Vec2 const& a, Vec2 const& b, double width, Ink const& ink, bool dashed = false) {
    p.paper.line(std::vector<Vec2>{a, b}, width, ink, false, dashed);
}

void cross(Pages& p, Vec2 const& at) {
    line_of(p, at - Vec2(kCross, 0), at + Vec2(kCross, 0), 0.2, kMark);
    line_of(p, at - Vec2(0, kCross), at + Vec2(0, kCross), 0.2, kMark);
    std::vector<Vec2> ring;
    for (int i = 0; i < 24; ++i) ring.push_back(at + 2.0 * Vec2(std::cos(i * 0.2618), std::sin(i * 0.2618)));
    p.paper.line(ring, 0.2, kMark, true);
}

// Lines in the middle of the overlaps; where they cross, both pages carry the same mark.
void registration(Pages& p, CutTiling const& tiling, CutTile const& tile, SheetOnPage const& at) {
    Vec2 const step = room_on(tiling.page) - Vec2(kOverlap);
    double const top = tiling.tiles.front().part.high.y;
    std::vector<double> xs, ys;
    for (int k = 0; k <= tiling.columns; ++k) xs.push_back(k * step.x + 0.5 * kOverlap);
    for (int k = 0; k <= tiling.rows; ++k) ys.push_back(top - k * step.y - 0.5 * kOverlap);
    Box2 const& part = tile.part;
    for (int k = 1; k < tiling.columns; ++k)
        if (xs[static_cast<std::size_t>(k)] > part.low.x && xs[static_cast<std::size_t>(k)] < part.high.x)
            line_of(p, at({xs[static_cast<std::size_t>(k)], part.low.y}),
                    at({xs[static_cast<std::size_t>(k)], part.high.y}), 0.15, kMark, true);
    for (int k = 1; k < tiling.rows; ++k)
        if (ys[static_cast<std::size_t>(k)] > part.low.y && ys[static_cast<std::size_t>(k)] < part.high.y)
            line_of(p, at({part.low.x, ys[static_cast<std::size_t>(k)]}),
                    at({part.high.x, ys[static_cast<std::size_t>(k)]}), 0.15, kMark, true);
    for (double const x : xs)
        for (double const y : ys)
            if (contains(std::vector<Vec2>{part.low, {part.high.x, part.low.y}, part.high, {part.low.x, part.high.y}},
                         Vec2(x, y)))
                cross(p, at({x, y}));
}

// The sheet with its pages; `here` is filled in.
void page_map(Pages& p, CutSheet const& sheet, CutTiling const& tiling, Box2 const& box, CutTile const* here,
              bool names) {
    double const scale = std::min(box.size().x / sheet.size_mm.x, box.size().y / sheet.size_mm.y);
    SheetOnPage const at{{box.high.x - scale * sheet.size_mm.x, box.low.y + scale * sheet.size_mm.y}, scale};
    auto const frame = [&](Box2 part) {
        part.low = glm::max(part.low, Vec2(0));
        part.high = glm::min(part.high, sheet.size_mm);
        return at.line(std::vector<Vec2>{part.low, {part.high.x, part.low.y}, part.high, {part.low.x, part.high.y}});
    };
    if (here) p.paper.fill(frame(here->part), Ink{0.72, 0.80, 0.90});
    for (CutTile const& tile : tiling.tiles) {
        p.paper.line(frame(tile.part), 0.12, kMark, true, !tile.printed);
        if (!names) continue;
        // Pages begin at the upper left: there the name stands clear of the next page's.
        Vec2 const corner = at({tile.part.low.x, std::min(tile.part.high.y, sheet.size_mm.y)});
        p.paper.text(corner + Vec2(1, 3.2), tile.name(), {.size_mm = 3, .weight = Weight::bold, .ink = kMark});
    }
    p.paper.line(frame({{0, 0}, sheet.size_mm}), 0.25, kInk, true);
}

void tile_page(Pages& p, CutSheet const& sheet, std::span<DrawnPiece const> pieces, CutTiling const& tiling,
               CutTile const& tile) {
    p.paper.next_page(tiling.page);
    ++p.page;
    Box2 const window{{kMargin, kMargin}, Vec2(kMargin) + room_on(tiling.page)};
    SheetOnPage const at{{kMargin - tile.part.low.x, kMargin + tile.part.high.y}, 1.0};
    p.paper.clip(window);
    draw_cut_sheet(p.paper, sheet, pieces, at, {.filled = false});
    registration(p, tiling, tile, at);
    p.paper.unclip();
    p.paper.line(
        std::vector<Vec2>{window.low, {window.high.x, window.low.y}, window.high, {window.low.x, window.high.y}}, 0.1,
        kRule, true);
    double const y = window.high.y + 6;
    check_bar(p.paper, {kMargin, y + 4});
    p.paper.text({kMargin, y + 13}, fmt::format("{}  -  page {}", sheet_words(sheet, p.units), tile.name()),
                 {.size_mm = 3.6, .weight = Weight::bold});
    p.paper.text({window.high.x - 30, y + 13}, fmt::format("{} of {}", p.page, p.count),
                 {.size_mm = 3, .align = Align::right, .ink = kSoft});
    page_map(p, sheet, tiling, {{window.high.x - 28, y - 4}, {window.high.x, y + 13}}, &tile, false);
}

double figure(Pages& p, double y, std::string_view name, std::string const& value) {
    p.paper.text({kMargin, y}, name, {.ink = kSoft});
    p.paper.text({kMargin + 92, y}, value, {.align = Align::right});
    return y + 5.2;
}

double summary(Pages& p) {
    CuttingAnswer const& a = p.answer;
    p.paper.text({kMargin, kMargin + 6}, a.plan->piece.name, {.size_mm = 7, .weight = Weight::bold});
    p.paper.text({p.width() - kMargin, kMargin + 6}, "Cutting sheets",
                 {.size_mm = 4, .align = Align::right, .ink = kSoft});
    double y = kMargin + 15;
    y = figure(p, y, "Sheets to roll", std::to_string(a.sheets.size()));
    y = figure(p, y, "Clay to roll", p.units.mass(a.rolled_g));
    y = figure(p, y, "becomes pieces", p.units.mass(a.cut_g.value) + ", " + percent(a.density) + " of the area");
    y = figure(p, y, "offcut, to reclaim", p.units.mass(a.offcut_g.value));
    y = figure(p, y, "Clay to knead for the piece", p.units.mass(a.clay.knead_g));
    if (a.beside_slab > 0) y = figure(p, y, "leaves from the slab's own offcut", std::to_string(a.beside_slab));
    double const column = kMargin + 102;
    double const foot = p.paper.paragraph(
        {column, kMargin + 15}, p.width() - kMargin - column,
        "Print at 100 %. Trim each page along its dashed lines, lay neighbours so that the ringed crosses meet, and "
        "tape them. Roll the sheets in this order; prick the outlines through the paper, or cut round it. Numbers are "
        "those of the arrangement on the making sheet.",
        {.size_mm = 3});
    y = std::max(y, foot) + 2;
    for (Warning const& warning : a.warnings)
        y = p.paper.paragraph({kMargin, y}, p.width() - 2 * kMargin, warning.text + " " + warning.hint,
                              {.size_mm = 3, .weight = warning.refusal ? Weight::bold : Weight::regular});
    return y + 2;
}

constexpr double kEntryHeight = 76;

double entry(Pages& p, std::size_t index, double y) {
    CutSheet const& sheet = p.answer.sheets[index];
    line_of(p, {kMargin, y}, {p.width() - kMargin, y}, 0.15, kRule);
    p.paper.text({kMargin, y + 5.5}, sheet_words(sheet, p.units), {.size_mm = 4, .weight = Weight::bold});
    double const text = p.paper.paragraph({kMargin, y + 11.5}, 52,
                                          contents_words(p.answer, sheet) + ", " +
                                              percent(sheet.cut_mm2 / sheet.rolled_mm2()) + " used",
                                          {.size_mm = 3.2});
    p.paper.paragraph({kMargin, text + 1}, 52, "Arrow: the way it is rolled.", {.size_mm = 2.7, .ink = kSoft});
    Box2 const box{{kMargin + 58, y + 9}, {p.width() - kMargin, y + kEntryHeight - 4}};
    double const scale = std::min(box.size().x / sheet.size_mm.x, box.size().y / sheet.size_mm.y);
    SheetOnPage const at{{box.high.x - scale * sheet.size_mm.x, box.low.y + scale * sheet.size_mm.y}, scale};
    draw_cut_sheet(p.paper, sheet, drawn_pieces(p.answer, sheet), at, {.veins = false, .line_mm = 0.15, .row_mm = 0});
    page_map(p, sheet, p.tilings[index], box, nullptr, true);
    Vec2 const tail{at.corner_mm.x, at.corner_mm.y + 2.2}, tip = tail + Vec2(16, 0);
    line_of(p, tail, tip, 0.3, kSoft);
    p.paper.line(std::vector<Vec2>{tip + Vec2(-2, -1), tip, tip + Vec2(-2, 1)}, 0.3, kSoft);
    return y + kEntryHeight;
}

int entries_on(double from, PaperSize const& page) {
    return std::max(1, static_cast<int>((page.height_mm - kMargin - from) / kEntryHeight));
}

// How many pages the overview takes when its list begins at `from` on the first.
int overview_pages(std::size_t sheets, double from, PaperSize const& page) {
    int left = static_cast<int>(sheets) - entries_on(from, page);
    int pages = 1;
    for (; left > 0; ++pages) left -= entries_on(kMargin, page);
    return pages;
}

void overview(Pages& p, PaperSize const& page) {
    double y = summary(p);
    int tiles = 0;
    for (CutTiling const& tiling : p.tilings)
        for (CutTile const& tile : tiling.tiles) tiles += tile.printed ? 1 : 0;
    p.count = overview_pages(p.answer.sheets.size(), y, page) + tiles;
    for (std::size_t s = 0; s < p.answer.sheets.size(); ++s) {
        if (y + kEntryHeight > page.height_mm - kMargin && s > 0) {
            p.paper.next_page(page);
            ++p.page;
            y = kMargin;
        }
        y = entry(p, s, y);
    }
}

} // namespace

std::string CutTile::name() const {
    std::string letters;
    for (int left = column; left >= 0; left = left / 26 - 1)
        letters.insert(letters.begin(), static_cast<char>('A' + left % 26));
    return letters + std::to_string(row + 1);
}

CutTiling tiling_of(CuttingAnswer const& answer, CutSheet const& sheet, PaperSize page) {
    CutTiling upright = grid_on(sheet, page);
    CutTiling across = grid_on(sheet, {page.height_mm, page.width_mm});
    CutTiling tiling = across.tiles.size() < upright.tiles.size() ? std::move(across) : std::move(upright);
    for (CutTile& tile : tiling.tiles)
        tile.printed = std::ranges::any_of(sheet.places, [&](CutPlace const& place) {
            return bounds(posed(answer.item_of(place).outline_mm, place.pose).outer).overlaps(tile.part);
        });
    return tiling;
}

std::string cutting_pdf(CuttingAnswer const& answer, CuttingPaperOptions const& options) {
    Paper paper(PaperKind::pdf, options.paper, answer.plan->piece.name + ": cutting sheets");
    Pages pages{paper, answer, {options.inches}, {}};
    for (CutSheet const& sheet : answer.sheets) pages.tilings.push_back(tiling_of(answer, sheet, options.paper));
    overview(pages, options.paper);
    for (std::size_t s = 0; s < answer.sheets.size(); ++s) {
        std::vector<DrawnPiece> const pieces = drawn_pieces(answer, answer.sheets[s]);
        for (CutTile const& tile : pages.tilings[s].tiles)
            if (tile.printed) tile_page(pages, answer.sheets[s], pieces, pages.tilings[s], tile);
    }
    return paper.finish();
}

} // namespace leafwright
