#include "leaf/photo_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

bool starts(std::string_view bytes, std::string_view with, std::size_t at = 0) {
    return bytes.size() >= at + with.size() && bytes.substr(at, with.size()) == with;
}

Problem other_kind(PhotoKind kind) {
    auto const told = [](char const* what, char const* hint) { return Problem{"photo.kind", "", what, hint}; };
    switch (kind) {
    case PhotoKind::heic:
        return told("is a HEIC (or AVIF) picture, which is not read here",
                    "Export it as JPEG, or set the telephone's camera to save JPEG (\"most compatible\")");
    case PhotoKind::webp:
        return told("is a WebP picture, which is not read here", "Save it as JPEG or PNG");
    case PhotoKind::tiff:
        return told("is a TIFF (or raw camera) picture, which is not read here",
                    "Save the scan as PNG, or export it as JPEG at the highest quality");
    case PhotoKind::gif:
        return told("is a GIF picture, which is not read here", "Save it as PNG");
    case PhotoKind::bmp:
        return told("is a BMP picture, which is not read here", "Save it as PNG");
    case PhotoKind::pdf:
        return told("is a PDF, not a picture", "Scan to JPEG or PNG, or export its page as PNG");
    default:
        return told("is not a JPEG or PNG picture", "Choose a photograph or scan saved as JPEG or PNG");
    }
}

} // namespace

PhotoKind photo_kind(std::string_view bytes) {
    if (starts(bytes, "\xFF\xD8\xFF")) return PhotoKind::jpeg;
    if (starts(bytes, "\x89PNG\r\n\x1A\n")) return PhotoKind::png;
    if (starts(bytes, "ftyp", 4)) {
        for (char const* brand : {"heic", "heix", "heim", "heis", "hevc", "hevx", "mif1", "msf1", "avif", "avis"})
            if (starts(bytes, brand, 8)) return PhotoKind::heic;
        return PhotoKind::unknown;
    }
    if (starts(bytes, "RIFF") && starts(bytes, "WEBP", 8)) return PhotoKind::webp;
    if (starts(bytes, std::string_view("II*\0", 4)) || starts(bytes, std::string_view("MM\0*", 4)))
        return PhotoKind::tiff;
    if (starts(bytes, "GIF8")) return PhotoKind::gif;
    if (starts(bytes, "BM")) return PhotoKind::bmp;
    if (starts(bytes, "%PDF")) return PhotoKind::pdf;
    return PhotoKind::unknown;
}

MaybeProblem check_size(double width, double height, bool whole, PhotoLimits const& limits) {
    if (width < limits.least_side_px || height < limits.least_side_px)
        return Problem{"photo.size", "", fmt::format("is {:.0f} x {:.0f} pixels, too small to trace", width, height),
                       fmt::format("Use a picture of at least {} pixels each way; 8 million in all is good",
                                   limits.least_side_px)};
    double const most = whole ? limits.most_whole_px : limits.most_px;
    if (width * height > most)
        return Problem{"photo.size", "",
                       fmt::format("is {:.0f} x {:.0f} pixels; the most is {:.0f} million{}", width, height, most / 1e6,
                                   whole ? " for a progressive or interlaced picture" : ""),
                       "Save it smaller; 8 to 24 million pixels are plenty"};
    return std::nullopt;
}

int shrink_for(double width, double height, bool, PhotoLimits const& limits) {
    return std::max(1, static_cast<int>(std::ceil(std::sqrt(width * height / limits.comfort_px) - 1e-9)));
}

Problem damaged_photo(std::string const& why) {
    std::string told;
    for (char const c : why) told += (c >= ' ' && c < 127) ? c : '?';
    return {"photo.damaged", "", "is damaged (" + told + ")", "Copy the picture again from the camera or scanner"};
}

Outcome<Photo> read_photo(std::string_view bytes, PhotoLimits const& limits) {
    PhotoKind const kind = photo_kind(bytes);
    if (kind != PhotoKind::jpeg && kind != PhotoKind::png) return other_kind(kind);
    auto photo = kind == PhotoKind::jpeg ? read_jpeg(bytes, limits) : read_png(bytes, limits);
    if (photo.ok()) set_upright(*photo);
    return photo;
}

RowAverage::RowAverage(Photo& into, int file_width, int step) : into_(into), step_(step) {
    sums_.assign(step > 1 ? 3 * static_cast<std::size_t>(file_width / step) : 0, 0);
}

void RowAverage::add(std::uint8_t const* rgb_row) {
    if (row_out_ >= into_.height_px) return;
    auto const width = static_cast<std::size_t>(into_.width_px);
    std::uint8_t* const out = into_.rgb.data() + 3 * width * static_cast<std::size_t>(row_out_);
    if (step_ == 1) {
        std::copy_n(rgb_row, 3 * width, out);
        ++row_out_;
        return;
    }
    for (std::size_t x = 0; x < width; ++x)
        for (int k = 0; k < step_; ++k, rgb_row += 3)
            for (std::size_t c = 0; c < 3; ++c) sums_[3 * x + c] += rgb_row[c];
    if (++rows_in_ < step_) return;
    auto const count = static_cast<std::uint32_t>(step_ * step_);
    for (std::size_t i = 0; i < sums_.size(); ++i) out[i] = static_cast<std::uint8_t>((sums_[i] + count / 2) / count);
    std::fill(sums_.begin(), sums_.end(), 0U);
    rows_in_ = 0;
    ++row_out_;
}

void set_upright(Photo& photo) {
    int const way = photo.tags.turned;
    if (way <= 1 || way > 8) return;
    bool const swaps = way >= 5;
    int const w = photo.width_px;
    int const h = photo.height_px;
    int const out_w = swaps ? h : w;
    int const out_h = swaps ? w : h;
    std::vector<std::uint8_t> out(photo.rgb.size());
    std::uint8_t* to = out.data();
    for (int y = 0; y < out_h; ++y)
        for (int x = 0; x < out_w; ++x, to += 3) {
            int const a = swaps ? y : x; // along the file's rows, before mirroring
            int const b = swaps ? x : y;
            bool const flip_x = way == 2 || way == 3 || way == 7 || way == 8;
            bool const flip_y = way == 3 || way == 4 || way == 6 || way == 7;
            std::copy_n(photo.at(flip_x ? w - 1 - a : a, flip_y ? h - 1 - b : b), 3, to);
        }
    photo.rgb = std::move(out);
    photo.width_px = out_w;
    photo.height_px = out_h;
}

} // namespace leafwright
