// The sheet as the light, colourless part of the picture: where the lines of the table (boards, grain, tiles) drown the
// sheet's own edges.
#include "leaf/trace_work.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kSide = 400;
constexpr double kLeastShare = 0.06; // of the picture
constexpr double kFits = 0.94;       // of the four-sided figure: filled by the part

cv::Mat1b light_part(cv::Mat3f const& small) {
    cv::Mat3f lab = lab_of(small);
    cv::GaussianBlur(lab, lab, {}, 2.0);
    cv::Mat1b field(lab.size());
    for (int y = 0; y < lab.rows; ++y)
        for (int x = 0; x < lab.cols; ++x) {
            cv::Vec3f const v = lab(y, x);
            float const pale = v[0] - 0.7F * std::hypot(v[1], v[2]);
            field(y, x) = static_cast<unsigned char>(std::clamp(2.2F * pale + 25.0F, 0.0F, 255.0F));
        }
    cv::Mat1b mask;
    cv::threshold(field, mask, 0, 255, cv::THRESH_BINARY | cv::THRESH_OTSU);
    cv::morphologyEx(mask, mask, cv::MORPH_OPEN, cv::getStructuringElement(cv::MORPH_ELLIPSE, {7, 7}));
    return mask;
}

// The hull with sides taken away until four are left.
std::optional<std::array<Vec2, 4>> four_sided(std::vector<cv::Point> const& contour) {
    std::vector<cv::Point> hull;
    cv::convexHull(contour, hull);
    double const round = cv::arcLength(hull, true);
    for (double share = 0.005; share < 0.08; share *= 1.25) {
        std::vector<cv::Point> four;
        cv::approxPolyDP(hull, four, share * round, true);
        if (four.size() < 4) return std::nullopt;
        if (four.size() > 4) continue;
        if (cv::contourArea(contour) < kFits * cv::contourArea(four)) return std::nullopt;
        std::array<Vec2, 4> corners;
        for (std::size_t i = 0; i < 4; ++i) corners[i] = {four[i].x, four[i].y};
        return corners;
    }
    return std::nullopt;
}

// Lines through the contour's points near each side, and where they meet.
std::array<Vec2, 4> fitted_corners(std::vector<cv::Point> const& contour, std::array<Vec2, 4> corners) {
    for (double const reach : {6.0, 2.5}) {
        std::array<cv::Vec4f, 4> lines;
        for (std::size_t i = 0; i < 4; ++i) {
            Vec2 const a = corners[i];
            Vec2 const way = corners[(i + 1) % 4] - a;
            std::vector<cv::Point> near;
            for (cv::Point const& c : contour) {
                Vec2 const p{c.x, c.y};
                double const along = glm::dot(p - a, way) / glm::dot(way, way);
                if (along > 0.06 && along < 0.94 && std::abs(cross(way, p - a)) < reach * glm::length(way))
                    near.push_back(c);
            }
            if (near.size() < 20) return corners;
            cv::fitLine(near, lines[i], cv::DIST_HUBER, 0, 0.01, 0.01);
        }
        for (std::size_t i = 0; i < 4; ++i) {
            cv::Vec4f const& k = lines[(i + 3) % 4];
            cv::Vec4f const& m = lines[i];
            Vec2 const d{k[0], k[1]};
            Vec2 const e{m[0], m[1]};
            double const det = cross(d, e);
            if (std::abs(det) < 0.1) return corners;
            Vec2 const p{k[2], k[3]};
            corners[i] = p + d * (cross(Vec2{m[2], m[3]} - p, e) / det);
        }
    }
    return corners;
}

} // namespace

std::optional<FoundSheet> find_light_sheet(Coarse const& coarse) {
    double const shrink = std::max(1.0, std::max(coarse.light.cols, coarse.light.rows) / static_cast<double>(kSide));
    cv::Mat3f small;
    cv::resize(coarse.light, small, {}, 1 / shrink, 1 / shrink, cv::INTER_AREA);
    std::vector<std::vector<cv::Point>> contours;
    cv::findContours(light_part(small), contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    double most = kLeastShare * static_cast<double>(small.total());
    std::optional<FoundSheet> best;
    for (auto const& contour : contours) {
        double const size = cv::contourArea(contour);
        if (size <= most) continue;
        auto corners = four_sided(contour);
        if (!corners) continue;
        corners = fitted_corners(contour, *corners);
        most = size;
        best.emplace();
        for (std::size_t i = 0; i < 4; ++i) best->corners_px[i] = coarse.px_of(((*corners)[i] + 0.5) * shrink - 0.5);
    }
    return best;
}

} // namespace leafwright
