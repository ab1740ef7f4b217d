// JPEG by libjpeg-turbo. libjpeg leaves by longjmp on a fault: everything that must be freed lies outside decode().
#include "leaf/photo_parts.h"

#include <algorithm>
#include <cmath>
#include <csetjmp>
#include <cstdio>
#include <optional>

#include <jpeglib.h>

namespace leafwright {

namespace {

constexpr int kMostScans = 200; // a progressive file may ask for endless work

struct Faults {
    jpeg_error_mgr manager;
    std::jmp_buf back;
    char words[JMSG_LENGTH_MAX];
};

void leave(j_common_ptr info) {
    auto* const faults = reinterpret_cast<Faults*>(info->err);
    faults->manager.format_message(info, faults->words);
    std::longjmp(faults->back, 1);
}

// A warning means that data is missing or wrong, and that the picture goes on with something made up.
void on_message(j_common_ptr info, int level) {
    if (level < 0) leave(info);
}

void on_progress(j_common_ptr info) {
    auto* const jpeg = reinterpret_cast<j_decompress_ptr>(info);
    if (jpeg->input_scan_number <= kMostScans) return;
    auto* const faults = reinterpret_cast<Faults*>(info->err);
    std::snprintf(faults->words, sizeof faults->words, "more than %d scans", kMostScans);
    std::longjmp(faults->back, 1);
}

struct Reading {
    std::string_view bytes;
    PhotoLimits const& limits;
    Photo photo;
    MaybeProblem problem;
    std::vector<std::uint8_t> row;
    std::vector<std::uint8_t> rgb;
    std::optional<RowAverage> average;
};

void take_tags(jpeg_decompress_struct const& jpeg, PhotoTags& tags) {
    for (jpeg_saved_marker_ptr m = jpeg.marker_list; m; m = m->next) {
        std::string_view const data(reinterpret_cast<char const*>(m->data), m->data_length);
        if (m->marker == JPEG_APP0 + 1 && data.substr(0, 6) == std::string_view("Exif\0\0", 6)) {
            tags = exif_tags(data.substr(6));
            break;
        }
    }
    bool const same = jpeg.X_density == jpeg.Y_density;
    double const dpi = jpeg.X_density * (jpeg.density_unit == 2 ? 2.54 : 1.0);
    if (tags.dpi == 0 && jpeg.saw_JFIF_marker && jpeg.density_unit > 0 && same && dpi >= 20) {
        tags.dpi = dpi;
        tags.from = "JFIF";
    }
}

// Adobe's files hold CMYK upside down.
void rgb_of_cmyk(std::uint8_t const* cmyk, std::uint8_t* rgb, int width, bool inverted) {
    for (int x = 0; x < width; ++x, cmyk += 4, rgb += 3)
        for (int c = 0; c < 3; ++c) {
            int const ink = inverted ? cmyk[c] : 255 - cmyk[c];
            int const black = inverted ? cmyk[3] : 255 - cmyk[3];
            rgb[c] = static_cast<std::uint8_t>((ink * black + 127) / 255);
        }
}

// Sizes are known: the picture's room. False: refused.
bool make_room(jpeg_decompress_struct& jpeg, Reading& reading) {
    reading.problem = check_size(jpeg.image_width, jpeg.image_height, jpeg.progressive_mode, reading.limits);
    if (reading.problem) return false;
    take_tags(jpeg, reading.photo.tags);
    bool const inks = jpeg.jpeg_color_space == JCS_CMYK || jpeg.jpeg_color_space == JCS_YCCK;
    jpeg.out_color_space = inks ? JCS_CMYK : JCS_RGB;
    jpeg.dct_method = JDCT_ISLOW;
    auto const width = static_cast<int>(jpeg.image_width);
    int const step = shrink_for(jpeg.image_width, jpeg.image_height, jpeg.progressive_mode, reading.limits);
    Photo& photo = reading.photo;
    photo.shrunk = step;
    photo.width_px = width / step;
    photo.height_px = static_cast<int>(jpeg.image_height) / step;
    photo.rgb.resize(3 * static_cast<std::size_t>(photo.width_px) * static_cast<std::size_t>(photo.height_px));
    reading.row.resize(4 * static_cast<std::size_t>(width));
    reading.rgb.resize(3 * static_cast<std::size_t>(width));
    reading.average.emplace(photo, width, step);
    return true;
}

// False: a fault (in faults.words), or refused (in reading.problem).
bool decode(jpeg_decompress_struct& jpeg, Faults& faults, jpeg_progress_mgr& progress, Reading& reading) {
    if (setjmp(faults.back)) return false;
    jpeg_create_decompress(&jpeg);
    progress.progress_monitor = on_progress;
    jpeg.progress = &progress;
    jpeg_mem_src(&jpeg, reinterpret_cast<unsigned char const*>(reading.bytes.data()), reading.bytes.size());
    jpeg_save_markers(&jpeg, JPEG_APP0 + 1, 0xFFFF);
    jpeg_read_header(&jpeg, TRUE);
    if (!make_room(jpeg, reading)) return false;
    jpeg_start_decompress(&jpeg);
    bool const inks = jpeg.out_color_space == JCS_CMYK;
    while (jpeg.output_scanline < jpeg.output_height) {
        JSAMPROW row = inks ? reading.row.data() : reading.rgb.data();
        jpeg_read_scanlines(&jpeg, &row, 1);
        if (inks)
            rgb_of_cmyk(reading.row.data(), reading.rgb.data(), static_cast<int>(jpeg.output_width),
                        jpeg.saw_Adobe_marker);
        reading.average->add(reading.rgb.data());
    }
    jpeg_finish_decompress(&jpeg);
    return true;
}

} // namespace

Outcome<Photo> read_jpeg(std::string_view bytes, PhotoLimits const& limits) {
    Reading reading{bytes, limits, {}, {}, {}, {}, {}};
    Faults faults{};
    jpeg_progress_mgr progress{};
    jpeg_decompress_struct jpeg{};
    jpeg.err = jpeg_std_error(&faults.manager);
    faults.manager.error_exit = leave;
    faults.manager.emit_message = on_message;
    bool const done = decode(jpeg, faults, progress, reading);
    jpeg_destroy_decompress(&jpeg);
    if (reading.problem) return *reading.problem;
    if (!done) return damaged_photo(faults.words);
    return std::move(reading.photo);
}

} // namespace leafwright
