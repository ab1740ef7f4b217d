#include "sheet/plot_paper.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr Ink kInk{0.16, 0.14, 0.12};
constexpr Ink kSoft{0.42, 0.39, 0.35};
constexpr Ink kGrid{0.88, 0.85, 0.80};
constexpr Ink kClay{0.93, 0.87, 0.80};
constexpr Ink kWall{0.86, 0.84, 0.80};

using Points = std::vector<Vec2>;

// Dashes and dots along the line, right round its corners.
void broken(Paper& paper, Points const& points, double on, double off, double width, Ink const& ink) {
    double done = 0;
    Points piece;
    for (std::size_t i = 1; i < points.size(); ++i) {
        Vec2 const a = points[i - 1];
        double const length = glm::length(points[i] - a);
        for (double at = 0; at < length;) {
            double const to = std::min(length, at + (done < on - 1e-6 ? on : on + off) - done);
            auto const between = [&](double s) { return a + (points[i] - a) * (s / length); };
            if (done < on - 1e-6) {
                if (piece.empty()) piece.push_back(between(at));
                piece.push_back(between(to));
            }
            done += to - at;
            at = std::max(to, at + 1e-6);
            if (done >= on - 1e-6 && !piece.empty()) {
                paper.line(piece, width, ink);
                piece.clear();
            }
            if (done >= on + off - 1e-6) done = 0;
        }
    }
    if (piece.size() > 1) paper.line(piece, width, ink);
}

void stroke(Paper& paper, Points const& points, Stroke pattern, bool thick) {
    double const width = thick ? 0.5 : 0.35;
    if (points.empty()) return;
    switch (pattern) {
    case Stroke::plain:
        return paper.line(points, width, kInk);
    case Stroke::dashed:
        return broken(paper, points, 2.2, 1.3, width, kInk);
    case Stroke::dotted:
        return broken(paper, points, 0.5, 0.9, width, kInk);
    case Stroke::crosses:
        for (Vec2 const& p : points) {
            paper.line(Points{p - Vec2(1, 1), p + Vec2(1, 1)}, width, kInk);
            paper.line(Points{p - Vec2(1, -1), p + Vec2(1, -1)}, width, kInk);
        }
    }
}

struct Ground {
    Plot const& plot;
    Box2 box;
    Vec2 at(Vec2 const& p) const {
        Vec2 const share = (p - plot.low) / (plot.high - plot.low);
        return {box.low.x + share.x * box.size().x, box.high.y - share.y * box.size().y};
    }
};

std::string tick_text(double value, std::vector<double> const& ticks) {
    double const step = ticks.size() > 1 ? ticks[1] - ticks[0] : 1;
    return fmt::format("{:.{}f}", value, step < 0.0999 ? 2 : step < 0.999 ? 1 : 0);
}

void grid(Paper& paper, Ground const& g) {
    TextStyle const right{.size_mm = 2.6, .align = Align::right, .ink = kSoft};
    TextStyle const centre{.size_mm = 2.6, .align = Align::centre, .ink = kSoft};
    for (double tick : g.plot.up_ticks) {
        double const y = g.at({0, tick}).y;
        paper.line(Points{{g.box.low.x, y}, {g.box.high.x, y}}, 0.15, kGrid);
        paper.text({g.box.low.x - 1, y + 0.9}, tick_text(tick, g.plot.up_ticks), right);
    }
    for (double tick : g.plot.across_ticks) {
        double const x = g.at({tick, 0}).x;
        paper.line(Points{{x, g.box.low.y}, {x, g.box.high.y}}, 0.15, kGrid);
        paper.text({x, g.box.high.y + 3.2}, tick_text(tick, g.plot.across_ticks), centre);
    }
    for (PlotSpan const& span : g.plot.spans) {
        double const from = g.at({span.from, 0}).x;
        double const to = g.at({span.to, 0}).x;
        paper.line(Points{{from, g.box.low.y}, {from, g.box.low.y + 4}}, 0.3, kSoft);
        paper.line(Points{{from, g.box.low.y + 4}, {to, g.box.low.y + 4}}, 0.15, kSoft);
        if (to - from > paper.text_width(span.label, centre) + 1)
            paper.text({(from + to) / 2, g.box.low.y + 3}, span.label, centre);
    }
    Points const frame{g.box.low, {g.box.high.x, g.box.low.y}, g.box.high, {g.box.low.x, g.box.high.y}};
    paper.line(frame, 0.25, kSoft, true);
}

void marks(Paper& paper, Ground const& g) {
    for (PlotMark const& mark : g.plot.marks) {
        Vec2 const at = g.at(mark.level ? Vec2(g.plot.low.x, mark.at) : Vec2(mark.at, g.plot.low.y));
        Points const line = mark.level ? Points{{g.box.low.x, at.y}, {g.box.high.x, at.y}}
                                       : Points{{at.x, g.box.low.y}, {at.x, g.box.high.y}};
        broken(paper, line, 0.9, 0.9, 0.2, kSoft);
        TextStyle const words{.size_mm = 2.6, .align = mark.level ? Align::right : Align::left, .ink = kSoft};
        paper.text(mark.level ? Vec2(g.box.low.x + mark.word_at * g.box.size().x - 1, at.y - 0.7)
                              : Vec2(at.x + 0.8, g.box.low.y + 7.5),
                   mark.label, words);
    }
}

} // namespace

void plot_on(Paper& paper, Box2 const& box, Plot const& plot) {
    TextStyle const words{.size_mm = 2.7};
    paper.text({box.low.x, box.low.y + 2}, plot.title, {.size_mm = 3.2, .weight = Weight::bold});
    double x = box.low.x;
    double const list = box.low.y + 6.2;
    for (PlotLine const& line : plot.lines) {
        if (line.stroke == Stroke::crosses)
            stroke(paper, Points{{x + 3, list - 1}}, line.stroke, false);
        else
            stroke(paper, Points{{x, list - 1}, {x + 7, list - 1}}, line.stroke, line.thick);
        x += 8.5 + paper.text({x + 8, list}, line.label, words) + 4;
    }
    paper.text({box.low.x, box.low.y + 10.2}, plot.up, {.size_mm = 2.6, .ink = kSoft});
    paper.text({box.high.x, box.low.y + 10.2}, "across: " + plot.across,
               {.size_mm = 2.6, .align = Align::right, .ink = kSoft});
    Ground const g{plot, {{box.low.x + 8, box.low.y + 12}, {box.high.x, box.high.y - 4}}};
    grid(paper, g);
    marks(paper, g);
    for (PlotLine const& line : plot.lines) {
        Points points;
        for (Vec2 const& p : line.points)
            points.push_back(
                g.at({std::clamp(p.x, plot.low.x, plot.high.x), std::clamp(p.y, plot.low.y, plot.high.y)}));
        stroke(paper, points, line.stroke, line.thick);
    }
}

void drawing_on(Paper& paper, Box2 const& box, LineDrawing const& drawing) {
    Box2 const own = drawing.box();
    double const scale =
        std::min(box.size().x / std::max(1.0, own.size().x), box.size().y / std::max(1.0, own.size().y));
    auto const on_page = [&](Vec2 const& p) {
        Vec2 const d = scale * (p - own.centre());
        return box.centre() + Vec2(d.x, -d.y);
    };
    for (DrawnShape const& shape : drawing.shapes) {
        Points points;
        for (Vec2 const& p : shape.points) points.push_back(on_page(p));
        if (shape.filled) paper.fill(points, shape.pen == Pen::clay ? kClay : kWall);
        double const width = shape.pen == Pen::wire ? 0.5 : 0.25;
        paper.line(points, width, shape.pen == Pen::soft ? kSoft : kInk, shape.closed, shape.dashed);
    }
    for (DrawnWord const& word : drawing.words) {
        Align const align = word.side < 0 ? Align::right : word.side == 0 ? Align::centre : Align::left;
        paper.text(on_page(word.at) + Vec2(0, 1), word.text, {.size_mm = 2.8, .align = align});
    }
}

} // namespace leafwright
