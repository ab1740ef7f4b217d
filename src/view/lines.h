// Thin lines over the clay: outlines of what is selected, rows, the slab's edge.
#pragma once

#include "piece/plan.h"
#include "view/gl.h"

namespace leafwright {

struct LineVertex {
    std::array<float, 3> position{};
    std::array<float, 3> flat{};
    float along_mm = 0;
};

// Closed or open runs of points, kept as single segments.
class LineSet {
public:
    void add_run(std::span<LineVertex const> points, bool closed);
    std::vector<LineVertex> const& segments() const { return segments_; }

private:
    std::vector<LineVertex> segments_; // two by two
};

class GpuLines {
public:
    GpuLines();
    void update(LineSet const& lines);
    void draw() const;

private:
    GlArray array_;
    GlBuffer vertices_;
    GLsizei count_ = 0;
};

// The first `outline` vertices of a leaf's mesh, a hair above it.
std::vector<LineVertex> outline_of(Mesh const& mesh, std::size_t begin, std::size_t end);

// One closed line for each row of leaves: the smoothed mean of how far their middles lie from the crown.
LineSet row_lines(Plan const& plan);
// The rim, once.
LineSet rim_line(ClaySurface const& face);

} // namespace leafwright
