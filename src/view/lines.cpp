#include "view/lines.h"

#include "base/units.h"
#include "rows/row_guide.h"

#include <cmath>
#include <cstddef>

namespace leafwright {
namespace {

constexpr int kRowPoints = 240;
constexpr double kAbove_mm = 0.7;

LineVertex vertex_of(LaidPoint const& point, double height_mm) {
    return {floats(point.position + height_mm * point.normal), floats({point.chart, height_mm}), 0};
}

double step_between(LineVertex const& a, LineVertex const& b) {
    double sum = 0;
    for (std::size_t k = 0; k < 3; ++k) sum += std::pow(static_cast<double>(a.position[k] - b.position[k]), 2);
    return std::sqrt(sum);
}

void add_row(LineSet& lines, Plan const& plan, RowGuide const& guide) {
    std::vector<LineVertex> run;
    for (int k = 0; k < kRowPoints; ++k) {
        double const azimuth = kTwoPi * k / kRowPoints;
        LaidPoint const at = plan.outer_face->at({azimuth, guide.from_crown_mm(azimuth)});
        double const height = plan.stack ? plan.stack->height.at(at.chart) : 0.0;
        run.push_back(vertex_of(at, height + kAbove_mm));
    }
    lines.add_run(run, true);
}

} // namespace

void LineSet::add_run(std::span<LineVertex const> points, bool closed) {
    double along = 0;
    std::size_t const count = points.size(), last = closed ? count : count - 1;
    for (std::size_t i = 0; count > 1 && i < last; ++i) {
        LineVertex a = points[i], b = points[(i + 1) % count];
        a.along_mm = static_cast<float>(along);
        along += step_between(a, b);
        b.along_mm = static_cast<float>(along);
        segments_.push_back(a);
        segments_.push_back(b);
    }
}

GpuLines::GpuLines() : array_(make_array()), vertices_(make_buffer()) {
    glBindVertexArray(array_.name());
    glBindBuffer(GL_ARRAY_BUFFER, vertices_.name());
    auto const attribute = [](GLuint index, GLint size, std::size_t offset) {
        glEnableVertexAttribArray(index);
        glVertexAttribPointer(index, size, GL_FLOAT, GL_FALSE, sizeof(LineVertex),
                              reinterpret_cast<void const*>(offset));
    };
    attribute(0, 3, offsetof(LineVertex, position));
    attribute(1, 3, offsetof(LineVertex, flat));
    attribute(2, 1, offsetof(LineVertex, along_mm));
    glBindVertexArray(0);
}

void GpuLines::update(LineSet const& lines) {
    glBindBuffer(GL_ARRAY_BUFFER, vertices_.name());
    glBufferData(GL_ARRAY_BUFFER, static_cast<GLsizeiptr>(lines.segments().size() * sizeof(LineVertex)),
                 lines.segments().data(), GL_DYNAMIC_DRAW);
    count_ = static_cast<GLsizei>(lines.segments().size());
}

void GpuLines::draw() const {
    if (count_ == 0) return;
    glBindVertexArray(array_.name());
    glDrawArrays(GL_LINES, 0, count_);
}

std::vector<LineVertex> outline_of(Mesh const& mesh, std::size_t begin, std::size_t end) {
    std::vector<LineVertex> run;
    for (std::size_t i = begin; i < end; ++i) {
        MeshVertex const& vertex = mesh.vertices[i];
        LineVertex line{vertex.position, vertex.flat, 0};
        for (std::size_t k = 0; k < 3; ++k) {
            line.position[k] += static_cast<float>(vertex.normal[k]) * (0.4f / 127);
            line.flat[k] += static_cast<float>(vertex.flat_normal[k]) * (0.4f / 127);
        }
        run.push_back(line);
    }
    return run;
}

LineSet row_lines(Plan const& plan) {
    LineSet lines;
    for (RowGuide const& guide : row_guides(plan.piece.leaves)) add_row(lines, plan, guide);
    return lines;
}

LineSet rim_line(ClaySurface const& face) {
    std::vector<LineVertex> run;
    for (Vec2 const& p : face.rim_chart(360)) run.push_back(vertex_of(face.at_chart(p), 0.1));
    LineSet lines;
    lines.add_run(run, true);
    return lines;
}

} // namespace leafwright
