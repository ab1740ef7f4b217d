#include "leaf/svg_drawing.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <fmt/format.h>
#include <pugixml.hpp>
#include <set>
#include <unordered_map>

namespace leafwright {

namespace {

constexpr std::size_t kMostBytes = 32u << 20;
constexpr int kMostLevels = 64;
constexpr std::size_t kMostElements = 20000;
constexpr std::size_t kMostUses = 5000;
constexpr std::size_t kMostPathPoints = 400000;
constexpr double kSmallPage_mm = 100;
constexpr double kPlainPage = 1000; // tolerance of a drawing that tells no size: as if it were that wide

std::string_view local_name(pugi::xml_node const& node) {
    std::string_view const name = node.name();
    std::size_t const colon = name.find(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

int line_of(std::string_view text, std::ptrdiff_t offset) {
    auto const end = static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(offset, 0, std::ssize(text)));
    return 1 + static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(end), '\n'));
}

struct ViewBox {
    Vec2 low{0, 0};
    Vec2 size{0, 0};
};

std::optional<ViewBox> view_box(char const* text) {
    SvgScanner scan(text);
    double v[4] = {};
    for (double& x : v) {
        std::optional<double> const read = scan.number();
        if (!read) return {};
        x = *read;
    }
    if (!(v[2] > 0 && v[3] > 0)) return {};
    return ViewBox{{v[0], v[1]}, {v[2], v[3]}};
}

// The box fitted into a view of that size (SVG 1.1, chapter 7.8).
Affine fitted(ViewBox const& box, Vec2 const& view, std::string_view aspect) {
    aspect = trimmed(aspect);
    if (aspect.starts_with("defer")) aspect = trimmed(aspect.substr(5));
    Vec2 scale = view / box.size;
    std::string_view const align = aspect.substr(0, std::min(aspect.size(), aspect.find(' ')));
    Vec2 share{0.5, 0.5};
    if (align != "none") {
        bool const slice = aspect.find("slice") != std::string_view::npos;
        double const both = slice ? std::max(scale.x, scale.y) : std::min(scale.x, scale.y);
        scale = {both, both};
        auto const part = [&](char const* low, char const* high) {
            return align.find(low) != std::string_view::npos    ? 0.0
                   : align.find(high) != std::string_view::npos ? 1.0
                                                                : 0.5;
        };
        share = {part("xMin", "xMax"), part("YMin", "YMax")};
    }
    Vec2 const shift = share * (view - scale * box.size) - scale * box.low;
    return {scale.x, 0, 0, scale.y, shift.x, shift.y};
}

class SvgReader {
public:
    SvgReader(std::string_view text, SvgOptions const& options) : text_(text), options_(options) {}

    Outcome<SvgDrawing> read() {
        if (text_.size() > kMostBytes)
            return fault("too-large", "", "the file is larger than 32 MB", "Save a simpler drawing");
        if (text_.size() > 2 && text_[0] == '\x1f' && text_[1] == '\x8b')
            return fault("svg.packed", "", "the drawing is packed (svgz)",
                         "Unpack it with gunzip, or save it as plain SVG");
        pugi::xml_document document;
        pugi::xml_parse_result const parsed =
            document.load_buffer(text_.data(), text_.size(), pugi::parse_default | pugi::parse_ws_pcdata_single);
        if (!parsed)
            return fault("svg.syntax", fmt::format("line {}", line_of(text_, parsed.offset)),
                         fmt::format("this is not well-formed XML ({})", plain(parsed.description())),
                         "Save the drawing again as plain SVG");
        pugi::xml_node const root = document.document_element();
        if (local_name(root) != "svg")
            return fault("svg.not", "line " + std::to_string(line(root)), "the file holds no SVG drawing",
                         "Choose a file that was saved as SVG");
        gather(root, 0);
        if (problem_) return *problem_;
        draw_root(root);
        if (problem_) return *problem_;
        drawing_.remarks.assign(remarks_.begin(), remarks_.end());
        return std::move(drawing_);
    }

private:
    static Problem fault(std::string code, std::string where, std::string what, std::string hint) {
        return {std::move(code), std::move(where), std::move(what), std::move(hint)};
    }
    static std::string plain(std::string_view text) {
        std::string out(text.substr(0, 60));
        for (char& c : out)
            if (static_cast<unsigned char>(c) < 32 || static_cast<unsigned char>(c) > 126) c = '?';
        return out;
    }
    int line(pugi::xml_node const& node) const { return line_of(text_, node.offset_debug()); }
    void stop(pugi::xml_node const& node, std::string code, std::string what) {
        if (!problem_)
            problem_ = fault(std::move(code), "line " + std::to_string(line(node)), std::move(what),
                             "Save a simpler drawing of the leaf alone");
    }
    void remark(std::string text) {
        if (remarks_.size() < 20) remarks_.insert(std::move(text));
    }

    // Ids, style sheets, depth.
    void gather(pugi::xml_node const& node, int level) {
        if (level > kMostLevels)
            return stop(node, "too-deep", fmt::format("elements are nested more than {} deep", kMostLevels));
        for (pugi::xml_node const& child : node.children()) {
            if (child.type() != pugi::node_element) continue;
            if (char const* id = child.attribute("id").value(); *id) ids_.emplace(id, child);
            if (local_name(child) == "style")
                for (pugi::xml_node const& part : child.children()) sheet_.add(part.value());
            gather(child, level + 1);
            if (problem_) return;
        }
    }

    void draw_root(pugi::xml_node const& root) {
        drawing_.dpi = dpi_of(root);
        Vec2 view{0, 0};
        std::optional<ViewBox> const box = view_box(root.attribute("viewBox").value());
        std::optional<SvgLength> const width = svg_length(root.attribute("width").value());
        std::optional<SvgLength> const height = svg_length(root.attribute("height").value());
        auto const known = [](std::optional<SvgLength> const& l) {
            return l && l->unit != LengthUnit::percent && l->value > 0;
        };
        double const dpi = drawing_.dpi;
        if (known(width)) view.x = user_units(*width, dpi, 0);
        if (known(height)) view.y = user_units(*height, dpi, 0);
        if (box) { // one side follows from the other
            if (view.x > 0 && view.y == 0) view.y = view.x * box->size.y / box->size.x;
            if (view.y > 0 && view.x == 0) view.x = view.y * box->size.x / box->size.y;
        }
        if (view.x > 0) {
            bool const real = (known(width) && width->absolute()) || (known(height) && height->absolute());
            drawing_.size = real ? SvgSize::real_units : SvgSize::pixels;
        } else {
            view = box ? box->size : Vec2{100, 100};
        }
        double const mm = kMmPerInch / dpi;
        Affine to_mm{mm, 0, 0, mm, 0, 0};
        view_ = view;
        if (box) {
            to_mm = to_mm * fitted(*box, view, root.attribute("preserveAspectRatio").value());
            view_ = box->size;
        }
        if (options_.unit_mm > 0) to_mm = {options_.unit_mm, 0, 0, options_.unit_mm, 0, 0};
        drawing_.page_mm = mm * view;
        tolerance_mm_ = options_.tolerance_mm;
        if (drawing_.size == SvgSize::unknown && options_.unit_mm <= 0)
            tolerance_mm_ *= std::max(view.x, view.y) * mm / kPlainPage;
        else // an icon is enlarged later on
            tolerance_mm_ *= std::min(1.0, std::max(view.x, view.y) * mm / kSmallPage_mm);
        SvgStyle style = styled(root, {});
        draw_children(root, to_mm, style, 0);
    }

    double dpi_of(pugi::xml_node const& root) {
        // Programs of that time counted 90 user units to the inch, and wrote their version into the file.
        std::string_view const version = root.attribute("inkscape:version").value();
        SvgScanner scan(version);
        std::optional<double> const number = scan.number();
        bool const sodipodi_alone = version.empty() && root.attribute("sodipodi:version");
        drawing_.old_dpi = (number && *number < 0.92) || sodipodi_alone;
        if (options_.dpi > 0) return options_.dpi;
        return drawing_.old_dpi ? 90 : 96;
    }

    SvgStyle styled(pugi::xml_node const& node, SvgStyle style) const {
        for (pugi::xml_attribute const& attribute : node.attributes())
            apply_property(style, attribute.name(), attribute.value());
        if (!sheet_.empty())
            sheet_.apply(style, local_name(node), node.attribute("id").value(), node.attribute("class").value());
        apply_declarations(style, node.attribute("style").value());
        return style;
    }

    double length(pugi::xml_node const& node, char const* name, double whole, double otherwise = 0) const {
        std::optional<SvgLength> const read = svg_length(node.attribute(name).value());
        return read ? user_units(*read, drawing_.dpi, whole) : otherwise;
    }
    double diagonal() const { return glm::length(view_) / std::sqrt(2.0); }

    void draw_children(pugi::xml_node const& node, Affine const& at, SvgStyle const& style, int level) {
        bool const first_only = local_name(node) == "switch";
        for (pugi::xml_node const& child : node.children()) {
            if (child.type() != pugi::node_element) continue;
            draw(child, at, style, level + 1);
            if (problem_ || first_only) return;
        }
    }

    void draw(pugi::xml_node const& node, Affine const& outer, SvgStyle const& inherited, int level) {
        std::string_view const name = local_name(node);
        if (name == "defs" || name == "symbol" || name == "clipPath" || name == "mask" || name == "pattern" ||
            name == "marker" || name == "style" || name == "title" || name == "desc" || name == "metadata")
            return;
        if (++elements_ > kMostElements)
            return stop(node, "too-many", fmt::format("more than {} elements are drawn", kMostElements));
        if (level > kMostLevels)
            return stop(node, "too-deep", fmt::format("elements and uses are nested more than {} deep", kMostLevels));
        SvgStyle const style = styled(node, inherited);
        if (!style.shown) return;
        note_left_out(node, name);
        Affine at = outer;
        if (std::string_view const list = node.attribute("transform").value(); !list.empty()) {
            if (std::optional<Affine> const own = svg_transform(list))
                at = outer * *own;
            else
                remark(fmt::format("line {}: a transform could not be read and was left out", line(node)));
        }
        if (name == "g" || name == "a" || name == "switch") return draw_children(node, at, style, level);
        if (name == "svg") return draw_view(node, node, at, style, level);
        if (name == "use") return draw_use(node, at, style, level);
        draw_shape(node, name, at, style);
    }

    void note_left_out(pugi::xml_node const& node, std::string_view name) {
        if (name == "text" || name == "image" || name == "foreignObject")
            remark(fmt::format("line {}: {} is not read", line(node), name == "text" ? "text" : plain(name)));
        for (char const* clip : {"clip-path", "mask"})
            if (node.attribute(clip) && std::string_view(node.attribute(clip).value()) != "none")
                remark(fmt::format("line {}: the {} is left out: the whole shape is taken", line(node),
                                   std::string_view(clip) == "mask" ? "mask" : "clip"));
    }

    // A nested svg, or a symbol: its own view into its own coordinates. `sized` tells the view (the use of a symbol).
    void draw_view(pugi::xml_node const& node, pugi::xml_node const& sized, Affine at, SvgStyle const& style,
                   int level) {
        Vec2 const outer_view = view_;
        auto const side = [&](char const* key, double whole) {
            double const own = length(node, key, whole, whole);
            return sized == node ? own : length(sized, key, whole, own);
        };
        Vec2 const size{side("width", view_.x), side("height", view_.y)};
        if (sized == node) at = at * Affine{1, 0, 0, 1, length(node, "x", view_.x), length(node, "y", view_.y)};
        if (!(size.x > 0 && size.y > 0)) return;
        view_ = size;
        if (std::optional<ViewBox> const box = view_box(node.attribute("viewBox").value())) {
            at = at * fitted(*box, size, node.attribute("preserveAspectRatio").value());
            view_ = box->size;
        }
        draw_children(node, at, style, level);
        view_ = outer_view;
    }

    void draw_use(pugi::xml_node const& node, Affine const& at, SvgStyle const& style, int level) {
        if (++uses_ > kMostUses) return stop(node, "too-many", fmt::format("more than {} uses", kMostUses));
        pugi::xml_attribute href = node.attribute("href");
        if (!href) href = node.attribute("xlink:href");
        std::string_view const target = href.value();
        auto const found = target.starts_with('#') ? ids_.find(std::string(target.substr(1))) : ids_.end();
        if (found == ids_.end()) return remark(fmt::format("line {}: a use names what is not in the file", line(node)));
        pugi::xml_node const& used = found->second;
        Affine const moved = at * Affine{1, 0, 0, 1, length(node, "x", view_.x), length(node, "y", view_.y)};
        if (local_name(used) == "symbol" || local_name(used) == "svg") {
            SvgStyle const own = styled(used, style);
            if (own.shown) draw_view(used, node, moved, own, level + 1);
            return;
        }
        draw(used, moved, style, level + 1);
    }

    void draw_shape(pugi::xml_node const& node, std::string_view name, Affine const& at, SvgStyle const& style) {
        double const stretch = at.largest_stretch();
        if (!(stretch > 0) || !std::isfinite(stretch) || !style.visible) return;
        PathPen pen(tolerance_mm_ / stretch, kMostPathPoints - std::min(points_, kMostPathPoints));
        if (!draw_with(pen, node, name)) return;
        SvgShape shape;
        shape.style = style;
        shape.id = node.attribute("id").value();
        shape.line = line(node);
        if (style.stroke && style.stroke_opacity > 0)
            shape.stroke_mm = user_units(style.stroke_width, drawing_.dpi, diagonal()) * std::sqrt(at.area_factor());
        if (!shape.fills() && !shape.strokes()) return;
        for (FlatPath& path : pen.take()) {
            points_ += path.points.size();
            for (Vec2& p : path.points) p = at(p);
            shape.paths.push_back(std::move(path));
        }
        if (points_ >= kMostPathPoints)
            return stop(node, "too-many", fmt::format("the drawing has more than {} points", kMostPathPoints));
        if (!shape.paths.empty()) drawing_.shapes.push_back(std::move(shape));
    }

    bool draw_with(PathPen& pen, pugi::xml_node const& node, std::string_view name) {
        Vec2 const view = view_;
        std::size_t fault_at = std::string_view::npos;
        if (name == "path") {
            fault_at = draw_path(node.attribute("d").value(), pen);
        } else if (name == "polygon" || name == "polyline") {
            fault_at = draw_points(node.attribute("points").value(), name == "polygon", pen);
        } else if (name == "line") {
            pen.move({length(node, "x1", view.x), length(node, "y1", view.y)});
            pen.line({length(node, "x2", view.x), length(node, "y2", view.y)});
        } else if (name == "circle") {
            double const r = length(node, "r", diagonal());
            draw_ellipse({length(node, "cx", view.x), length(node, "cy", view.y)}, {r, r}, pen);
        } else if (name == "ellipse") {
            Vec2 r{length(node, "rx", view.x, -1), length(node, "ry", view.y, -1)};
            if (r.x < 0) r.x = r.y; // auto
            if (r.y < 0) r.y = r.x;
            draw_ellipse({length(node, "cx", view.x), length(node, "cy", view.y)}, r, pen);
        } else if (name == "rect") {
            Vec2 r{length(node, "rx", view.x, -1), length(node, "ry", view.y, -1)};
            if (r.x < 0) r.x = std::max(0.0, r.y);
            if (r.y < 0) r.y = r.x;
            draw_rect({length(node, "x", view.x), length(node, "y", view.y)},
                      {length(node, "width", view.x), length(node, "height", view.y)}, r, pen);
        } else {
            return false;
        }
        if (fault_at != std::string_view::npos)
            remark(fmt::format("line {}: the {} is broken at character {}; it is taken up to there", line(node),
                               name == "path" ? "path data" : "list of points", fault_at + 1));
        return true;
    }

    std::string_view text_;
    SvgOptions const& options_;
    SvgDrawing drawing_;
    MaybeProblem problem_;
    std::set<std::string> remarks_;
    std::unordered_map<std::string, pugi::xml_node> ids_;
    StyleSheet sheet_;
    Vec2 view_{100, 100}; // what percentages are of
    double tolerance_mm_ = 0.0005;
    std::size_t elements_ = 0;
    std::size_t uses_ = 0;
    std::size_t points_ = 0;
};

} // namespace

Outcome<SvgDrawing> read_svg(std::string_view text, SvgOptions const& options) {
    return SvgReader(text, options).read();
}

} // namespace leafwright
