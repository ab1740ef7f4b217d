#include "leaf/svg_style.h"

#include <algorithm>

namespace leafwright {

namespace {

constexpr std::size_t kMostRules = 2000;

bool paints(std::string_view value) { return value != "none" && value != "transparent"; }

bool has_word(std::string_view list, std::string_view word) {
    while (!list.empty()) {
        list = trimmed(list);
        std::size_t const end = std::min(list.size(), list.find_first_of(" \t\r\n\f"));
        if (list.substr(0, end) == word) return true;
        list.remove_prefix(end);
    }
    return false;
}

double opacity_of(std::string_view value, double old) {
    std::optional<SvgLength> const read = svg_length(value);
    if (!read) return old;
    return read->unit == LengthUnit::percent ? 0.01 * read->value : read->value;
}

} // namespace

void apply_property(SvgStyle& style, std::string_view name, std::string_view value) {
    value = trimmed(value);
    if (std::size_t const loud = value.find('!'); loud != std::string_view::npos)
        value = trimmed(value.substr(0, loud));
    if (value.empty() || value == "inherit") return;
    if (name == "fill") style.fill = paints(value);
    if (name == "stroke") style.stroke = paints(value);
    if (name == "fill-opacity") style.fill_opacity = opacity_of(value, style.fill_opacity);
    if (name == "stroke-opacity") style.stroke_opacity = opacity_of(value, style.stroke_opacity);
    if (name == "opacity" && opacity_of(value, 1) <= 0) style.shown = false;
    if (name == "display" && value == "none") style.shown = false;
    if (name == "visibility") style.visible = value == "visible";
    if (name == "fill-rule") style.rule = value == "evenodd" ? FillRule::even_odd : FillRule::nonzero;
    if (name == "stroke-width")
        if (std::optional<SvgLength> const width = svg_length(value); width && width->value >= 0)
            style.stroke_width = *width;
    if (name == "stroke-linecap")
        style.cap = value == "round" ? LineCap::round : value == "square" ? LineCap::square : LineCap::butt;
    if (name == "stroke-linejoin")
        style.join = value == "round" ? LineJoin::round : value == "bevel" ? LineJoin::bevel : LineJoin::miter;
    if (name == "stroke-miterlimit")
        if (std::optional<SvgLength> const limit = svg_length(value); limit && limit->value >= 1)
            style.miter_limit = limit->value;
}

void apply_declarations(SvgStyle& style, std::string_view declarations) {
    while (!declarations.empty()) {
        std::size_t const end = std::min(declarations.size(), declarations.find(';'));
        std::string_view const one = declarations.substr(0, end);
        if (std::size_t const colon = one.find(':'); colon != std::string_view::npos)
            apply_property(style, trimmed(one.substr(0, colon)), one.substr(colon + 1));
        declarations.remove_prefix(std::min(declarations.size(), end + 1));
    }
}

void StyleSheet::add(std::string_view css) {
    std::string text;
    for (std::size_t i = 0; i < css.size();) { // comments out
        if (css.substr(i, 2) == "/*") {
            std::size_t const end = css.find("*/", i + 2);
            i = end == std::string_view::npos ? css.size() : end + 2;
        } else {
            text += css[i++];
        }
    }
    std::string_view rest = text;
    while (rules_.size() < kMostRules) {
        std::size_t const open = rest.find('{');
        if (open == std::string_view::npos) return;
        std::size_t const close = rest.find('}', open);
        if (close == std::string_view::npos) return;
        std::string_view selectors = rest.substr(0, open);
        std::string const declarations(rest.substr(open + 1, close - open - 1));
        rest.remove_prefix(close + 1);
        while (!selectors.empty()) {
            std::size_t const end = std::min(selectors.size(), selectors.find(','));
            std::string_view one = trimmed(selectors.substr(0, end));
            selectors.remove_prefix(std::min(selectors.size(), end + 1));
            if (one.empty() || one.find_first_of(" >+~[:@") != std::string_view::npos) continue;
            Rule rule;
            rule.declarations = declarations;
            while (!one.empty()) {
                char const mark = one[0] == '.' || one[0] == '#' ? one[0] : '\0';
                if (mark) one.remove_prefix(1);
                std::size_t const part = std::min(one.size(), one.find_first_of(".#"));
                std::string const name(one.substr(0, part));
                one.remove_prefix(part);
                if (mark == '.')
                    rule.classes.push_back(name), rule.weight += 10;
                else if (mark == '#')
                    rule.id = name, rule.weight += 100;
                else if (name != "*")
                    rule.element = name, rule.weight += 1;
                if (part == 0 && !mark) break;
            }
            rules_.push_back(std::move(rule));
        }
    }
}

void StyleSheet::apply(SvgStyle& style, std::string_view element, std::string_view id, std::string_view classes) const {
    std::vector<Rule const*> chosen;
    for (Rule const& rule : rules_) {
        if (!rule.element.empty() && rule.element != element) continue;
        if (!rule.id.empty() && rule.id != id) continue;
        if (std::ranges::all_of(rule.classes, [&](std::string const& name) { return has_word(classes, name); }))
            chosen.push_back(&rule);
    }
    std::ranges::stable_sort(chosen, {}, &Rule::weight);
    for (Rule const* rule : chosen) apply_declarations(style, rule->declarations);
}

} // namespace leafwright
