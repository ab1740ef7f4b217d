// Leaf or paper, in the coarse picture.
//
// Seen against the paper beside it, a leaf has colour; a shadow is darker but has none (or a blue one, under the sky).
// Strong colour starts a leaf, weak colour beside it belongs to it. What is dark or grey without colour is a leaf only
// when its edge is sharp (a black-and-white scan, a silver leaf), and then it is told apart.
#include "leaf/trace_work.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>
#include <functional>

namespace leafwright {

namespace {

constexpr double kDarkPaper = 0.10;    // below that share of the brightest, the paper is dark
constexpr float kBlackL = 38;          // no shadow is as dark as that
constexpr double kFaint = 9;           // mean distance from the paper's colour; shadows come near to that
constexpr std::size_t kLeastPale = 60; // coarse pixels
constexpr float kBlueShare = 0.4F;     // how much of a blue tint counts as colour: shadows under the sky are blue

struct Look {
    cv::Mat1f colour; // distance from the paper's colour
    cv::Mat1f dark;   // how much darker than the paper, in L; negative: lighter
    bool dark_paper = false;
};

Look look_of(Coarse const& coarse, Ground const& ground) {
    Look look;
    look.dark_paper = ground.luma < kDarkPaper;
    cv::Size const size = coarse.light.size();
    look.colour.create(size);
    look.dark.create(size);
    if (look.dark_paper) { // nothing can be much darker, and shadows hardly show
        cv::Mat3f const lab = lab_of(coarse.light);
        cv::Mat3f const paper = lab_of(ground.light);
        for (int y = 0; y < size.height; ++y)
            for (int x = 0; x < size.width; ++x) {
                cv::Vec3f const d = lab(y, x) - paper(y, x);
                look.colour(y, x) = std::sqrt(d.dot(d));
                look.dark(y, x) = 0;
            }
        return look;
    }
    cv::Mat3f even;
    cv::divide(coarse.light, ground.light, even);
    cv::min(even, 1.6, even);
    cv::blur(even, even, {3, 3});
    cv::Mat3f const lab = lab_of(even);
    for (int y = 0; y < size.height; ++y)
        for (int x = 0; x < size.width; ++x) {
            cv::Vec3f const v = lab(y, x);
            look.colour(y, x) = std::hypot(v[1], v[2] < 0 ? kBlueShare * v[2] : v[2]);
            // Lab ends at the white of the paper; what is lighter has its lightness by the same rule.
            cv::Vec3f const& e = even(y, x);
            float const mean = (e[0] + e[1] + e[2]) / 3;
            look.dark(y, x) = mean > 1 ? 116 * (1 - std::cbrt(mean)) : 100 - v[0];
        }
    return look;
}

struct Levels {
    float low = 5;
    float high = 10;
    float sure = 8; // no tint of a shadow
};
Levels levels_of(Look const& look, Ground const& ground, cv::Mat1b const& area) {
    Levels levels;
    levels.low = std::max(5.0F, 5 * static_cast<float>(ground.noise_ab));
    float const sure = levels.sure = std::max(8.0F, 1.5F * levels.low);
    std::vector<float> strong;
    for (int y = 0; y < area.rows; y += 2)
        for (int x = 0; x < area.cols; x += 2)
            if (area(y, x) && look.colour(y, x) > sure) strong.push_back(look.colour(y, x));
    levels.high = std::clamp(0.45F * quantile(strong, 0.7), sure, std::max(sure, 22.0F));
    return levels;
}

using Wanted = std::function<bool(int x, int y)>;
cv::Mat1b marked(cv::Mat1b const& area, Wanted const& wanted) {
    cv::Mat1b out(area.size());
    for (int y = 0; y < area.rows; ++y)
        for (int x = 0; x < area.cols; ++x) out(y, x) = area(y, x) && wanted(x, y) ? 255 : 0;
    return out;
}

// The connected parts of `weak` that hold enough of `strong`.
cv::Mat1b grown(cv::Mat1b const& weak, cv::Mat1b const& strong) {
    cv::Mat1i labels;
    int const count = cv::connectedComponents(weak, labels, 8, CV_32S);
    std::vector<int> hits(static_cast<std::size_t>(count), 0);
    for (int y = 0; y < weak.rows; ++y)
        for (int x = 0; x < weak.cols; ++x)
            if (strong(y, x)) ++hits[static_cast<std::size_t>(labels(y, x))];
    cv::Mat1b out(weak.size());
    for (int y = 0; y < weak.rows; ++y)
        for (int x = 0; x < weak.cols; ++x)
            out(y, x) = weak(y, x) && hits[static_cast<std::size_t>(labels(y, x))] >= 4 ? 255 : 0;
    return out;
}

// One part without colour: kept (thresholded anew) when its edge is sharp.
struct GreyPart {
    std::vector<float> dark;
    double slope = 0; // summed over its edge
    int edge = 0;
    bool beside_leaf = false;
    bool keeps = false;
    float level = 0;
};

// field: how dark, or how coloured.
std::vector<GreyPart> grey_parts(cv::Mat1f const& field, cv::Mat1i const& labels, int count, cv::Mat1b const& leaf) {
    std::vector<GreyPart> parts(static_cast<std::size_t>(count));
    cv::Mat1b near_leaf;
    cv::dilate(leaf, near_leaf, cv::Mat1b::ones(5, 5));
    for (int y = 1; y + 1 < labels.rows; ++y)
        for (int x = 1; x + 1 < labels.cols; ++x) {
            int const label = labels(y, x);
            if (label == 0) continue;
            GreyPart& part = parts[static_cast<std::size_t>(label)];
            part.dark.push_back(field(y, x));
            part.beside_leaf = part.beside_leaf || near_leaf(y, x);
        }
    for (GreyPart& part : parts) part.level = 0.5F * quantile(part.dark, 0.8);
    // The slope where its darkness passes the middle.
    for (int y = 1; y + 1 < labels.rows; ++y)
        for (int x = 1; x + 1 < labels.cols; ++x) {
            int const label = labels(y, x);
            if (label == 0) continue;
            GreyPart& part = parts[static_cast<std::size_t>(label)];
            float const here = field(y, x);
            bool const edge = here >= part.level && (field(y, x - 1) < part.level || field(y, x + 1) < part.level ||
                                                     field(y - 1, x) < part.level || field(y + 1, x) < part.level);
            if (!edge) continue;
            ++part.edge;
            part.slope += static_cast<double>(
                0.5F * std::hypot(field(y, x + 1) - field(y, x - 1), field(y + 1, x) - field(y - 1, x)));
        }
    for (GreyPart& part : parts)
        part.keeps =
            !part.beside_leaf && part.edge > 0 && part.slope / part.edge > 0.13 * static_cast<double>(2 * part.level);
    return parts;
}

// Adds the parts without colour to the mask; gives them as a mask of their own too.
cv::Mat1b add_grey(Look const& look, Ground const& ground, cv::Mat1b const& area, cv::Mat1b& mask) {
    float const least = std::max(14.0F, 7 * static_cast<float>(ground.noise_l));
    cv::Mat1b const found = marked(area, [&](int x, int y) { return !mask(y, x) && look.dark(y, x) > least; });
    cv::Mat1i labels;
    int const count = cv::connectedComponents(found, labels, 8, CV_32S);
    std::vector<GreyPart> const parts = grey_parts(look.dark, labels, count, mask);
    cv::Mat1b grey = marked(area, [&](int x, int y) {
        int const label = labels(y, x);
        if (label == 0) return false;
        GreyPart const& part = parts[static_cast<std::size_t>(label)];
        return part.keeps && look.dark(y, x) > part.level;
    });
    cv::bitwise_or(mask, grey, mask);
    return grey;
}

// A pale leaf beside bright ones: weak colour alone, but with a sharp edge, which the tint of a shadow has not.
void add_pale(Look const& look, cv::Mat1b const& weak, float sure, cv::Mat1b& mask) {
    cv::Mat1b rest;
    cv::bitwise_and(weak, ~mask, rest);
    cv::Mat1i labels;
    int const count = cv::connectedComponents(rest, labels, 8, CV_32S);
    std::vector<GreyPart> parts = grey_parts(look.colour, labels, count, mask);
    for (GreyPart& part : parts)
        part.keeps = part.keeps && part.dark.size() > kLeastPale && quantile(part.dark, 0.5) > sure;
    for (int y = 0; y < mask.rows; ++y)
        for (int x = 0; x < mask.cols; ++x)
            if (labels(y, x) != 0 && parts[static_cast<std::size_t>(labels(y, x))].keeps) mask(y, x) = 255;
}

void part_leaves(Mask& mask, cv::Mat1b const& leaf, cv::Mat1b const& grey, cv::Mat1b const& area, double least_px) {
    cv::Mat stats;
    cv::Mat centres;
    cv::Mat1i labels;
    int const count = cv::connectedComponentsWithStats(leaf, labels, stats, centres, 8, CV_32S);
    std::vector<int> grey_px(static_cast<std::size_t>(count), 0);
    std::vector<char> at_edge(static_cast<std::size_t>(count), 0);
    cv::Mat1b inner;
    cv::erode(area, inner, cv::Mat1b::ones(3, 3), {-1, -1}, 1, cv::BORDER_CONSTANT, cv::Scalar(0));
    for (int y = 0; y < labels.rows; ++y)
        for (int x = 0; x < labels.cols; ++x) {
            auto const label = static_cast<std::size_t>(labels(y, x));
            if (label == 0) continue;
            if (grey(y, x)) ++grey_px[label];
            if (!inner(y, x)) at_edge[label] = 1;
        }
    std::vector<int> renamed(static_cast<std::size_t>(count), 0);
    for (int k = 1; k < count; ++k) {
        double const size = stats.at<int>(k, cv::CC_STAT_AREA);
        if (size < least_px) continue;
        Part part;
        part.label = static_cast<int>(mask.parts.size()) + 1;
        part.box = {stats.at<int>(k, cv::CC_STAT_LEFT), stats.at<int>(k, cv::CC_STAT_TOP),
                    stats.at<int>(k, cv::CC_STAT_WIDTH), stats.at<int>(k, cv::CC_STAT_HEIGHT)};
        part.area_px = size;
        part.touches_edge = at_edge[static_cast<std::size_t>(k)];
        part.grey = grey_px[static_cast<std::size_t>(k)] > 0.5 * size;
        renamed[static_cast<std::size_t>(k)] = part.label;
        mask.parts.push_back(part);
    }
    mask.labels.create(labels.size());
    for (int y = 0; y < labels.rows; ++y)
        for (int x = 0; x < labels.cols; ++x) mask.labels(y, x) = renamed[static_cast<std::size_t>(labels(y, x))];
}

void mark_faint(Look const& look, Mask& mask) {
    std::vector<double> colour(mask.parts.size() + 1, 0);
    std::vector<int> count(mask.parts.size() + 1, 0);
    for (int y = 0; y < mask.labels.rows; ++y)
        for (int x = 0; x < mask.labels.cols; ++x) {
            auto const label = static_cast<std::size_t>(mask.labels(y, x));
            if (label == 0) continue;
            colour[label] += static_cast<double>(look.colour(y, x));
            ++count[label];
        }
    for (Part& part : mask.parts) {
        auto const label = static_cast<std::size_t>(part.label);
        part.faint = colour[label] < kFaint * count[label];
    }
}

} // namespace

Mask leaf_mask(Coarse const& coarse, Ground const& ground, cv::Mat1b const& area, std::vector<CutLine> const& cuts,
               double least_px) {
    Look const look = look_of(coarse, ground);
    Levels const levels = levels_of(look, ground, area);
    cv::Mat1b const weak =
        marked(area, [&](int x, int y) { return look.colour(y, x) > levels.low || look.dark(y, x) > 100 - kBlackL; });
    // What is black goes with the colour that it lies beside; alone it is judged with the grey, whole.
    cv::Mat1b const strong = marked(area, [&](int x, int y) {
        return look.colour(y, x) > levels.high || (look.dark(y, x) > 100 - kBlackL && look.colour(y, x) > levels.low);
    });
    cv::Mat1b leaf = grown(weak, strong);
    add_pale(look, weak, levels.sure, leaf);
    cv::Mat1b grey(area.size(), 0);
    if (!look.dark_paper) grey = add_grey(look, ground, area, leaf);
    cv::Mat1b lines(area.size(), 0);
    for (CutLine const& cut : cuts) {
        Vec2 const a = coarse.coarse_of(cut.from_px);
        Vec2 const b = coarse.coarse_of(cut.to_px);
        cv::line(lines, {cvRound(a.x), cvRound(a.y)}, {cvRound(b.x), cvRound(b.y)}, cv::Scalar(255), 2);
    }
    Mask mask;
    if (!cuts.empty()) {
        cv::bitwise_and(lines, leaf, mask.cut);
        cv::dilate(mask.cut, mask.cut, cv::Mat1b::ones(7, 7));
        leaf.setTo(0, lines);
    }
    part_leaves(mask, leaf, grey, area, least_px);
    bool const any_leaf = std::any_of(mask.parts.begin(), mask.parts.end(), [](Part const& p) { return !p.grey; });
    if (!any_leaf)
        for (Part& part : mask.parts) part.grey = false; // a picture without colour
    mark_faint(look, mask);
    if (!look.dark_paper) {
        mask.colour = look.colour;
        mask.dark = look.dark;
    }
    return mask;
}

} // namespace leafwright
