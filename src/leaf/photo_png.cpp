// PNG by libpng. libpng leaves by longjmp on a fault: everything that must be freed lies outside decode().
#include "leaf/photo_parts.h"

#include <algorithm>
#include <cstring>
#include <optional>

#include <png.h>

namespace leafwright {

namespace {

struct Reading {
    std::string_view bytes;
    PhotoLimits const& limits;
    std::size_t at = 0;
    char words[128] = "no reason told";
    Photo photo;
    MaybeProblem problem;
    std::vector<std::uint8_t> whole; // rows as libpng gives them: all (interlaced) or one
    std::vector<std::uint8_t*> rows;
    std::vector<std::uint8_t> rgb;
    std::optional<RowAverage> average;
};

void give_bytes(png_structp png, png_bytep to, std::size_t count) {
    auto* const reading = static_cast<Reading*>(png_get_io_ptr(png));
    if (reading->bytes.size() - reading->at < count) png_error(png, "it ends too early");
    std::memcpy(to, reading->bytes.data() + reading->at, count);
    reading->at += count;
}

void leave(png_structp png, char const* words) {
    auto* const reading = static_cast<Reading*>(png_get_error_ptr(png));
    std::strncpy(reading->words, words, sizeof reading->words - 1);
    png_longjmp(png, 1);
}

void on_warning(png_structp, char const*) {} // of chunks that tracing does not use

void take_tags(png_structp png, png_infop info, PhotoTags& tags) {
    png_bytep exif = nullptr;
    png_uint_32 size = 0;
    if (png_get_eXIf_1(png, info, &size, &exif) && exif) tags = exif_tags({reinterpret_cast<char const*>(exif), size});
    png_uint_32 x = 0;
    png_uint_32 y = 0;
    int unit = 0;
    if (!png_get_pHYs(png, info, &x, &y, &unit) || unit != PNG_RESOLUTION_METER || x != y) return;
    double const dpi = 0.0254 * x;
    if (dpi < 20 || dpi > 20000) return;
    tags.dpi = dpi;
    tags.from = "PNG";
}

void ask_for_rgba(png_structp png) {
    png_set_expand(png);
    png_set_scale_16(png);
    png_set_gray_to_rgb(png);
    png_set_add_alpha(png, 0xFF, PNG_FILLER_AFTER);
}

// See-through parts lie on white.
void add_row(Reading& reading, std::uint8_t const* rgba) {
    std::uint8_t* to = reading.rgb.data();
    for (std::size_t left = reading.rgb.size() / 3; left > 0; --left, rgba += 4, to += 3)
        for (int c = 0; c < 3; ++c)
            to[c] = static_cast<std::uint8_t>((rgba[c] * rgba[3] + 255 * (255 - rgba[3]) + 127) / 255);
    reading.average->add(reading.rgb.data());
}

bool make_room(png_structp png, png_infop info, int passes, Reading& reading) {
    auto const width = static_cast<std::size_t>(png_get_image_width(png, info));
    auto const height = static_cast<std::size_t>(png_get_image_height(png, info));
    std::size_t const row_bytes = png_get_rowbytes(png, info);
    if (row_bytes != 4 * width) return false;
    int const step = shrink_for(static_cast<double>(width), static_cast<double>(height), passes > 1, reading.limits);
    Photo& photo = reading.photo;
    photo.shrunk = step;
    photo.width_px = static_cast<int>(width) / step;
    photo.height_px = static_cast<int>(height) / step;
    photo.rgb.resize(3 * static_cast<std::size_t>(photo.width_px) * static_cast<std::size_t>(photo.height_px));
    std::size_t const kept = passes > 1 ? height : 1;
    reading.whole.resize(kept * row_bytes);
    for (std::size_t y = 0; y < kept; ++y) reading.rows.push_back(reading.whole.data() + y * row_bytes);
    reading.rgb.resize(3 * width);
    reading.average.emplace(photo, static_cast<int>(width), step);
    return true;
}

bool decode(png_structp png, png_infop info, Reading& reading) {
    if (setjmp(png_jmpbuf(png))) return false;
    png_set_read_fn(png, &reading, give_bytes);
    png_set_user_limits(png, 1000000, 1000000);
    png_set_chunk_malloc_max(png, 8000000);
    png_set_chunk_cache_max(png, 200);
    png_read_info(png, info);
    auto const width = static_cast<double>(png_get_image_width(png, info));
    auto const height = static_cast<double>(png_get_image_height(png, info));
    bool const whole = png_get_interlace_type(png, info) != PNG_INTERLACE_NONE;
    reading.problem = check_size(width, height, whole, reading.limits);
    if (reading.problem) return false;
    take_tags(png, info, reading.photo.tags);
    ask_for_rgba(png);
    int const passes = png_set_interlace_handling(png);
    png_read_update_info(png, info);
    if (!make_room(png, info, passes, reading)) return false;
    auto const rows = static_cast<int>(height);
    for (int pass = 0; pass < passes; ++pass)
        for (int y = 0; y < rows; ++y) {
            png_read_row(png, reading.rows[passes > 1 ? static_cast<std::size_t>(y) : 0], nullptr);
            if (passes == 1) add_row(reading, reading.rows[0]);
        }
    if (passes > 1)
        for (std::uint8_t const* row : reading.rows) add_row(reading, row);
    png_read_end(png, nullptr);
    return true;
}

// Every chunk ends within the file: libpng makes room for a chunk before it looks whether there is as much to read.
bool chunks_fit(std::string_view bytes) {
    std::size_t at = 8;
    while (at + 12 <= bytes.size()) {
        std::size_t length = 0;
        for (std::size_t k = 0; k < 4; ++k) length = 256 * length + static_cast<unsigned char>(bytes[at + k]);
        if (length > bytes.size() - at - 12) return false;
        if (bytes.substr(at + 4, 4) == "IEND") return true;
        at += 12 + length;
    }
    return false;
}

} // namespace

Outcome<Photo> read_png(std::string_view bytes, PhotoLimits const& limits) {
    if (!chunks_fit(bytes)) return damaged_photo("it ends too early");
    Reading reading{bytes, limits, 0, "no reason told", {}, {}, {}, {}, {}, {}};
    png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, &reading, leave, on_warning);
    png_infop info = png ? png_create_info_struct(png) : nullptr;
    bool const done = info && decode(png, info, reading);
    png_destroy_read_struct(&png, &info, nullptr);
    if (reading.problem) return *reading.problem;
    if (!done) return damaged_photo(reading.words);
    return std::move(reading.photo);
}

} // namespace leafwright
