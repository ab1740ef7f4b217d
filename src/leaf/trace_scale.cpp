// True size: from the sheet, from a bar, or from dots per inch.
#include "leaf/trace_work.h"

#include "base/units.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kClick_px = 0.7;       // of one click, each way
constexpr double kPaperCut = 0.0015;    // how true office paper is cut (common practice, no source)
constexpr double kLookedAslant = 0.010; // a camera held by eye over the leaves is 8 degrees off: cos 8 deg = 0.990
constexpr double kScanner = 0.005;      // of a flat-bed scanner's own length (common practice, no source)
constexpr double kHandCorner_px = 1.5;
constexpr double kFitsPaper = 0.01; // how far corners set by hand may be off in shape without a word
constexpr double kSeen = 0.12;      // share of each side that must be seen
constexpr double kLightSeen = 0.35; // when it was found by its lightness

Problem no_paper(std::string what, std::string hint) {
    return {"trace.paper", "", std::move(what), std::move(hint), ProblemKind::refusal};
}

char const* name_of(KnownSheet paper) {
    return paper == KnownSheet::a4 ? "A4" : (paper == KnownSheet::a5 ? "A5" : "letter");
}

// Round the sheet, clockwise as seen, from the corner at the upper left.
std::array<Vec2, 4> in_order(std::array<Vec2, 4> corners) {
    Vec2 const centre = 0.25 * (corners[0] + corners[1] + corners[2] + corners[3]);
    std::sort(corners.begin(), corners.end(), [&](Vec2 const& a, Vec2 const& b) {
        return std::atan2(a.y - centre.y, a.x - centre.x) < std::atan2(b.y - centre.y, b.x - centre.x);
    });
    return corners;
}

double shortest_side(std::array<Vec2, 4> const& c) {
    double least = 1e300;
    for (std::size_t i = 0; i < 4; ++i) least = std::min(least, glm::length(c[(i + 1) % 4] - c[i]));
    return least;
}

MaybeProblem check_corners(std::array<Vec2, 4> const& corners, Photo const& photo, bool by_hand) {
    for (std::size_t i = 0; i < 4; ++i) {
        Vec2 const a = corners[(i + 1) % 4] - corners[i];
        Vec2 const b = corners[(i + 2) % 4] - corners[(i + 1) % 4];
        if (!is_finite(corners[i]) || cross(a, b) <= 0.02 * glm::length(a) * glm::length(b))
            return no_paper("has paper corners that do not make a sheet",
                            "Set the four corners on the paper's corners");
        double const beyond = by_hand ? 0.25 * photo.width_px : 0.5;
        bool const out = corners[i].x < -beyond || corners[i].y < -beyond ||
                         corners[i].x > photo.width_px - 1 + beyond || corners[i].y > photo.height_px - 1 + beyond;
        if (out)
            return no_paper("shows a sheet of paper with a corner outside the picture",
                            "Step back until all four corners are in the picture, or set the corners by hand");
    }
    return std::nullopt;
}

// Whether the sheet has the shape of the paper that was named.
MaybeProblem check_shape(double ratio, KnownSheet paper) {
    double const seen = std::max(ratio, 1 / ratio);
    PaperSides const sides = sides_of(paper);
    double const asked = sides.long_mm / sides.short_mm;
    double const off = std::abs(std::log(seen / asked));
    if (off < 0.045) return std::nullopt;
    KnownSheet const other = paper == KnownSheet::letter ? KnownSheet::a4 : KnownSheet::letter;
    PaperSides const others = sides_of(other);
    bool const is_other = std::abs(std::log(seen * others.short_mm / others.long_mm)) < 0.03;
    return no_paper(
        fmt::format("shows a sheet {:.2f} times as long as wide; {} is {:.2f}", seen, name_of(paper), asked),
        is_other ? (other == KnownSheet::a4 ? "It looks like A4 or A5: choose that paper"
                                            : "It looks like letter: choose that paper")
                 : "Lay a whole flat sheet under the leaves, or set its corners by hand");
}

Outcome<PhotoScale> scale_of_sheet(Photo const& photo, FoundSheet const& sheet, KnownSheet paper) {
    PaperSides const sides = sides_of(paper);
    std::array<Vec2, 4> const corners = sheet.corners_px;
    SheetView const view = sheet_view(corners, photo.width_px, photo.height_px);
    bool const long_first = view.ratio > 1;
    double const a = long_first ? sides.long_mm : sides.short_mm;
    double const b = long_first ? sides.short_mm : sides.long_mm;
    auto const map = map_of(corners, {Vec2{0, 0}, Vec2{a, 0}, Vec2{a, b}, Vec2{0, b}});
    auto const back = map ? inverse_of(*map) : std::nullopt;
    if (!back) return no_paper("has paper corners that do not make a sheet", "Set the four corners by hand");
    PhotoScale scale;
    scale.mm_of_px = *map;
    scale.px_of_mm = *back;
    scale.tilt_deg = view.tilt_deg;
    scale.corners_px = corners;
    double const corner = std::sqrt(2.0) * sheet.corner_error_px / shortest_side(corners);
    double const bow = 0.5 * sheet.bow_px / shortest_side(corners);
    scale.error = std::sqrt(corner * corner + bow * bow + kPaperCut * kPaperCut);
    scale.error_from = bow > std::max(corner, kPaperCut) ? "sides of the sheet that bend in the picture"
                       : corner > kPaperCut              ? "how sharply the sheet's corners are seen"
                                                         : "sheets of paper vary by as much";
    return scale;
}

// Corners of another shape than the paper's are off by about half of that, whichever of them it is.
void doubt_corners(PhotoScale& scale, double ratio, PaperSides const& sides) {
    double const off = 0.5 * std::abs(std::log(std::max(ratio, 1 / ratio) * sides.short_mm / sides.long_mm));
    if (off < kFitsPaper) return;
    scale.error = std::hypot(scale.error, off);
    scale.error_from = "corners that do not fit the paper's shape";
}

Outcome<PhotoScale> scale_by_paper(Photo const& photo, Coarse const& coarse, TraceScale const& asked) {
    PaperSides const sides = sides_of(asked.paper);
    FoundSheet sheet;
    if (asked.corners_px) {
        sheet.corners_px = in_order(*asked.corners_px);
        sheet.corner_error_px = kHandCorner_px;
        if (auto const problem = check_corners(sheet.corners_px, photo, true)) return *problem;
        Outcome<PhotoScale> scale = scale_of_sheet(photo, sheet, asked.paper);
        if (scale) doubt_corners(*scale, sheet_view(sheet.corners_px, photo.width_px, photo.height_px).ratio, sides);
        return scale;
    }
    double const ratio = sides.long_mm / sides.short_mm;
    double const shrink = std::max(photo.width_px, photo.height_px) / 640.0;
    auto found = find_sheet(coarse, ratio);
    auto sharp = found ? sharpened(photo, *found, std::max(8.0, 4.0 * shrink)) : std::nullopt;
    if (!sharp || sharp->support < kSeen) { // a table full of lines
        auto const light = find_light_sheet(coarse);
        auto const better = light ? sharpened(photo, *light, std::max(8.0, 6.0 * shrink)) : std::nullopt;
        if (better && better->support > kLightSeen) {
            found = light;
            sharp = better;
        }
    }
    Problem const none =
        no_paper(fmt::format("shows no whole sheet of {} that could be found", name_of(asked.paper)),
                 "Lay the leaves on a whole sheet on a table of another colour, with all four corners in the picture");
    if (!found) return none;
    if (!sharp || sharp->support < kSeen) {
        if (auto const problem = check_corners(in_order(found->corners_px), photo, false)) return *problem;
        return none;
    }
    sheet = *sharp;
    sheet.corners_px = in_order(sheet.corners_px);
    if (auto const problem = check_corners(sheet.corners_px, photo, false)) return *problem;
    SheetView const view = sheet_view(sheet.corners_px, photo.width_px, photo.height_px);
    if (auto const problem = check_shape(view.ratio, asked.paper)) return *problem;
    return scale_of_sheet(photo, sheet, asked.paper);
}

PhotoScale even_scale(double px_per_mm, double error, std::string from) {
    PhotoScale scale;
    scale.px_of_mm = {px_per_mm, 0, 0, 0, px_per_mm, 0, 0, 0, 1};
    scale.mm_of_px = {1 / px_per_mm, 0, 0, 0, 1 / px_per_mm, 0, 0, 0, 1};
    scale.error = error;
    scale.error_from = std::move(from);
    return scale;
}

Outcome<PhotoScale> scale_by_bar(Photo const& photo, TraceScale const& asked) {
    double px = asked.bar_px / photo.shrunk;
    if (asked.bar_ends_px) px = glm::length((*asked.bar_ends_px)[1] - (*asked.bar_ends_px)[0]);
    if (!(asked.bar_mm >= 1 && asked.bar_mm <= 5000))
        return Problem{"range", "bar-mm", fmt::format("is {:g} mm; the range is 1 to 5000 mm", asked.bar_mm),
                       "Give the true length of the bar in millimetres"};
    if (!(px >= 20 && px <= 100000))
        return Problem{"range", "bar-px", fmt::format("is {:.0f} px; the bar must be at least 20 pixels long", px),
                       "Mark a longer bar: the longer, the truer"};
    double const clicks = std::sqrt(2.0) * kClick_px / px;
    return even_scale(px / asked.bar_mm, std::hypot(clicks, kLookedAslant),
                      clicks > kLookedAslant ? "how exactly the ends of the bar are marked"
                                             : "a camera that does not look straight down");
}

Outcome<PhotoScale> scale_by_dpi(Photo const& photo, TraceScale const& asked) {
    if (!(asked.dpi >= 20 && asked.dpi <= 20000))
        return Problem{"range", "dpi", fmt::format("is {:g}; the range is 20 to 20000 dots per inch", asked.dpi),
                       "Give the resolution that the scanner was set to"};
    return even_scale(asked.dpi / kMmPerInch / photo.shrunk, kScanner, "the scanner, if it was set to this resolution");
}

} // namespace

PaperSides sides_of(KnownSheet paper) {
    switch (paper) {
    case KnownSheet::a5:
        return {148, 210};
    case KnownSheet::letter:
        return {8.5 * kMmPerInch, 11 * kMmPerInch};
    default:
        return {210, 297};
    }
}

Vec2 PhotoScale::mm(Vec2 const& p) const { return mapped(mm_of_px, p); }
Vec2 PhotoScale::px(Vec2 const& p) const { return mapped(px_of_mm, p); }
double PhotoScale::px_per_mm(Vec2 const& p) const {
    Vec2 const here = mm(p);
    double const area = std::abs(cross(mm(p + Vec2{1, 0}) - here, mm(p + Vec2{0, 1}) - here));
    return area > 0 ? 1 / std::sqrt(area) : 0;
}

Outcome<PhotoScale> photo_scale(Photo const& photo, TraceScale const& scale) {
    bool const looks = scale.from == ScaleFrom::paper && !scale.corners_px;
    return scale_seen(photo, looks ? coarse_of(photo, kCoarseSide) : Coarse{}, scale);
}

Outcome<PhotoScale> scale_seen(Photo const& photo, Coarse const& coarse, TraceScale const& scale) {
    switch (scale.from) {
    case ScaleFrom::bar:
        return scale_by_bar(photo, scale);
    case ScaleFrom::dpi:
        return scale_by_dpi(photo, scale);
    default:
        return scale_by_paper(photo, coarse, scale);
    }
}

} // namespace leafwright
