// SVG at 1:1: one user unit is one millimetre.
#include "sheet/cutting_drawing.h"
#include "sheet/cutting_sheets.h"

#include <algorithm>
#include <fmt/format.h>

namespace leafwright {

namespace {

class Svg {
public:
    explicit Svg(CutSheet const& sheet) : high_(sheet.size_mm.y) {
        out_ = fmt::format("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                           "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{0:.3f}mm\" "
                           "height=\"{1:.3f}mm\" viewBox=\"0 0 {0:.3f} {1:.3f}\">\n",
                           sheet.size_mm.x, sheet.size_mm.y);
    }
    void title(std::string_view words) { out_ += "<title>" + escaped(words) + "</title>\n"; }
    void open(char const* id, char const* style) { out_ += fmt::format("<g id=\"{}\" {}>\n", id, style); }
    void close() { out_ += "</g>\n"; }
    // Rings of one piece; `id` may be empty.
    void path(std::string const& id, std::span<Ring const> rings, bool closed) {
        std::string d;
        for (Ring const& ring : rings) {
            for (std::size_t i = 0; i < ring.size(); ++i)
                d += fmt::format("{}{:.3f},{:.3f}", i == 0 ? "M" : " ", ring[i].x, high_ - ring[i].y);
            if (closed) d += "Z";
        }
        out_ += id.empty() ? fmt::format("<path d=\"{}\"/>\n", d)
                           : fmt::format("<path id=\"{}\" d=\"{}\"/>\n", escaped(id), d);
    }
    void text(Vec2 const& at, double size_mm, std::string_view words) {
        out_ += fmt::format("<text x=\"{:.3f}\" y=\"{:.3f}\" font-size=\"{:.2f}\">{}</text>\n", at.x,
                            high_ - at.y + 0.36 * size_mm, size_mm, escaped(words));
    }
    std::string finish() { return out_ + "</svg>\n"; }

private:
    static std::string escaped(std::string_view words) {
        std::string out;
        for (char const c : words) {
            if (c == '&')
                out += "&amp;";
            else if (c == '<')
                out += "&lt;";
            else if (c == '"')
                out += "&quot;";
            else if (static_cast<unsigned char>(c) >= 0x20)
                out += c;
        }
        return out;
    }
    double high_;
    std::string out_;
};

std::vector<Ring> rings_of(Polygon const& polygon) {
    std::vector<Ring> rings{polygon.outer};
    rings.insert(rings.end(), polygon.holes.begin(), polygon.holes.end());
    return rings;
}

std::string id_of(std::string name) {
    std::ranges::replace(name, ' ', '-');
    return name;
}

void put_lines(Svg& svg, std::vector<DrawnPiece> const& pieces, bool cut) {
    for (DrawnPiece const& piece : pieces) {
        for (CutMark const& mark : piece.marks)
            if (mark.cut == cut) svg.path("", std::vector<Ring>{mark.line_mm}, false);
        if (!cut)
            for (auto const& vein : piece.veins) svg.path("", std::vector<Ring>{vein}, false);
    }
}

} // namespace

std::string cut_sheet_svg(CuttingAnswer const& answer, CutSheet const& sheet) {
    std::vector<DrawnPiece> const pieces = drawn_pieces(answer, sheet);
    Svg svg(sheet);
    svg.title(answer.plan->piece.name + ": " + sheet_words(sheet, {}));
    svg.open("clay", "fill=\"none\" stroke=\"#8a7f72\" stroke-width=\"0.2\" stroke-dasharray=\"4 2\"");
    svg.path("edge", std::vector<Ring>{{{0, 0}, {sheet.size_mm.x, 0}, sheet.size_mm, {0, sheet.size_mm.y}}}, true);
    svg.close();
    svg.open("cut", "fill=\"none\" stroke=\"#c00000\" stroke-width=\"0.2\"");
    for (DrawnPiece const& piece : pieces) svg.path(id_of(piece.item->name), rings_of(piece.path), true);
    put_lines(svg, pieces, true);
    svg.close();
    svg.open("marks", "fill=\"none\" stroke=\"#2060a0\" stroke-width=\"0.15\"");
    put_lines(svg, pieces, false);
    svg.close();
    svg.open("numbers", "fill=\"#202020\" stroke=\"none\" font-family=\"sans-serif\" font-weight=\"bold\" "
                        "text-anchor=\"middle\"");
    for (DrawnPiece const& piece : pieces) {
        double const letters = static_cast<double>(std::max<std::size_t>(2, piece.item->label.size()));
        svg.text(piece.number_at, std::clamp(1.75 * piece.clear_mm / (0.62 * letters), 1.5, 9.0), piece.item->label);
    }
    svg.close();
    return svg.finish();
}

} // namespace leafwright
