#include "view/picture.h"

#include <png.h>

namespace leafwright {

std::string png_of(Picture const& picture) {
    png_image image{};
    image.version = PNG_IMAGE_VERSION;
    image.width = static_cast<png_uint_32>(picture.width_px);
    image.height = static_cast<png_uint_32>(picture.height_px);
    image.format = PNG_FORMAT_RGB;
    png_alloc_size_t size = 0;
    png_image_write_to_memory(&image, nullptr, &size, 0, picture.rgb.data(), 0, nullptr);
    std::string bytes(size, '\0');
    png_image_write_to_memory(&image, bytes.data(), &size, 0, picture.rgb.data(), 0, nullptr);
    bytes.resize(size);
    return bytes;
}

} // namespace leafwright
