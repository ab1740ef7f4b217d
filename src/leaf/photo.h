// A photograph or scan, decoded: 8 bit red, green, blue (sRGB), upright, what was see-through on white.
#pragma once

#include "base/outcome.h"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace leafwright {

// What the first bytes say, not the name.
enum class PhotoKind { jpeg, png, heic, webp, tiff, gif, bmp, pdf, unknown };
PhotoKind photo_kind(std::string_view bytes);

// Dots per inch as the file's tags claim them. They lie often: ask the maker.
struct PhotoTags {
    double dpi = 0;   // 0: none, or not the same both ways
    std::string from; // "JFIF", "EXIF" or "PNG"
    int turned = 1;   // EXIF orientation 1 to 8, already undone
};

struct Photo {
    int width_px = 0;
    int height_px = 0;
    std::vector<std::uint8_t> rgb; // rows from the top, no padding
    int shrunk = 1;                // pixels of the file along one pixel here; lengths in px are told in the file's
    PhotoTags tags;

    std::uint8_t const* at(int x, int y) const {
        return rgb.data() +
               3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(width_px) + static_cast<std::size_t>(x));
    }
};

struct PhotoLimits {
    double most_px = 200e6;       // larger pictures are refused, before anything is decoded
    double most_whole_px = 100e6; // the same for kinds that must be held whole (progressive JPEG, interlaced PNG)
    double comfort_px = 40e6;     // larger ones are averaged down by whole steps while they are decoded
    int least_side_px = 64;
};

// JPEG (also grey, CMYK, progressive) and PNG (all kinds). A picture with any fault in its data is refused: a leaf cut
// short by a broken file would look like a bitten one. Cost: about 15 ns a pixel.
// Problem "photo.kind" (with what to do), "photo.size", "photo.damaged".
Outcome<Photo> read_photo(std::string_view bytes, PhotoLimits const& limits = {});

} // namespace leafwright
