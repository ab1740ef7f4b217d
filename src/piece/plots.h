// Curves of the second half, ready to be drawn in the window or on paper.
#pragma once

#include "piece/second_half.h"

namespace leafwright {

enum class Stroke { plain, dashed, dotted, crosses };

struct PlotLine {
    std::string label; // "wettest place"
    Stroke stroke = Stroke::plain;
    bool thick = false;
    std::vector<Vec2> points; // rising across; crosses stand for readings and are not joined
};

// A thin line right through: level at a height, else upright.
struct PlotMark {
    double at = 0;
    std::string label;
    bool level = false;
    double word_at = 1; // of a level: where its word ends, share of the way across
};

// A part of the axis across, with a word in it.
struct PlotSpan {
    double from = 0;
    double to = 0;
    std::string label;
};

struct Plot {
    std::string title;
    std::string across; // "days"
    std::string up;     // the unit upward: "%", "°C"
    Vec2 low{0, 0};
    Vec2 high{1, 1};
    std::vector<double> across_ticks;
    std::vector<double> up_ticks;
    std::vector<std::string> across_words; // instead of figures, one a tick; mostly empty
    int decimals = 0;                      // of values read upward
    int across_decimals = 0;
    std::vector<PlotLine> lines;
    std::vector<PlotMark> marks;
    std::vector<PlotSpan> spans;
};

// Between its points straight; NaN outside them and for crosses.
double line_at(PlotLine const& line, double across);
// Multiples of 1, 2 or 5 times a power of ten (steps of 12 and 24 among hours) within the limits.
std::vector<double> round_ticks(double low, double high, int wanted);

// Water of the dry clay in % against days: wettest, driest, mean, the maker's weighings; leather-hard and bone dry as
// levels, the day on which the former comes out, covers as spans.
Plot moisture_plot(SecondHalf const& half);
// Kiln and inside of the thickest place in degC against hours; 100 and 573 degC as levels.
Plot firing_plot(FiringAnswer const& firing);
// Hottest less coldest through the thickest place in K against hours, with what it bears warming and cooling.
Plot gradient_plot(FiringAnswer const& firing);
// Weight and length of the piece in % of the wet piece over the five states of the clay, with their ranges' ends.
Plot making_line_plot(Plan const& plan);

} // namespace leafwright
