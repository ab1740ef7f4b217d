#include "sheet/map_legend.h"

#include "piece/map_colour.h"

#include <algorithm>
#include <cairo.h>
#include <cmath>
#include <fmt/format.h>
#include <memory>

namespace leafwright {
namespace {

struct Close {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};
using Surface = std::unique_ptr<cairo_surface_t, Close>;
using Pen = std::unique_ptr<cairo_t, Close>;

constexpr double kInk[] = {0.16, 0.14, 0.12};

void font(cairo_t* pen, double size, bool bold) {
    cairo_select_font_face(pen, "Inter", CAIRO_FONT_SLANT_NORMAL,
                           bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(pen, size);
}

double width_of(cairo_t* pen, std::string const& words) {
    cairo_text_extents_t extents;
    cairo_text_extents(pen, words.c_str(), &extents);
    return extents.x_advance;
}

void write(cairo_t* pen, double x, double y, std::string const& words) {
    cairo_set_source_rgb(pen, kInk[0], kInk[1], kInk[2]);
    cairo_move_to(pen, x, y);
    cairo_show_text(pen, words.c_str());
}

void draw_bar(cairo_t* pen, ShownMap const& map, double x, double y, double wide, double high) {
    constexpr int kSteps = 128;
    for (int i = 0; i < kSteps; ++i) {
        Vec3 const c = map_colour((i + 0.5) / kSteps);
        cairo_set_source_rgb(pen, c.x, c.y, c.z);
        cairo_rectangle(pen, x + wide * i / kSteps, y, wide / kSteps + 0.5, high);
        cairo_fill(pen);
    }
    cairo_set_source_rgb(pen, kInk[0], kInk[1], kInk[2]);
    cairo_set_line_width(pen, std::max(1.0, high / 14));
    cairo_rectangle(pen, x, y, wide, high);
    for (double const level : map.levels) {
        double const at = x + wide * scale_share(map, level);
        cairo_move_to(pen, at, y);
        cairo_line_to(pen, at, y + 1.25 * high);
    }
    cairo_stroke(pen);
}

// Numbers that would run into the one before are left out.
void draw_numbers(cairo_t* pen, ShownMap const& map, double x, double y, double wide, double size) {
    double free_from = -1e9;
    for (double const mark : scale_marks(map)) {
        std::string const words = fmt::format("{:g}", std::abs(mark) < 1e-12 ? 0.0 : mark);
        double const width = width_of(pen, words), left = x + wide * scale_share(map, mark) - 0.5 * width;
        if (left < free_from) continue;
        write(pen, left, y, words);
        free_from = left + width + 0.5 * size;
    }
}

void lay_over(cairo_surface_t* surface, int x0, int y0, int width_px, std::vector<unsigned char>& rgb) {
    cairo_surface_flush(surface);
    int const wide = cairo_image_surface_get_width(surface), high = cairo_image_surface_get_height(surface);
    auto const stride = static_cast<std::size_t>(cairo_image_surface_get_stride(surface));
    unsigned char const* const from = cairo_image_surface_get_data(surface);
    for (int j = 0; j < high; ++j)
        for (int i = 0; i < wide; ++i) {
            unsigned char const* const p =
                from + static_cast<std::size_t>(j) * stride + 4 * static_cast<std::size_t>(i);
            std::uint32_t pixel = 0; // native order: alpha, red, green, blue from the top; colours times alpha
            std::copy_n(p, 4, reinterpret_cast<unsigned char*>(&pixel));
            unsigned const keep = 255 - (pixel >> 24);
            auto const at = 3 * (static_cast<std::size_t>(y0 + j) * static_cast<std::size_t>(width_px) +
                                 static_cast<std::size_t>(x0 + i));
            for (unsigned k = 0; k < 3; ++k) {
                unsigned const over = pixel >> (16 - 8 * k) & 255;
                rgb[at + k] = static_cast<unsigned char>(std::min(255u, over + rgb[at + k] * keep / 255));
            }
        }
}

} // namespace

void draw_map_legend(ShownMap const& map, int width_px, int height_px, std::vector<unsigned char>& rgb) {
    if (width_px < 200 || height_px < 120) return;
    double const size = std::clamp(height_px / 40.0, 11.0, 44.0), pad = 0.8 * size;
    int const wide = static_cast<int>(std::min(width_px - 2 * pad, 22 * size)), high = static_cast<int>(5.6 * size);
    Surface const surface(cairo_image_surface_create(CAIRO_FORMAT_ARGB32, wide, high));
    Pen const pen(cairo_create(surface.get()));
    cairo_set_source_rgba(pen.get(), 0.985, 0.972, 0.95, 0.93);
    cairo_paint(pen.get());
    font(pen.get(), size, true);
    std::string const title = map.unit.empty() ? map.title : fmt::format("{}, {}", map.title, map.unit);
    double const room = wide - 2 * pad, asks = width_of(pen.get(), title);
    if (asks > room) font(pen.get(), size * room / asks, true);
    write(pen.get(), pad, 1.5 * size, title);
    font(pen.get(), size, false);
    double const x = pad + 0.6 * size, bar = wide - 2 * x;
    draw_bar(pen.get(), map, x, 2.1 * size, bar, 1.3 * size);
    draw_numbers(pen.get(), map, x, 4.9 * size, bar, size);
    int const margin = static_cast<int>(pad);
    lay_over(surface.get(), margin, height_px - margin - high, width_px, rgb);
}

} // namespace leafwright
