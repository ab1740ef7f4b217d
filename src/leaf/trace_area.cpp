// Where leaves may lie: on the sheet, less its rim; where no sheet gives the scale, on one that is plainly seen, or
// anywhere.
#include "leaf/trace_work.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kRim_mm = 1.0;      // of the sheet, left out: its edge is soft
constexpr double kSheetShare = 0.25; // of the picture: smaller light things are labels and cards
constexpr double kInside = 0.01;     // of the picture's longer side: a scan is paper up to its edge
constexpr double kSeen = 0.35;       // of the sheet's edges
constexpr float kAllPaper = 0.6F;    // the picture's rim is as light as that share of its lightest part: no table

void fill(cv::Mat1b& area, Coarse const& coarse, std::array<Vec2, 4> const& corners_px) {
    std::vector<cv::Point> points;
    for (Vec2 const& p : corners_px) {
        Vec2 const at = coarse.coarse_of(p);
        points.emplace_back(cvRound(at.x * 16), cvRound(at.y * 16));
    }
    area.setTo(0);
    cv::fillPoly(area, std::vector<std::vector<cv::Point>>{points}, cv::Scalar(255), cv::LINE_8, 4);
}

// The sheet that gives the scale, less its rim, drawn from true lengths.
void fill_sheet(cv::Mat1b& area, Coarse const& coarse, PhotoScale const& scale) {
    Vec2 const high = scale.mm((*scale.corners_px)[2]);
    std::array<Vec2, 4> rim{Vec2{kRim_mm, kRim_mm}, Vec2{high.x - kRim_mm, kRim_mm},
                            Vec2{high.x - kRim_mm, high.y - kRim_mm}, Vec2{kRim_mm, high.y - kRim_mm}};
    for (Vec2& p : rim) p = scale.px(p);
    fill(area, coarse, rim);
}

bool lies_inside(FoundSheet const& sheet, Photo const& photo) {
    double const margin = kInside * std::max(photo.width_px, photo.height_px);
    for (Vec2 const& p : sheet.corners_px)
        if (p.x < margin || p.y < margin || p.x > photo.width_px - margin || p.y > photo.height_px - margin)
            return false;
    Ring const ring(sheet.corners_px.begin(), sheet.corners_px.end());
    return std::abs(signed_area(ring)) > kSheetShare * photo.width_px * photo.height_px;
}

bool is_all_paper(Coarse const& coarse) {
    cv::Mat3f const& light = coarse.light;
    int const wide = std::max(2, std::max(light.cols, light.rows) / 60);
    std::vector<float> all;
    std::vector<float> rim;
    for (int y = 0; y < light.rows; y += 3)
        for (int x = 0; x < light.cols; x += 3) {
            all.push_back(light(y, x)[1]);
            bool const inside = x >= wide && y >= wide && x < light.cols - wide && y < light.rows - wide;
            if (!inside) rim.push_back(all.back());
        }
    return quantile(rim, 0.5) > kAllPaper * quantile(all, 0.95);
}

// A sheet that lies wholly in the picture, on a table that is no paper: by its lightness, else by its edges as one of
// the usual shapes. Its size is not asked for.
std::optional<FoundSheet> sheet_on_table(Photo const& photo, Coarse const& coarse) {
    if (is_all_paper(coarse)) return {};
    std::array<std::optional<double>, 3> const ratios{std::nullopt, std::sqrt(2.0), 11 / 8.5};
    for (std::optional<double> const& ratio : ratios) {
        auto const found = ratio ? find_sheet(coarse, *ratio) : find_light_sheet(coarse);
        if (!found || !lies_inside(*found, photo)) continue;
        auto sharp = sharpened(photo, *found, std::max(8.0, 6.0 * coarse.step));
        if (sharp && sharp->support > kSeen) return sharp;
    }
    return {};
}

} // namespace

LeafArea leaf_area(Photo const& photo, Coarse const& coarse, PhotoScale const& scale) {
    LeafArea area{cv::Mat1b(coarse.light.size(), static_cast<unsigned char>(255)), {}};
    if (scale.corners_px) {
        fill_sheet(area.mask, coarse, scale);
        return area;
    }
    area.sheet = sheet_on_table(photo, coarse);
    if (!area.sheet) return area;
    fill(area.mask, coarse, area.sheet->corners_px);
    Vec2 const middle{0.5 * photo.width_px, 0.5 * photo.height_px};
    double const rim_px = (kRim_mm * scale.px_per_mm(middle) + area.sheet->bow_px) / coarse.step;
    int const side = 2 * static_cast<int>(std::ceil(std::clamp(rim_px, 1.0, 40.0))) + 1;
    cv::erode(area.mask, area.mask, cv::getStructuringElement(cv::MORPH_RECT, {side, side}));
    return area;
}

} // namespace leafwright
