// The SVG reader against closed forms and against librsvg's rendering.
#include "base/random.h"
#include "base/units.h"
#include "leaf/svg_leaves.h"

#include <near.h>

#include <algorithm>
#include <cairo.h>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <librsvg/rsvg.h>
#include <sstream>

using namespace leafwright;

namespace {

double total_area(std::vector<Polygon> const& regions) {
    double sum = 0;
    for (Polygon const& region : regions) sum += area(region);
    return sum;
}

// librsvg cuts what lies beyond the page: what both cover is both areas less that of all together.
double area_on_page(std::vector<Polygon> const& regions, Vec2 const& page) {
    std::vector<Ring> rings{{{0, -page.y}, {page.x, -page.y}, {page.x, 0}, {0, 0}}};
    for (Polygon const& region : regions) {
        rings.push_back(region.outer);
        rings.insert(rings.end(), region.holes.begin(), region.holes.end());
    }
    return total_area(regions) + page.x * page.y - total_area(filled_regions(rings, FillRule::nonzero));
}

// Of what the drawing covers, in user units of a drawing whose viewBox is its size in mm.
double area_of(std::string const& body, bool as_drawn = false, std::string const& root = "") {
    std::string const text =
        root.empty() ? "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='100mm' viewBox='0 0 100 100'>" +
                           body + "</svg>"
                     : root + body + "</svg>";
    Outcome<SvgDrawing> const drawing = read_svg(text, {});
    REQUIRE(drawing.ok());
    return total_area(drawn_regions(*drawing, as_drawn));
}

double path_area(std::string const& data) { return area_of("<path d='" + data + "'/>"); }

constexpr char const* kPlainStyle =
    "* { stroke: none !important; fill-opacity: 1 !important; opacity: 1 !important; filter: none !important;"
    " clip-path: none !important; mask: none !important; marker: none !important; }"
    " stop { stop-opacity: 1 !important; } text, image, flowRoot, marker { display: none !important; }";
constexpr double kFine = 2800; // pixels along the longer side: seams between shapes cost the twin some cover
constexpr char const* kDrawnStyle = "* { fill-opacity: 1 !important; stroke-opacity: 1 !important; }";

// Share of the page that librsvg covers; below 0 when it can not read the drawing.
double rendered_share(std::string const& text, char const* style, int wide, int high = 0) {
    if (high == 0) high = wide;
    GError* error = nullptr;
    RsvgHandle* handle = rsvg_handle_new_from_data(reinterpret_cast<guint8 const*>(text.data()), text.size(), &error);
    if (!handle) {
        g_error_free(error);
        return -1;
    }
    rsvg_handle_set_dpi(handle, 96);
    rsvg_handle_set_stylesheet(handle, reinterpret_cast<guint8 const*>(style), std::char_traits<char>::length(style),
                               nullptr);
    cairo_surface_t* surface = cairo_image_surface_create(CAIRO_FORMAT_A8, wide, high);
    cairo_t* canvas = cairo_create(surface);
    RsvgRectangle const view{0, 0, static_cast<double>(wide), static_cast<double>(high)};
    double share = -1;
    if (rsvg_handle_render_document(handle, canvas, &view, &error)) {
        cairo_surface_flush(surface);
        unsigned char const* data = cairo_image_surface_get_data(surface);
        int const stride = cairo_image_surface_get_stride(surface);
        double sum = 0;
        for (int y = 0; y < high; ++y)
            for (int x = 0; x < wide; ++x) sum += data[y * stride + x];
        share = sum / 255 / wide / high;
    } else {
        g_error_free(error);
    }
    cairo_destroy(canvas);
    cairo_surface_destroy(surface);
    g_object_unref(handle);
    return share;
}

std::string number_text(Random& random, double value) {
    switch (random.below(5)) {
    case 0:
        return fmt::format("{:.3f}", value);
    case 1:
        return fmt::format("{:+.4f}", value);
    case 2:
        return fmt::format("{:.5e}", value);
    case 3:
        return fmt::format(" {:.2f}\n", value);
    default:
        return fmt::format("{:.1f}", value);
    }
}

// Numbers one after the other, sometimes with nothing between where the grammar allows it.
std::string numbers(Random& random, std::initializer_list<double> values) {
    std::string text;
    for (double const value : values) {
        std::string const next = number_text(random, value);
        bool const may_join = !next.empty() && (next[0] == '-' || next[0] == '+');
        if (!text.empty() && !(may_join && random.below(2))) text += random.below(2) ? "," : " ";
        text += next;
    }
    return text;
}

// A path that uses every command, within 0 to 1000.
std::string any_path(Random& random) {
    auto const at = [&] { return random.between(150, 850); };
    auto const by = [&] { return random.between(-140, 140); };
    std::string d = "M" + numbers(random, {at(), at()});
    for (int k = 0; k < 14; ++k) {
        switch (random.below(20)) {
        case 0:
            d += "L" + numbers(random, {at(), at(), at(), at()});
            break;
        case 1:
            d += "l" + numbers(random, {by(), by()}) + "L" + numbers(random, {at(), at()});
            break;
        case 2:
            d += "H" + numbers(random, {at()});
            break;
        case 3:
            d += "V" + numbers(random, {at()});
            break;
        case 4:
            d += "h" + numbers(random, {by()}) + "H" + numbers(random, {at()});
            break;
        case 5:
            d += "v" + numbers(random, {by()}) + "V" + numbers(random, {at()});
            break;
        case 6:
            d += "C" + numbers(random, {at(), at(), at(), at(), at(), at()});
            break;
        case 7:
            d += "c" + numbers(random, {by(), by(), by(), by(), by(), by()}) + "L" + numbers(random, {at(), at()});
            break;
        case 8:
            d += "S" + numbers(random, {at(), at(), at(), at()});
            break;
        case 9:
            d += "s" + numbers(random, {by(), by(), by(), by()}) + "L" + numbers(random, {at(), at()});
            break;
        case 10:
            d += "Q" + numbers(random, {at(), at(), at(), at()});
            break;
        case 11:
            d += "q" + numbers(random, {by(), by(), by(), by()}) + "T" + numbers(random, {at(), at()});
            break;
        case 12:
            d += "T" + numbers(random, {at(), at()});
            break;
        case 13:
            d += "t" + numbers(random, {by(), by()}) + "L" + numbers(random, {at(), at()});
            break;
        case 14:
        case 15: {
            char const* flags[] = {"0 0", "0,1", "1 0", "11", "01", "10"};
            d += "A" + numbers(random, {random.between(20, 90), random.between(20, 90), random.between(0, 180)}) + " " +
                 flags[random.below(6)] + numbers(random, {at(), at()});
            break;
        }
        case 16:
            d += "a" + numbers(random, {40, 25, 30}) + " 1 0" + numbers(random, {by(), by()}) + "L" +
                 numbers(random, {at(), at()});
            break;
        case 17:
            d += "Zm" + numbers(random, {by(), by()}) + "L" + numbers(random, {at(), at()});
            break;
        case 18:
            d += "zM" + numbers(random, {at(), at(), at(), at()});
            break;
        default:
            d += "z";
            break;
        }
    }
    return d;
}

std::string file_text(std::filesystem::path const& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream text;
    text << in.rdbuf();
    return text.str();
}

} // namespace

TEST_CASE("Shapes have the areas of their closed forms") {
    CHECK_REL(area_of("<circle cx='50' cy='50' r='30'/>"), kPi * 900, 1e-4);
    CHECK_REL(area_of("<ellipse cx='50' cy='50' rx='40' ry='12.5'/>"), kPi * 500, 1e-4);
    CHECK_REL(area_of("<rect x='10' y='10' width='60' height='40' rx='8'/>"), 2400 - (4 - kPi) * 64, 1e-4);
    CHECK_REL(area_of("<rect x='10' y='10' width='60' height='40' rx='50' ry='10'/>"), 2400 - (4 - kPi) * 300, 1e-4);
    CHECK_REL(area_of("<rect x='10' y='10' width='60' height='40'/>"), 2400, 1e-7);
    CHECK_REL(area_of("<polygon points='0,0 40,0 40,30'/>"), 600, 1e-7);
    CHECK_REL(area_of("<polyline points='0 0,40 0,40-30,0-30'/>"), 1200, 1e-7);
}

TEST_CASE("Bezier areas follow Green's theorem") {
    // Half the integral of x y' - y x': the quadratic's segment is 2/3 of its triangle (Archimedes), a cubic whose
    // handles stand upright over its ends covers 3/5 of their rectangle (the integral of 3 a t(1-t) b (6t - 6t^2)).
    CHECK_REL(path_area("M10 10Q40 70 70 10z"), 2.0 / 3.0 * 0.5 * 60 * 60, 1e-4);
    CHECK_REL(path_area("M0 0C0 40 60 40 60 0z"), 0.6 * 40 * 60, 1e-4);
}

TEST_CASE("The odd corners of the number grammar are read as the specification writes them") {
    // SVG 1.1, 8.3.9: a sign or a second point begins a new number; flags need no space; commas are optional.
    double const square = 400;
    for (char const* data : {"M10,10L30,10 30,30 10,30Z", "M10 10 30 10 30 30 10 30z", "m10 10h20v20h-20z",
                             "M10-10L30-10L30,10L10,10z", "M1e1,1.0E+1L+30 10 3e1+3e1 10 30z", "m10,10,20,0,0,20-20,0z",
                             "M.5.5h20v20h-20z", "M10.5.5l20-0 0,20-20 0z", "M10 10H20 30V20 30H10z"}) {
        INFO(data);
        CHECK_REL(path_area(data), square, 1e-6);
    }
    // Flags run together with what follows: a half circle of radius 10 over its diameter.
    CHECK_REL(path_area("M20 20a10,10 0 0120,0z"), 0.5 * kPi * 100, 1e-4);
    CHECK_REL(path_area("M20 20a10 10 0 10.0 20z"), 0.5 * kPi * 100, 1e-4);
    // Radii too small are grown until they reach (F.6.6); a radius of 0 is a straight line.
    CHECK_REL(path_area("M20 20a1 1 0 0 1 20 0z"), 0.5 * kPi * 100, 1e-4);
    CHECK_REL(path_area("M20 20a0 5 0 0 1 20 0v20z"), 200, 1e-6);
    // A quarter of an ellipse, turned: area pi a b / 4 and its triangle.
    CHECK_REL(path_area("M50 50L80 50A30 20 0 0 1 50 70z"), kPi * 600 / 4, 1e-4);
    // A new subpath begins where the closed one began.
    CHECK_REL(path_area("M10 10h10v10h-10z m20 0h10v10h-10z"), 200, 1e-6);
    CHECK_REL(path_area("M10 10h10v10h-10z h-5v-5h5z"), 125, 1e-6);
    // What is drawn up to a fault is kept.
    CHECK_REL(path_area("M10 10h20v20h-20z L 5 x 9"), square, 1e-6);
    CHECK_REL(path_area("M10 10h20v20h-20zM50 50 q"), square, 1e-6);
    CHECK(path_area("L10 10h20v20z") == 0.0);
    CHECK(path_area("") == 0.0);
}

TEST_CASE("Fill rules, holes and crossing outlines") {
    std::string const star = "M50 5L79 95 3 39 97 39 21 95z"; // a pentagram covers its middle twice
    double const whole = area_of("<path d='" + star + "'/>");
    double const ring = area_of("<path fill-rule='evenodd' d='" + star + "'/>");
    double const twin_whole =
        1e4 *
        rendered_share("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'><path d='" + star + "'/></svg>",
                       kPlainStyle, 1600);
    CHECK_REL(whole, twin_whole, 1e-3);
    CHECK(ring < 0.75 * whole);
    CHECK_REL(area_of("<path d='M10 10h60v60h-60z M20 20v40h40v-40z'/>"), 3600 - 1600, 1e-6);
    CHECK_REL(area_of("<path d='M10 10h60v60h-60z M20 20h40v40h-40z'/>"), 3600, 1e-6);
    CHECK_REL(area_of("<path style='fill-rule:evenodd' d='M10 10h60v60h-60z M20 20h40v40h-40z'/>"), 2000, 1e-6);
    // Two shapes that overlap and two that share an edge.
    CHECK_REL(area_of("<rect width='20' height='20'/><rect x='10' width='20' height='20'/>"), 600, 1e-6);
    CHECK_REL(area_of("<rect width='20' height='20'/><rect x='20' width='20' height='20'/>"), 800, 1e-6);
}

TEST_CASE("Transforms nest and uses are drawn where they stand") {
    CHECK_REL(area_of("<g transform='translate(5,5) scale(2)'><g transform='rotate(30 10 10) skewX(20)'><rect "
                      "width='10' height='10'/></g></g>"),
              400, 1e-6);
    CHECK_REL(area_of("<g transform='matrix(2 0 0 3 1 1),scale(.5)'><rect width='10' height='10'/></g>"), 150, 1e-6);
    CHECK_REL(area_of("<defs><rect id='r' width='10' height='10'/></defs><use href='#r' x='5'/><use xlink:href='#r' "
                      "x='40' transform='scale(2)'/>"),
              500, 1e-6);
    CHECK_REL(area_of("<symbol id='s' viewBox='0 0 10 10'><rect width='10' height='10'/></symbol><use href='#s' x='10' "
                      "y='10' width='20' height='20'/>"),
              400, 1e-6);
    CHECK_REL(
        area_of("<svg x='10' y='10' width='40' height='20' viewBox='0 0 10 10'><rect width='10' height='10'/></svg>"),
        400, 1e-6);
    CHECK_REL(area_of("<svg width='40' height='20' viewBox='0 0 10 10' preserveAspectRatio='none'><rect width='10' "
                      "height='10'/></svg>"),
              800, 1e-6);
    CHECK_REL(area_of("<switch><rect width='10' height='10'/><rect x='20' width='20' height='20'/></switch>"), 100,
              1e-6);
    CHECK(area_of("<defs><rect width='10' height='10'/></defs>") == 0.0);
}

TEST_CASE("Style comes from attributes, style attributes and classes") {
    CHECK(area_of("<rect width='10' height='10' fill='none'/>") == 0.0);
    CHECK(area_of("<rect width='10' height='10' style='fill:none'/>") == 0.0);
    CHECK(area_of("<rect width='10' height='10' style='display : none'/>") == 0.0);
    CHECK(area_of("<g display='none'><rect width='10' height='10'/></g>") == 0.0);
    CHECK(area_of("<g opacity='0'><rect width='10' height='10'/></g>") == 0.0);
    CHECK(area_of("<rect visibility='hidden' width='10' height='10'/>") == 0.0);
    CHECK(area_of("<style>/* . */ .no, .nix { fill : none }</style><rect class='a no' width='10' height='10'/>") ==
          0.0);
    CHECK_REL(area_of("<style><![CDATA[rect.no{fill:none} #yes{fill:red}]]></style><rect id='yes' class='no' "
                      "width='10' height='10'/>"),
              100, 1e-6);
    CHECK_REL(area_of("<g fill='none'><rect style='fill:#123' width='10' height='10'/></g>"), 100, 1e-6);
}

TEST_CASE("Lines of a width: closed ones are outlines, open ones areas") {
    CHECK_REL(area_of("<path fill='none' stroke='red' stroke-width='2' d='M10 10h20v20h-20z'/>"), 400, 1e-6);
    CHECK_REL(area_of("<path fill='none' stroke='red' stroke-width='2' d='M10 10h20'/>"), 40, 1e-6);
    CHECK_REL(area_of("<path fill='none' stroke='red' stroke-width='2' stroke-linecap='square' d='M10 10h20'/>"), 44,
              1e-6);
    CHECK_REL(area_of("<path fill='none' stroke='red' stroke-width='2' stroke-linecap='round' d='M10 10h20'/>"),
              40 + kPi, 1e-3);
    CHECK_REL(area_of("<path fill='none' stroke='red' stroke-width='2' d='M10 10h20v20'/>"), 80, 1e-6); // miter
    CHECK_REL(area_of("<path fill='none' stroke='red' stroke-width='2' stroke-linejoin='bevel' d='M10 10h20v20'/>"),
              79.5, 1e-6);
    CHECK_REL(area_of("<line stroke='red' stroke-width='2' x1='10' y1='10' x2='30' y2='10'/>"), 40, 1e-6);
    CHECK_REL(area_of("<path fill='none' stroke='red' stroke-width='2' d='M10 10h20v20h-20z'/>", true),
              22 * 22 - 18 * 18, 1e-6);
}

TEST_CASE("True sizes follow the units of the file") {
    auto const square_mm2 = [](std::string const& root, double dpi = 0) {
        SvgOptions options;
        options.dpi = dpi;
        auto const drawing = read_svg(root + "<rect width='10' height='10'/></svg>", options);
        REQUIRE(drawing.ok());
        return total_area(drawn_regions(*drawing));
    };
    double const px = 25.4 / 96;
    CHECK_REL(square_mm2("<svg width='100mm' height='100mm' viewBox='0 0 200 200'>"), 25, 1e-6);
    CHECK_REL(square_mm2("<svg width='10cm' viewBox='0 0 200 200'>"), 25, 1e-6);
    CHECK_REL(square_mm2("<svg width='2in' height='2in' viewBox='0 0 100 100'>"), 5.08 * 5.08, 1e-6);
    CHECK_REL(square_mm2("<svg width='72pt' height='72pt' viewBox='0 0 100 100'>"), 2.54 * 2.54, 1e-6);
    CHECK_REL(square_mm2("<svg width='6pc' height='6pc' viewBox='0 0 100 100'>"), 2.54 * 2.54, 1e-6);
    CHECK_REL(square_mm2("<svg width='100' height='100'>"), 100 * px * px, 1e-6);
    CHECK_REL(square_mm2("<svg width='200px' height='100px' viewBox='0 0 100 100'>"), 100 * px * px, 1e-6); // meet
    CHECK_REL(square_mm2("<svg width='200px' height='100px' viewBox='0 0 100 100' preserveAspectRatio='none'>"),
              200 * px * px, 1e-6);
    CHECK_REL(
        square_mm2("<svg width='200px' height='100px' viewBox='0 0 100 100' preserveAspectRatio='xMinYMin slice'>"),
        400 * px * px, 1e-6);
    // Files of that age counted 90 to the inch; the page is told in mm, the drawing in pixels.
    CHECK_REL(square_mm2("<svg xmlns:inkscape='i' inkscape:version='0.48.4 r9939' width='210mm' height='297mm'>"),
              100 * (25.4 / 90) * (25.4 / 90), 1e-6);
    CHECK_REL(square_mm2("<svg xmlns:inkscape='i' inkscape:version='1.2.2' width='210mm' height='297mm'>"),
              100 * px * px, 1e-6);
    CHECK_REL(square_mm2("<svg width='100' height='100'>", 90), 100 * (25.4 / 90) * (25.4 / 90), 1e-6);
}

TEST_CASE("Bad files are answered in a sentence with the line") {
    struct {
        std::string text;
        char const* code;
        char const* where;
    } const cases[] = {
        {"", "svg.syntax", "line 1"},
        {"<svg>\n<g>\n</svg>", "svg.syntax", "line 3"},
        {"<html/>", "svg.not", "line 1"},
        {"\x1f\x8b\x08 packed", "svg.packed", ""},
        {"<svg><circle id='a' r='9'/><g id='b'><use href='#b'/></g></svg>", "too-deep", "line 1"},
    };
    for (auto const& bad : cases) {
        INFO(bad.text);
        auto const drawing = read_svg(bad.text, {});
        REQUIRE_FALSE(drawing.ok());
        CHECK(drawing.problem().code == bad.code);
        CHECK(drawing.problem().where == bad.where);
        CHECK_FALSE(drawing.problem().hint.empty());
    }
    std::string deep = "<svg>";
    for (int i = 0; i < 200; ++i) deep += "<g>";
    for (int i = 0; i < 200; ++i) deep += "</g>";
    CHECK(read_svg(deep + "</svg>", {}).problem().code == "too-deep");
    // Ten uses of ten uses of ...: refused by count, not by patience.
    std::string bomb = "<svg><rect id='u0' width='9' height='9'/>";
    for (int i = 1; i < 12; ++i) {
        bomb += fmt::format("<g id='u{}'>", i);
        for (int k = 0; k < 10; ++k) bomb += fmt::format("<use href='#u{}'/>", i - 1);
        bomb += "</g>";
    }
    CHECK(read_svg(bomb + "</svg>", {}).problem().code == "too-many");
    auto const clipped =
        read_svg("<svg width='9mm' height='9mm'>\n<g clip-path='url(#x)'><rect width='5' height='5'/></g></svg>", {});
    REQUIRE(clipped.ok());
    REQUIRE(clipped->remarks.size() == 1);
    CHECK(clipped->remarks[0].starts_with("line 2: the clip is left out"));
}

TEST_CASE("Paths of every command cover what librsvg covers") {
    Random random(41);
    int told = 0;
    for (int k = 0; k < 60; ++k) {
        std::string const rule = random.below(2) ? "evenodd" : "nonzero";
        std::string const text = fmt::format(
            "<svg xmlns='http://www.w3.org/2000/svg' width='1000' height='1000' viewBox='-500 -500 2000 2000'>"
            "<path fill-rule='{}' transform='rotate({:.1f} 500 500)' d='{}'/></svg>",
            rule, random.between(0, 90), any_path(random));
        auto const drawing = read_svg(text, {});
        REQUIRE(drawing.ok());
        CHECK(drawing->remarks.empty());
        double const page = drawing->page_mm.x * drawing->page_mm.y;
        double const ours = area_on_page(drawn_regions(*drawing), drawing->page_mm) / page;
        double const twin = rendered_share(text, kPlainStyle, 2000);
        INFO(text);
        CHECK_NEAR(ours, twin, 1e-3 * twin + 2e-6);
        told += twin > 0.005;
    }
    CHECK(told > 45);
}

TEST_CASE("Lines of every join and cap cover what librsvg covers") {
    Random random(43);
    char const* caps[] = {"butt", "round", "square"};
    char const* joins[] = {"miter", "round", "bevel"};
    for (int k = 0; k < 18; ++k) {
        std::string const text = fmt::format(
            "<svg xmlns='http://www.w3.org/2000/svg' width='1000' height='1000' viewBox='0 0 1000 1000'>"
            "<path fill='none' stroke='black' stroke-width='{:.1f}' stroke-linecap='{}' stroke-linejoin='{}' "
            "d='M300 300L600 {:.0f} 450 700{}M700 200C900 300 600 600 800 800'/></svg>",
            random.between(4, 40), caps[k % 3], joins[(k / 3) % 3], random.between(200, 600), k % 2 ? "z" : "");
        auto const drawing = read_svg(text, {});
        REQUIRE(drawing.ok());
        double const ours = total_area(drawn_regions(*drawing, true)) / (drawing->page_mm.x * drawing->page_mm.y);
        INFO(text);
        CHECK_REL(ours, rendered_share(text, kDrawnStyle, 2000), 1e-3);
    }
}

TEST_CASE("Clip art of leaves and plants covers what librsvg covers, to 0.1 %") {
    std::filesystem::path const folder = "/usr/share/openclipart/svg/plants";
    if (!std::filesystem::exists(folder)) {
        MESSAGE("skipped: openclipart-svg is not installed");
        return;
    }
    std::vector<std::filesystem::path> files;
    for (auto const& entry : std::filesystem::recursive_directory_iterator(folder))
        if (entry.path().extension() == ".svg") files.push_back(entry.path());
    std::ranges::sort(files);
    std::vector<std::filesystem::path> sample;
    Random random(7);
    for (auto const& file : files)
        if (file.filename().string().find("leaf") != std::string::npos || random.below(4) == 0) sample.push_back(file);
    int compared = 0;
    double worst = 0;
    for (auto const& file : sample) {
        std::string const text = file_text(file);
        if (text.size() > 150000) continue; // quick
        SvgOptions options;
        options.dpi = 96; // what librsvg takes
        auto const drawing = read_svg(text, options);
        INFO(file.string());
        REQUIRE(drawing.ok());
        std::vector<Polygon> const regions = drawn_regions(*drawing);
        // The style makes everything opaque, also what is not to be seen.
        bool hidden = false;
        for (char const* mark : {"opacity:0;", "opacity:0\"", "opacity=\"0\"", "opacity:0.00"})
            hidden = hidden || text.find(mark) != std::string::npos;
        if (hidden || regions.empty()) continue;
        double const side = std::max(drawing->page_mm.x, drawing->page_mm.y);
        int const wide = static_cast<int>(std::lround(kFine * drawing->page_mm.x / side));
        int const high = static_cast<int>(std::lround(kFine * drawing->page_mm.y / side));
        double const page = drawing->page_mm.x * drawing->page_mm.y;
        double const twin = rendered_share(text, kPlainStyle, wide, high) * page;
        double const ours = area_on_page(regions, drawing->page_mm);
        CHECK_REL(ours, twin, 1e-3);
        worst = std::max(worst, std::abs(ours / twin - 1));
        ++compared;
    }
    MESSAGE("compared " << compared << " drawings, worst " << 100 * worst << " %");
    CHECK(compared >= 10);
}

TEST_CASE("Line drawings of leaves and plants as icons cover what librsvg covers, to 0.1 %") {
    std::vector<std::filesystem::path> places{"/usr/share/nodejs/@tabler/icons", "/usr/lib/node_modules/@tabler/icons",
                                              "/usr/local/lib/node_modules/@tabler/icons"};
    if (char const* told = std::getenv("LEAFWRIGHT_TABLER_ICONS")) places.insert(places.begin(), told);
    auto const place = std::ranges::find_if(places, [](auto const& p) { return std::filesystem::exists(p / "icons"); });
    if (place == places.end()) {
        MESSAGE("skipped: the icons of npm @tabler/icons are not there (LEAFWRIGHT_TABLER_ICONS names their folder)");
        return;
    }
    int compared = 0;
    double worst = 0;
    for (char const* kind : {"outline", "filled"})
        for (char const* name : {"leaf", "leaf-2", "leaf-maple", "plant", "plant-2", "clover", "clover-2", "cannabis",
                                 "seedling", "flower", "tree", "trees", "growth", "christmas-tree"}) {
            std::filesystem::path const file = *place / "icons" / kind / (std::string(name) + ".svg");
            if (!std::filesystem::exists(file)) continue;
            std::string const text = file_text(file);
            INFO(file.string());
            auto const drawing = read_svg(text, {.dpi = 96});
            REQUIRE(drawing.ok());
            double const page = drawing->page_mm.x * drawing->page_mm.y;
            double const ours = area_on_page(drawn_regions(*drawing, true), drawing->page_mm);
            double const twin = rendered_share(text, kDrawnStyle, 4000, 4000) * page;
            CHECK_REL(ours, twin, 1e-3);
            worst = std::max(worst, std::abs(ours / twin - 1));
            ++compared;
            // And as a leaf, its size given.
            auto const leaves = leaves_of_svg(text, {.length_mm = 80});
            REQUIRE(leaves.ok());
            CHECK_FALSE(check_own_leaf(leaves->leaves[0]));
        }
    MESSAGE("compared " << compared << " icons, worst " << 100 * worst << " %");
    CHECK(compared >= 10);
}
