// Sheets set out on a board, in lines, as large as the picture allows.
#include "bench/cutting_view.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr double kBetween_mm = 60; // room for a line of words above each sheet
constexpr double kAround_mm = 40;

// Lines of at most this width; the size that they take together.
Vec2 in_lines(std::vector<CutSheet> const& sheets, double width, std::vector<Vec2>& corners) {
    corners.clear();
    double x = 0, top = 0, tall = 0, widest = 0;
    for (CutSheet const& sheet : sheets) {
        if (x > 0 && x + sheet.size_mm.x > width) {
            top -= tall + kBetween_mm;
            x = tall = 0;
        }
        corners.emplace_back(x, top - sheet.size_mm.y);
        widest = std::max(widest, x + sheet.size_mm.x);
        x += sheet.size_mm.x + kBetween_mm;
        tall = std::max(tall, sheet.size_mm.y);
    }
    return {widest, tall - top};
}

double aspect_of(UiState const& ui) {
    return static_cast<double>(std::max(1, ui.picture.width)) / std::max(1, ui.picture.height);
}

double fitting_scale(UiState const& ui, Vec2 const& size_mm) {
    double const em = static_cast<double>(ui.theme.em);
    double const width = std::max(50.0, ui.picture.width - 2 * em);
    double const height = std::max(50.0, ui.picture.height - 7 * em);
    return std::min(width / (size_mm.x + kAround_mm), height / (size_mm.y + 2 * kAround_mm));
}

} // namespace

void set_out_board(UiState& ui) {
    CuttingView& view = *ui.cutting;
    std::vector<CutSheet> const& sheets = view.answer->sheets;
    double const aspect = aspect_of(ui);
    double best = 0;
    double width = 0;
    std::vector<Vec2> corners;
    for (CutSheet const& sheet : sheets) width += sheet.size_mm.x + kBetween_mm;
    for (double share = 1; share > 0.05; share *= 0.93) {
        Vec2 const size = in_lines(sheets, share * width, corners);
        double const scale = std::min(aspect / std::max(1.0, size.x), 1 / std::max(1.0, size.y));
        if (scale <= best) continue;
        best = scale;
        view.corners = corners;
        view.board_mm = size;
    }
    view.fit_aspect = aspect;
    if (view.px_per_mm <= 0) show_board(ui);
}

void show_board(UiState& ui) {
    CuttingView& view = *ui.cutting;
    view.px_per_mm = 0;
    double const top = view.corners.empty() ? 0 : view.corners.front().y + view.answer->sheets.front().size_mm.y;
    view.middle_mm = {0.5 * view.board_mm.x, top - 0.5 * view.board_mm.y};
}

void show_sheet(UiState& ui, std::size_t sheet) {
    CuttingView& view = *ui.cutting;
    if (sheet >= view.corners.size()) return;
    Vec2 const size = view.answer->sheets[sheet].size_mm;
    view.px_per_mm = fitting_scale(ui, size);
    view.middle_mm = view.corners[sheet] + 0.5 * size;
}

BoardOnScreen board_on_screen(UiState const& ui) {
    CuttingView const& view = *ui.cutting;
    double const em = static_cast<double>(ui.theme.em);
    BoardOnScreen board;
    // The looks stand above, the picture's middle is a little lower.
    board.centre_px = {ui.picture.x + 0.5 * ui.picture.width, ui.picture.y + 0.5 * ui.picture.height + 1.4 * em};
    board.middle_mm = view.middle_mm;
    board.scale = view.px_per_mm > 0 ? view.px_per_mm : fitting_scale(ui, view.board_mm);
    return board;
}

} // namespace leafwright
