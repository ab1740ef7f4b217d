#include "sheet/paper.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>

#include <cmath>
#include <cstring>

namespace leafwright {

namespace {

constexpr double kPointsPerMm = 72.0 / 25.4;

cairo_status_t append(void* bytes, unsigned char const* data, unsigned int count) {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<char const*>(data), count);
    return CAIRO_STATUS_SUCCESS;
}

} // namespace

struct Paper::State {
    PaperSize size;
    PaperKind kind;
    std::string bytes;
    cairo_surface_t* surface = nullptr;
    cairo_t* cairo = nullptr;

    void begin(double scale) {
        cairo = cairo_create(surface);
        cairo_scale(cairo, scale, scale);
        cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
        cairo_set_line_cap(cairo, CAIRO_LINE_CAP_ROUND);
    }
    void ink(Ink const& colour) const { cairo_set_source_rgba(cairo, colour.r, colour.g, colour.b, colour.a); }
    void font(TextStyle const& style) const {
        cairo_select_font_face(cairo, "Inter", CAIRO_FONT_SLANT_NORMAL,
                               style.weight == Weight::bold ? CAIRO_FONT_WEIGHT_BOLD : CAIRO_FONT_WEIGHT_NORMAL);
        cairo_set_font_size(cairo, style.size_mm);
    }
    void path(std::span<Vec2 const> points, bool closed) const {
        for (std::size_t i = 0; i < points.size(); ++i) {
            if (i == 0)
                cairo_move_to(cairo, points[i].x, points[i].y);
            else
                cairo_line_to(cairo, points[i].x, points[i].y);
        }
        if (closed) cairo_close_path(cairo);
    }
};

Paper::Paper(PaperKind kind, PaperSize size, std::string_view title) : state_(std::make_unique<State>()) {
    State& s = *state_;
    s.size = size;
    s.kind = kind;
    double const width = size.width_mm * kPointsPerMm;
    double const height = size.height_mm * kPointsPerMm;
    if (kind == PaperKind::pdf) {
        s.surface = cairo_pdf_surface_create_for_stream(append, &s.bytes, width, height);
        cairo_pdf_surface_set_metadata(s.surface, CAIRO_PDF_METADATA_TITLE, std::string(title).c_str());
        // A fixed date: the same piece gives the same bytes.
        cairo_pdf_surface_set_metadata(s.surface, CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
    } else {
        s.surface = cairo_svg_surface_create_for_stream(append, &s.bytes, width, height);
    }
    s.begin(kPointsPerMm);
}

Paper::Paper(int width_px, int height_px, double px_per_mm) : state_(std::make_unique<State>()) {
    State& s = *state_;
    s.size = {width_px / px_per_mm, height_px / px_per_mm};
    s.surface = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px);
    s.begin(px_per_mm);
    cairo_set_source_rgb(s.cairo, 1, 1, 1);
    cairo_paint(s.cairo);
}

Paper::~Paper() {
    if (state_->cairo) cairo_destroy(state_->cairo);
    if (state_->surface) cairo_surface_destroy(state_->surface);
}

PaperSize Paper::size() const { return state_->size; }

void Paper::next_page() { cairo_show_page(state_->cairo); }

void Paper::next_page(PaperSize size) {
    cairo_show_page(state_->cairo);
    cairo_pdf_surface_set_size(state_->surface, size.width_mm * kPointsPerMm, size.height_mm * kPointsPerMm);
    state_->size = size;
}

double Paper::text_width(std::string_view words, TextStyle const& style) {
    state_->font(style);
    cairo_text_extents_t extents;
    cairo_text_extents(state_->cairo, std::string(words).c_str(), &extents);
    return extents.x_advance;
}

double Paper::text(Vec2 at, std::string_view words, TextStyle const& style) {
    double const width = text_width(words, style);
    if (style.align == Align::centre) at.x -= width / 2;
    if (style.align == Align::right) at.x -= width;
    state_->ink(style.ink);
    cairo_move_to(state_->cairo, at.x, at.y);
    cairo_show_text(state_->cairo, std::string(words).c_str());
    cairo_new_path(state_->cairo);
    return width;
}

double Paper::paragraph(Vec2 at, double width_mm, std::string_view words, TextStyle const& style) {
    double const leading = style.size_mm * 1.38;
    std::string line;
    auto put = [&] {
        if (line.empty()) return;
        text(at, line, style);
        at.y += leading;
        line.clear();
    };
    while (!words.empty()) {
        std::size_t const end = std::min(words.find(' '), words.size());
        std::string const word{words.substr(0, end)};
        words.remove_prefix(std::min(end + 1, words.size()));
        if (!line.empty() && text_width(line + ' ' + word, style) > width_mm) put();
        line += (line.empty() ? "" : " ") + word;
    }
    put();
    return at.y;
}

void Paper::line(std::span<Vec2 const> points, double width_mm, Ink const& ink, bool closed, bool dashed) {
    double const dashes[] = {2.4, 1.6};
    state_->ink(ink);
    cairo_set_line_width(state_->cairo, width_mm);
    cairo_set_dash(state_->cairo, dashes, dashed ? 2 : 0, 0);
    state_->path(points, closed);
    cairo_stroke(state_->cairo);
}

void Paper::fill(std::span<Vec2 const> points, Ink const& ink) {
    state_->ink(ink);
    state_->path(points, true);
    cairo_fill(state_->cairo);
}

void Paper::fill(Polygon const& polygon, Ink const& ink) {
    state_->ink(ink);
    cairo_set_fill_rule(state_->cairo, CAIRO_FILL_RULE_EVEN_ODD);
    state_->path(polygon.outer, true);
    for (Ring const& hole : polygon.holes) state_->path(hole, true);
    cairo_fill(state_->cairo);
    cairo_set_fill_rule(state_->cairo, CAIRO_FILL_RULE_WINDING);
}

void Paper::picture(Box2 const& box, int width_px, int height_px, std::span<unsigned char const> rgb) {
    cairo_surface_t* image = cairo_image_surface_create(CAIRO_FORMAT_RGB24, width_px, height_px);
    cairo_surface_flush(image);
    unsigned char* out = cairo_image_surface_get_data(image);
    int const stride = cairo_image_surface_get_stride(image);
    for (int y = 0; y < height_px; ++y)
        for (int x = 0; x < width_px; ++x) {
            unsigned char const* p = &rgb[3 * (static_cast<std::size_t>(y) * width_px + x)];
            std::uint32_t const pixel = std::uint32_t{p[0]} << 16 | std::uint32_t{p[1]} << 8 | p[2];
            std::memcpy(out + static_cast<std::ptrdiff_t>(y) * stride + 4 * x, &pixel, 4);
        }
    cairo_surface_mark_dirty(image);
    double const scale = std::min(box.size().x / width_px, box.size().y / height_px);
    cairo_save(state_->cairo);
    cairo_translate(state_->cairo, box.centre().x - scale * width_px / 2, box.centre().y - scale * height_px / 2);
    cairo_scale(state_->cairo, scale, scale);
    cairo_set_source_surface(state_->cairo, image, 0, 0);
    cairo_paint(state_->cairo);
    cairo_restore(state_->cairo);
    cairo_surface_destroy(image);
}

void Paper::clip(Box2 const& box) {
    cairo_save(state_->cairo);
    cairo_rectangle(state_->cairo, box.low.x, box.low.y, box.size().x, box.size().y);
    cairo_clip(state_->cairo);
}

void Paper::unclip() { cairo_restore(state_->cairo); }

std::vector<unsigned char> Paper::rgb() const {
    cairo_surface_flush(state_->surface);
    int const width = cairo_image_surface_get_width(state_->surface);
    int const height = cairo_image_surface_get_height(state_->surface);
    int const stride = cairo_image_surface_get_stride(state_->surface);
    unsigned char const* const in = cairo_image_surface_get_data(state_->surface);
    std::vector<unsigned char> out;
    out.reserve(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x) {
            std::uint32_t pixel = 0;
            std::memcpy(&pixel, in + static_cast<std::ptrdiff_t>(y) * stride + 4 * x, 4);
            for (int const shift : {16, 8, 0}) out.push_back(static_cast<unsigned char>(pixel >> shift));
        }
    return out;
}

std::string Paper::finish() {
    cairo_show_page(state_->cairo);
    cairo_destroy(state_->cairo);
    state_->cairo = nullptr;
    cairo_surface_finish(state_->surface);
    return std::move(state_->bytes);
}

} // namespace leafwright
