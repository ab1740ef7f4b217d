// How an element is painted, as far as it tells where its outline runs: presentation attributes, style attributes and
// the simple part of CSS (element, .class, #id, element.class, *; lists of them).
#pragma once

#include "leaf/ring_union.h"
#include "leaf/svg_text.h"

#include <string>
#include <vector>

namespace leafwright {

enum class LineCap { butt, round, square };
enum class LineJoin { miter, round, bevel };

struct SvgStyle {
    bool fill = true;
    bool stroke = false;
    bool visible = true;
    bool shown = true; // display and opacity; not inherited back once false
    double fill_opacity = 1;
    double stroke_opacity = 1;
    SvgLength stroke_width{1, LengthUnit::none};
    FillRule rule = FillRule::nonzero;
    LineCap cap = LineCap::butt;
    LineJoin join = LineJoin::miter;
    double miter_limit = 4;
};

// Knows that property or leaves the style as it is.
void apply_property(SvgStyle& style, std::string_view name, std::string_view value);
// "fill:none; stroke-width: 2px".
void apply_declarations(SvgStyle& style, std::string_view declarations);

class StyleSheet {
public:
    void add(std::string_view css);
    // Rules that choose the element, weakest first.
    void apply(SvgStyle& style, std::string_view element, std::string_view id, std::string_view classes) const;
    bool empty() const { return rules_.empty(); }

private:
    struct Rule {
        std::string element; // "" for any
        std::string id;
        std::vector<std::string> classes;
        std::string declarations;
        int weight = 0;
    };
    std::vector<Rule> rules_;
};

} // namespace leafwright
