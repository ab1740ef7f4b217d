// All cutting sheets in one picture.
#include "sheet/cutting_drawing.h"
#include "sheet/cutting_sheets.h"

#include <algorithm>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr Ink kGround{0.957, 0.933, 0.894};
constexpr Ink kSoft{0.42, 0.37, 0.32};

// Heights and gaps of a picture 1000 mm wide, whatever its pixels.
constexpr double kWidth = 1000;
constexpr double kHead = 62;
constexpr double kGap = 26;
constexpr double kCaption = 26;

struct Cell {
    Vec2 at{0, 0}; // upper left, caption above
};

// Sheets set in lines at this scale; the height that they take.
double set_in_lines(CuttingAnswer const& answer, double scale, std::vector<Cell>& cells) {
    cells.clear();
    Vec2 cursor{kGap, kHead};
    double tall = 0;
    for (CutSheet const& sheet : answer.sheets) {
        Vec2 const size = scale * sheet.size_mm + Vec2(0, kCaption);
        if (cursor.x > kGap && cursor.x + size.x > kWidth - kGap) {
            cursor = {kGap, cursor.y + tall + kGap};
            tall = 0;
        }
        cells.push_back({cursor});
        if (size.x > kWidth - 2 * kGap) return 1e300;
        cursor.x += size.x + kGap;
        tall = std::max(tall, size.y);
    }
    return cursor.y + tall + kGap;
}

} // namespace

SheetPicture cutting_picture(CuttingAnswer const& answer, int width_px, int height_px, bool inches) {
    UnitWords const units{inches};
    Paper paper(width_px, height_px, width_px / kWidth);
    double const height = paper.size().height_mm;
    paper.fill(std::vector<Vec2>{{0, 0}, {kWidth, 0}, {kWidth, height}, {0, height}}, kGround);
    std::vector<Cell> cells;
    double low = 0, high = 20; // the largest scale that fits
    for (int i = 0; i < 40; ++i) {
        double const middle = 0.5 * (low + high);
        (set_in_lines(answer, middle, cells) <= height ? low : high) = middle;
    }
    set_in_lines(answer, low, cells);
    paper.text({kGap, 38},
               fmt::format("{}: roll {}, {} of it used", answer.plan->piece.name, units.mass(answer.rolled_g.value),
                           percent(answer.density)),
               {.size_mm = 24, .weight = Weight::bold});
    for (std::size_t s = 0; s < cells.size() && s < answer.sheets.size(); ++s) {
        CutSheet const& sheet = answer.sheets[s];
        TextStyle caption{.size_mm = 15, .ink = kSoft};
        std::string words = sheet_words(sheet, units) + ": " + contents_words(answer, sheet);
        if (paper.text_width(words, caption) > 1.3 * low * sheet.size_mm.x)
            words = fmt::format("Sheet {}", sheet.number);
        double const width = paper.text_width(words, caption);
        caption.size_mm *= std::min(1.0, std::max(60.0, low * sheet.size_mm.x) / std::max(1.0, width));
        paper.text(cells[s].at + Vec2(0, kCaption - 8), words, caption);
        SheetOnPage const at{cells[s].at + Vec2(0, kCaption + low * sheet.size_mm.y), low};
        draw_cut_sheet(paper, sheet, drawn_pieces(answer, sheet), at,
                       {.line_mm = std::max(0.7, 0.6 * low), .number_most_mm = 24, .row_mm = 0});
    }
    return {width_px, height_px, paper.rgb()};
}

} // namespace leafwright
