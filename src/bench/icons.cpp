// Small pictures, drawn in a square of side 1 (y down) with one line width: clay filled, dark line.
#include "bench/panels.h"

#include "base/units.h"
#include "former/outline.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

// Draws in unit coordinates inside a rectangle, centred and undistorted.
class Pen {
public:
    Pen(ImDrawList& draw, ImVec2 low, ImVec2 high)
        : draw_(draw),
          size_(std::max(1.0F, std::min(high.x - low.x, high.y - low.y))),
          origin_{0.5F * (low.x + high.x - size_), 0.5F * (low.y + high.y - size_)},
          width_(std::max(1.4F, size_ / 22)) {}

    ImVec2 at(double x, double y) const {
        return {origin_.x + static_cast<float>(x) * size_, origin_.y + static_cast<float>(y) * size_};
    }
    float length(double share) const { return static_cast<float>(share) * size_; }

    void shape(std::vector<Vec2> const& points, ImU32 fill) {
        to_path(points);
        if (fill) draw_.AddConvexPolyFilled(path_.data(), static_cast<int>(path_.size()), fill);
        draw_.AddPolyline(path_.data(), static_cast<int>(path_.size()), paint::clay_dark, ImDrawFlags_Closed, width_);
    }
    void line(std::vector<Vec2> const& points, ImU32 ink = paint::clay_dark) {
        to_path(points);
        draw_.AddPolyline(path_.data(), static_cast<int>(path_.size()), ink, 0, width_);
    }
    void disc(double x, double y, double r, ImU32 fill) {
        draw_.AddCircleFilled(at(x, y), length(r), fill);
        draw_.AddCircle(at(x, y), length(r), paint::clay_dark, 0, width_);
    }
    void arrow(Vec2 const& from, Vec2 const& to) {
        Vec2 const along = glm::normalize(to - from);
        Vec2 const side{-along.y, along.x};
        line({from, to});
        line({to - 0.13 * along + 0.1 * side, to, to - 0.13 * along - 0.1 * side});
    }

private:
    void to_path(std::vector<Vec2> const& points) {
        path_.clear();
        for (Vec2 const& p : points) path_.push_back(at(p.x, p.y));
    }
    ImDrawList& draw_;
    float size_;
    ImVec2 origin_;
    float width_;
    std::vector<ImVec2> path_;
};

std::vector<Vec2> ellipse(Vec2 const& middle, double rx, double ry, double power = 2) {
    std::vector<Vec2> points;
    for (int i = 0; i < 40; ++i) {
        double const t = kTwoPi * i / 40;
        double const c = std::cos(t);
        double const s = std::sin(t);
        points.emplace_back(middle.x + rx * std::copysign(std::pow(std::abs(c), 2 / power), c),
                            middle.y + ry * std::copysign(std::pow(std::abs(s), 2 / power), s));
    }
    return points;
}

std::vector<Vec2> leaf_points(Vec2 const& middle, double length, double width, double turn_deg) {
    std::vector<Vec2> points;
    double const c = std::cos(radians(turn_deg));
    double const s = std::sin(radians(turn_deg));
    for (int i = 0; i < 24; ++i) {
        double const t = kTwoPi * i / 24;
        double const along = -0.5 * length * std::cos(t);
        double const across = 0.5 * width * std::sin(t) * (1 + 0.35 * std::cos(t));
        points.emplace_back(middle.x + c * across - s * along, middle.y + s * across + c * along);
    }
    return points;
}

void leaf(Pen& pen, Vec2 const& middle, double length, double width, double turn_deg, ImU32 fill = paint::clay_pale) {
    pen.shape(leaf_points(middle, length, width, turn_deg), fill);
    double const c = std::cos(radians(turn_deg));
    double const s = std::sin(radians(turn_deg));
    Vec2 const half{-s * 0.36 * length, c * 0.36 * length};
    pen.line({middle - half, middle + half});
}

std::vector<Vec2> dome(double y, double rx, double height, double power = 2) {
    std::vector<Vec2> points;
    for (int i = 0; i <= 24; ++i) {
        double const t = kPi * i / 24;
        double const c = std::cos(t);
        points.emplace_back(0.5 - rx * std::copysign(std::pow(std::abs(c), 2 / power), c),
                            y - height * std::pow(std::sin(t), 2 / power));
    }
    return points;
}

void flame(Pen& pen, double x, double y, double size) {
    std::vector<Vec2> points;
    for (Vec2 const& p : {Vec2(0, -1), Vec2(0.3, -0.5), Vec2(0.5, 0.05), Vec2(0.4, 0.5), Vec2(0, 0.7), Vec2(-0.4, 0.5),
                          Vec2(-0.5, 0.05), Vec2(-0.3, -0.5)})
        points.emplace_back(x + 0.5 * size * p.x, y + 0.5 * size * p.y);
    pen.shape(points, paint::clay);
}

void kiln(Pen& pen, int flames) {
    pen.shape({{0.12, 0.92}, {0.12, 0.4}, {0.25, 0.18}, {0.5, 0.08}, {0.75, 0.18}, {0.88, 0.4}, {0.88, 0.92}},
              paint::clay_pale);
    if (flames == 1)
        flame(pen, 0.5, 0.6, 0.42);
    else {
        flame(pen, 0.36, 0.62, 0.38);
        flame(pen, 0.64, 0.62, 0.38);
    }
}

} // namespace

void draw_stage_icon(ImDrawList& draw, MakingStage stage, ImVec2 low, ImVec2 high) {
    Pen pen(draw, low, high);
    switch (stage) {
    case MakingStage::knead:
        pen.shape(ellipse({0.5, 0.6}, 0.42, 0.28, 2.4), paint::clay);
        pen.line({{0.3, 0.55}, {0.42, 0.66}, {0.55, 0.56}, {0.7, 0.66}});
        break;
    case MakingStage::roll:
        pen.shape({{0.06, 0.78}, {0.2, 0.52}, {0.96, 0.52}, {0.82, 0.78}}, paint::clay_pale);
        pen.shape({{0.2, 0.58}, {0.68, 0.16}, {0.8, 0.28}, {0.32, 0.7}}, paint::clay);
        pen.line({{0.26, 0.64}, {0.1, 0.78}});
        pen.line({{0.74, 0.22}, {0.9, 0.08}});
        break;
    case MakingStage::drape:
        pen.shape(dome(0.8, 0.3, 0.4), paint::card);
        pen.line(dome(0.72, 0.42, 0.54));
        pen.line(dome(0.76, 0.36, 0.47));
        pen.line({{0.03, 0.84}, {0.97, 0.84}});
        break;
    case MakingStage::leaves:
        leaf(pen, {0.5, 0.5}, 0.88, 0.5, 215, paint::clay_pale);
        break;
    case MakingStage::features:
        pen.shape(dome(0.8, 0.45, 0.34), paint::clay_pale);
        pen.disc(0.5, 0.42, 0.2, paint::clay);
        break;
    case MakingStage::dry:
        pen.shape(dome(0.84, 0.3, 0.4), paint::clay);
        pen.line(dome(0.84, 0.44, 0.6));
        pen.line({{0.03, 0.85}, {0.97, 0.85}});
        pen.shape({{0.5, 0.02}, {0.56, 0.11}, {0.54, 0.17}, {0.46, 0.17}, {0.44, 0.11}}, paint::card);
        break;
    case MakingStage::first_firing:
        kiln(pen, 1);
        break;
    case MakingStage::finish:
        pen.shape({{0.12, 0.92}, {0.1, 0.7}, {0.26, 0.56}, {0.42, 0.7}, {0.3, 0.88}}, paint::clay);
        pen.shape({{0.3, 0.56}, {0.42, 0.68}, {0.92, 0.16}, {0.84, 0.08}}, paint::card);
        break;
    case MakingStage::last_firing:
        kiln(pen, 2);
        break;
    case MakingStage::hang:
        pen.line({{0.5, 0.12}, {0.22, 0.42}});
        pen.line({{0.5, 0.12}, {0.78, 0.42}});
        pen.disc(0.5, 0.12, 0.05, paint::card);
        pen.shape(ellipse({0.5, 0.64}, 0.36, 0.3), paint::clay);
        leaf(pen, {0.5, 0.64}, 0.36, 0.2, 180);
        break;
    }
}

void draw_outline_icon(ImDrawList& draw, OutlineKind kind, ImVec2 low, ImVec2 high) {
    Pen pen(draw, low, high);
    switch (kind) {
    case OutlineKind::round:
        pen.shape(ellipse({0.5, 0.5}, 0.44, 0.44), paint::clay_pale);
        break;
    case OutlineKind::oval:
        pen.shape(ellipse({0.5, 0.5}, 0.34, 0.46), paint::clay_pale);
        break;
    case OutlineKind::egg: {
        std::vector<Vec2> points = ellipse({0.5, 0.5}, 0.36, 0.46);
        for (Vec2& p : points) p.y = p.y < 0.5 ? 0.62 + (p.y - 0.5) * 0.58 / 0.46 : 0.62 + (p.y - 0.5) * 0.34 / 0.46;
        pen.shape(points, paint::clay_pale);
        break;
    }
    case OutlineKind::rounded:
        pen.shape(ellipse({0.5, 0.5}, 0.4, 0.44, 4.5), paint::clay_pale);
        break;
    case OutlineKind::free: {
        std::vector<Vec2> points;
        for (int i = 0; i < 48; ++i) {
            double const t = kTwoPi * i / 48;
            double const r = 0.38 + 0.05 * std::sin(2 * t + 0.6) + 0.035 * std::cos(3 * t);
            points.emplace_back(0.5 + r * std::cos(t), 0.5 + r * std::sin(t));
        }
        pen.shape(points, paint::clay_pale);
        for (int i = 0; i < 48; i += 8)
            pen.disc(points[static_cast<std::size_t>(i)].x, points[static_cast<std::size_t>(i)].y, 0.045, paint::card);
        break;
    }
    }
}

void draw_profile_icon(ImDrawList& draw, ProfileKind kind, ImVec2 low, ImVec2 high) {
    Pen pen(draw, low, high);
    switch (kind) {
    case ProfileKind::dome:
        pen.shape(dome(0.76, 0.44, 0.5), paint::clay_pale);
        break;
    case ProfileKind::saucer: {
        std::vector<Vec2> arc;
        for (int i = 0; i <= 20; ++i) {
            double const x = -1 + 0.1 * i;
            arc.emplace_back(0.5 + 0.46 * x, 0.72 - 0.28 * (1 - x * x));
        }
        pen.shape(arc, paint::clay_pale);
        break;
    }
    case ProfileKind::full:
        pen.shape(dome(0.76, 0.42, 0.46, 4.5), paint::clay_pale);
        break;
    case ProfileKind::tape:
        pen.shape(dome(0.8, 0.36, 0.4), paint::clay_pale);
        pen.line(dome(0.8, 0.45, 0.52), paint::leaf);
        for (int i = 1; i < 8; ++i) {
            double const t = kPi * i / 8;
            Vec2 const out{0.5 - 0.45 * std::cos(t), 0.8 - 0.52 * std::sin(t)};
            pen.line({out, out + Vec2(0.07 * std::cos(t), 0.07 * std::sin(t))}, paint::leaf);
        }
        break;
    }
    pen.line({{0.02, 0.8}, {0.98, 0.8}});
}

void draw_feature_icon(ImDrawList& draw, FeatureKind kind, ImVec2 low, ImVec2 high) {
    Pen pen(draw, low, high);
    switch (kind) {
    case FeatureKind::boss:
        pen.disc(0.5, 0.5, 0.36, paint::clay_pale);
        pen.disc(0.5, 0.5, 0.16, paint::clay);
        break;
    case FeatureKind::ridge:
        pen.shape(ellipse({0.5, 0.5}, 0.44, 0.16), paint::clay_pale);
        pen.line({{0.14, 0.5}, {0.86, 0.5}});
        break;
    case FeatureKind::opening:
        pen.disc(0.5, 0.5, 0.42, paint::clay_pale);
        pen.disc(0.5, 0.5, 0.28, paint::card);
        break;
    case FeatureKind::eye:
        pen.shape(ellipse({0.5, 0.5}, 0.42, 0.26, 1.5), paint::clay_pale);
        pen.disc(0.5, 0.5, 0.15, paint::clay);
        break;
    case FeatureKind::nose:
        pen.shape({{0.5, 0.1}, {0.74, 0.74}, {0.62, 0.88}, {0.38, 0.88}, {0.26, 0.74}}, paint::clay_pale);
        break;
    case FeatureKind::mouth:
        pen.shape(ellipse({0.5, 0.5}, 0.42, 0.18, 1.6), paint::clay_pale);
        pen.line({{0.14, 0.5}, {0.4, 0.54}, {0.6, 0.54}, {0.86, 0.5}});
        break;
    case FeatureKind::ear:
        leaf(pen, {0.5, 0.5}, 0.9, 0.4, 200);
        break;
    case FeatureKind::petal:
        leaf(pen, {0.5, 0.5}, 0.8, 0.62, 180);
        break;
    }
}

} // namespace leafwright
