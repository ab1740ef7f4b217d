// An SVG drawing as flat shapes in millimetres: what is drawn, wherever it stands in the file.
//
// Read: all path commands, basic shapes, transforms, use/symbol/defs/switch/nested svg with viewBox and
// preserveAspectRatio, units, presentation attributes, style attributes, simple CSS. Not read, with a remark: text,
// images, clips, masks, markers, filters, scripts, references to other files.
#pragma once

#include "base/outcome.h"
#include "leaf/svg_path.h"
#include "leaf/svg_style.h"

namespace leafwright {

struct SvgShape {
    std::vector<FlatPath> paths; // mm, y down as in the drawing
    SvgStyle style;
    double stroke_mm = 0; // width; 0 without a stroke
    std::string id;
    int line = 0; // of the file
    bool fills() const { return style.fill && style.fill_opacity > 0; }
    bool strokes() const { return stroke_mm > 0; }
};

struct SvgOptions {
    double dpi = 0;     // user units to the inch where the file tells no real size: 90 or 96; 0: as the file suggests
    double unit_mm = 0; // > 0: of one user unit of the outermost svg, whatever the file says
    double tolerance_mm = 0.0005; // of curves
};

enum class SvgSize { real_units, pixels, unknown };

struct SvgDrawing {
    std::vector<SvgShape> shapes; // in the order of drawing
    SvgSize size = SvgSize::unknown;
    double dpi = 96;      // that user units were taken at
    bool old_dpi = false; // the file comes from a program that counted 90 to the inch
    Vec2 page_mm{0, 0};
    std::vector<std::string> remarks; // what was left out
};

// Limits: 32 MB, 64 levels, 20,000 elements drawn, 5,000 uses, 400,000 points.
// Problems: "svg.syntax" with the line, "svg.not", "svg.packed", "too-large", "too-deep", "too-many".
Outcome<SvgDrawing> read_svg(std::string_view text, SvgOptions const& options);

} // namespace leafwright
