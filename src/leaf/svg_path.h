// Path data and basic shapes as flat lines (SVG 1.1, chapters 8 and 9; arcs by its appendix F.6).
#pragma once

#include "base/polygon.h"
#include "leaf/svg_text.h"

#include <string_view>

namespace leafwright {

struct FlatPath {
    std::vector<Vec2> points;
    bool closed = false;
};

// Gathers lines and curves, flattened so that no chord lies farther than the tolerance (user units) from its curve.
class PathPen {
public:
    PathPen(double tolerance, std::size_t most_points) : tolerance_(tolerance), most_(most_points) {}
    void move(Vec2 const& to);
    void line(Vec2 const& to);
    void cubic(Vec2 const& first, Vec2 const& second, Vec2 const& to);
    void quadratic(Vec2 const& handle, Vec2 const& to);
    void arc(Vec2 radii, double turn_deg, bool large, bool sweep, Vec2 const& to);
    void close();
    Vec2 at() const { return at_; }
    bool full() const { return count_ >= most_; }
    std::vector<FlatPath> take() { return std::move(paths_); }

private:
    void add(Vec2 const& p);
    int parts(double bend) const; // of a curve whose second derivative is at most that
    double tolerance_;
    std::size_t most_;
    std::size_t count_ = 0;
    Vec2 at_{0, 0};
    Vec2 start_{0, 0};
    bool open_ = false; // a subpath is being drawn
    std::vector<FlatPath> paths_;
};

// Path data drawn with the pen, up to its first fault as SVG asks; the answer is its place in the text, or npos.
std::size_t draw_path(std::string_view data, PathPen& pen);

// A list of points, as polygon and polyline have it; up to its first fault.
std::size_t draw_points(std::string_view data, bool closed, PathPen& pen);
void draw_rect(Vec2 const& corner, Vec2 const& size, Vec2 radii, PathPen& pen);
void draw_ellipse(Vec2 const& centre, Vec2 const& radii, PathPen& pen);

} // namespace leafwright
