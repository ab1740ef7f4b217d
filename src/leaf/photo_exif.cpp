// EXIF as far as tracing needs it: orientation and resolution of the first directory (TIFF 6.0, EXIF 2.3).
#include "leaf/photo_parts.h"

#include <cmath>

namespace leafwright {

namespace {

struct Tiff {
    std::string_view bytes;
    bool big_end = false;

    std::uint32_t read(std::size_t at, std::size_t count) const {
        if (at > bytes.size() || bytes.size() - at < count) return 0;
        std::uint32_t value = 0;
        for (std::size_t i = 0; i < count; ++i) {
            auto const byte = static_cast<unsigned char>(bytes[at + (big_end ? i : count - 1 - i)]);
            value = (value << 8) | byte;
        }
        return value;
    }
    double ratio(std::size_t at) const {
        double const below = read(at + 4, 4);
        return below > 0 ? read(at, 4) / below : 0;
    }
};

constexpr std::uint32_t kMostEntries = 256;

} // namespace

PhotoTags exif_tags(std::string_view tiff) {
    PhotoTags tags;
    if (tiff.size() < 14 || (tiff.substr(0, 2) != "II" && tiff.substr(0, 2) != "MM")) return tags;
    Tiff const file{tiff, tiff[0] == 'M'};
    if (file.read(2, 2) != 42) return tags;
    std::size_t const directory = file.read(4, 4);
    std::uint32_t const entries = std::min(file.read(directory, 2), kMostEntries);
    double x = 0;
    double y = 0;
    double unit_in = 1;
    for (std::uint32_t i = 0; i < entries; ++i) {
        std::size_t const at = directory + 2 + 12 * static_cast<std::size_t>(i);
        if (at + 12 > tiff.size()) break;
        switch (file.read(at, 2)) {
        case 0x0112: {
            std::uint32_t const turned = file.read(at + 8, 2);
            if (turned >= 1 && turned <= 8) tags.turned = static_cast<int>(turned);
            break;
        }
        case 0x011A:
            x = file.ratio(file.read(at + 8, 4));
            break;
        case 0x011B:
            y = file.ratio(file.read(at + 8, 4));
            break;
        case 0x0128:
            unit_in = file.read(at + 8, 2) == 3 ? 2.54 : (file.read(at + 8, 2) == 2 ? 1 : 0);
            break;
        default:
            break;
        }
    }
    double const dpi = unit_in * x;
    if (dpi >= 20 && dpi <= 20000 && std::abs(x - y) <= 0.01 * x) {
        tags.dpi = dpi;
        tags.from = "EXIF";
    }
    return tags;
}

} // namespace leafwright
