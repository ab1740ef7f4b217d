// The decoders behind read_photo().
#pragma once

#include "leaf/photo.h"

#include <array>

namespace leafwright {

// How many pixels of the file along one of the picture; 0 when it is too large.
int shrink_for(double width, double height, bool whole, PhotoLimits const& limits);
MaybeProblem check_size(double width, double height, bool whole, PhotoLimits const& limits);
Problem damaged_photo(std::string const& why);

Outcome<Photo> read_jpeg(std::string_view bytes, PhotoLimits const& limits);
Outcome<Photo> read_png(std::string_view bytes, PhotoLimits const& limits);

// The few tags that matter, from a TIFF block (EXIF without its "Exif" heading). Ill-formed blocks give what could be
// read safely.
PhotoTags exif_tags(std::string_view tiff);

// Turned and mirrored as the EXIF orientation asks.
void set_upright(Photo& photo);

// Rows of the file averaged into rows of the picture, `step` by `step`; what is left over at the far edges goes.
class RowAverage {
public:
    RowAverage(Photo& into, int file_width, int step);
    void add(std::uint8_t const* rgb_row); // file_width pixels

private:
    Photo& into_;
    int step_;
    int rows_in_ = 0;
    int row_out_ = 0;
    std::vector<std::uint32_t> sums_;
};

} // namespace leafwright
