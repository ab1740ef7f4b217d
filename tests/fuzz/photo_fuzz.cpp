// Any bytes as a photograph: read without harm; refused with one sentence, or a picture of the size that it says.
#include "leaf/photo.h"

#include <cstdlib>

extern "C" int LLVMFuzzerTestOneInput(unsigned char const* data, std::size_t size) {
    using namespace leafwright;
    PhotoLimits limits;
    limits.most_px = 400000;
    limits.most_whole_px = 200000;
    limits.comfort_px = 60000;
    limits.least_side_px = 1;
    Outcome<Photo> const photo = read_photo({reinterpret_cast<char const*>(data), size}, limits);
    if (!photo) {
        if (photo.problem().what.empty() || photo.problem().sentence().find('\n') != std::string::npos) std::abort();
        return 0;
    }
    auto const px = static_cast<std::size_t>(photo->width_px) * static_cast<std::size_t>(photo->height_px);
    if (px == 0 || photo->rgb.size() != 3 * px) std::abort();
    if (!(photo->tags.dpi >= 0) || photo->tags.turned < 1 || photo->tags.turned > 8) std::abort();
    return 0;
}
