#include "view/textures.h"

#include "view/blur.h"
#include "view/noise.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

constexpr int kGrainSize = 256;
constexpr int kWoodAcross = 1024;
constexpr int kWoodAlong = 256;

GlTexture uploaded(GLint inner, GLenum outer, GLenum type, int columns, int rows, void const* texels, bool repeat,
                   bool mipmaps) {
    GlTexture texture = make_texture();
    glBindTexture(GL_TEXTURE_2D, texture.name());
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glTexImage2D(GL_TEXTURE_2D, 0, inner, columns, rows, 0, outer, type, texels);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 4);
    GLint const wrap = repeat ? GL_REPEAT : GL_CLAMP_TO_EDGE;
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, wrap);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, wrap);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, mipmaps ? GL_LINEAR_MIPMAP_NEAREST : GL_LINEAR);
    if (mipmaps) glGenerateMipmap(GL_TEXTURE_2D);
    return texture;
}

std::uint8_t byte_of(float unit) { return static_cast<std::uint8_t>(std::lround(std::clamp(unit, 0.0f, 1.0f) * 255)); }

float octaves(float x, float y, std::uint32_t seed, std::uint32_t period, int count) {
    float sum = 0, size = 0.5f;
    for (int k = 0; k < count; ++k, size *= 0.5f) {
        sum += size * smooth_noise(x, y, seed + static_cast<std::uint32_t>(k), period);
        x *= 2, y *= 2, period *= 2;
    }
    return sum;
}

std::vector<float> grain_heights() {
    std::vector<float> height(kGrainSize * kGrainSize);
    for (int j = 0; j < kGrainSize; ++j)
        for (int i = 0; i < kGrainSize; ++i) {
            float const x = static_cast<float>(i) / kGrainSize, y = static_cast<float>(j) / kGrainSize;
            float const pores = smooth_noise(x * 64, y * 64, 31, 64);
            height[static_cast<std::size_t>(j * kGrainSize + i)] =
                octaves(x * 16, y * 16, 21, 16, 4) - 0.5f * std::max(0.0f, pores - 0.82f) / 0.18f;
        }
    return height;
}

// Albedo of a board, 0 to 1 (square root of linear), u across the staves, v along them.
std::array<float, 3> wood_at(float u, float v) {
    constexpr float kStaves = 5;
    float const stave = std::floor(u * kStaves);
    auto const id = static_cast<std::uint32_t>(stave);
    float const tone = lattice(id, 0, 5);
    float const along = v * 3 + 17 * lattice(id, 1, 5);
    // Growth rings cut lengthwise: close and straight, drawn out along the stave.
    float const bend = smooth_noise(u * 5 + 3 * tone, along * 0.8f, 7) + 0.3f * smooth_noise(u * 22, along * 1.6f, 8);
    float const ring = u * (52 + 30 * tone) + 3.2f * bend + 10 * tone;
    float const late = ring - std::floor(ring); // dark at the ring's end
    float const fibre = smooth_noise(u * 300, along * 9, 9) * 0.5f + smooth_noise(u * 150, along * 4, 10) * 0.5f;
    float const place = std::abs(u * kStaves - std::round(u * kStaves));
    float const seam = place < 0.006f ? 0.93f : 1;
    float const bright = (0.965f + 0.045f * (tone - 0.5f) - 0.022f * late * late - 0.045f * (fibre - 0.5f)) * seam;
    return {bright * 0.915f, bright * (0.852f - 0.008f * late), bright * (0.765f - 0.018f * late)};
}

} // namespace

GlTexture grain_texture() {
    std::vector<float> const height = grain_heights();
    std::vector<std::uint8_t> texels(height.size() * 4);
    auto const at = [&](int i, int j) {
        return height[static_cast<std::size_t>(((j + kGrainSize) % kGrainSize) * kGrainSize +
                                               (i + kGrainSize) % kGrainSize)];
    };
    for (int j = 0; j < kGrainSize; ++j)
        for (int i = 0; i < kGrainSize; ++i) {
            std::uint8_t* texel = texels.data() + 4 * static_cast<std::size_t>(j * kGrainSize + i);
            texel[0] = byte_of(0.5f + 2.2f * (at(i + 1, j) - at(i - 1, j)));
            texel[1] = byte_of(0.5f + 2.2f * (at(i, j + 1) - at(i, j - 1)));
            texel[2] = byte_of(octaves(static_cast<float>(i) / 64, static_cast<float>(j) / 64, 51, 4, 5));
            texel[3] = 255;
        }
    return uploaded(GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE, kGrainSize, kGrainSize, texels.data(), true, true);
}

GlTexture wood_texture() {
    std::vector<std::uint8_t> texels(static_cast<std::size_t>(kWoodAcross) * kWoodAlong * 4);
    for (int j = 0; j < kWoodAlong; ++j)
        for (int i = 0; i < kWoodAcross; ++i) {
            std::array<float, 3> const colour =
                wood_at(static_cast<float>(i) / kWoodAcross, static_cast<float>(j) / kWoodAlong);
            std::uint8_t* texel = texels.data() + 4 * static_cast<std::size_t>(j * kWoodAcross + i);
            for (std::size_t k = 0; k < 3; ++k) texel[k] = byte_of(colour[k]);
            texel[3] = 255;
        }
    return uploaded(GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE, kWoodAcross, kWoodAlong, texels.data(), true, true);
}

GlTexture relief_texture(ReliefMap const& map) {
    return uploaded(GL_RGBA8, GL_RGBA, GL_UNSIGNED_BYTE, map.columns, map.rows, map.texels.data(), false, true);
}

GlTexture shade_texture(HeightPatch const& height) {
    auto const cells = [&](double mm) { return std::max(1, static_cast<int>(std::lround(mm / height.cell_mm))); };
    auto const smooth = [&](double mm) {
        std::vector<float> const once = box_blurred(height.height_mm, height.columns, height.rows, cells(mm));
        return box_blurred(once, height.columns, height.rows, cells(mm));
    };
    std::vector<float> const narrow = smooth(2.0);
    std::vector<float> const wide = smooth(7.0);
    std::vector<std::uint16_t> texels(narrow.size() * 2);
    auto const word = [](float mm) {
        return static_cast<std::uint16_t>(std::lround(std::clamp(mm / kShadeRange_mm, 0.0f, 1.0f) * 65535.0f));
    };
    for (std::size_t i = 0; i < narrow.size(); ++i) {
        texels[2 * i] = word(narrow[i]);
        texels[2 * i + 1] = word(wide[i]);
    }
    return uploaded(GL_RG16, GL_RG, GL_UNSIGNED_SHORT, height.columns, height.rows, texels.data(), false, false);
}

glm::vec4 texture_frame(Vec2 const& low_mm, Vec2 const& size_mm) {
    Vec2 const scale = 1.0 / size_mm;
    return glm::vec4(scale.x, scale.y, -low_mm.x * scale.x, -low_mm.y * scale.y);
}

} // namespace leafwright
