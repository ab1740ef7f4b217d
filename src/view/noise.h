// Seeded value noise for textures. Every function is pure.
#pragma once

#include "base/vec.h"

#include <cmath>
#include <cstdint>

namespace leafwright {

// 0 to 1 for a lattice point.
inline float lattice(std::uint32_t x, std::uint32_t y, std::uint32_t seed) {
    std::uint32_t h = x * 0x8DA6B343u ^ y * 0xD8163841u ^ seed * 0xCB1AB31Fu;
    h = (h ^ (h >> 15)) * 0x2C1B3C6Du;
    h = (h ^ (h >> 12)) * 0x297A2D39u;
    return static_cast<float>((h ^ (h >> 15)) >> 8) * 0x1p-24f;
}

// Smooth noise of unit feature size, 0 to 1. It repeats after `period`, a power of two, when that is not 0.
inline float smooth_noise(float x, float y, std::uint32_t seed, std::uint32_t period = 0) {
    float const fx = std::floor(x), fy = std::floor(y);
    float const tx = x - fx, ty = y - fy;
    auto const wrap = [mask = period - 1](int i) { return static_cast<std::uint32_t>(i) & mask; };
    std::uint32_t const x0 = wrap(static_cast<int>(fx)), x1 = wrap(static_cast<int>(fx) + 1);
    std::uint32_t const y0 = wrap(static_cast<int>(fy)), y1 = wrap(static_cast<int>(fy) + 1);
    float const sx = tx * tx * (3 - 2 * tx), sy = ty * ty * (3 - 2 * ty);
    float const low = lattice(x0, y0, seed) + sx * (lattice(x1, y0, seed) - lattice(x0, y0, seed));
    float const high = lattice(x0, y1, seed) + sx * (lattice(x1, y1, seed) - lattice(x0, y1, seed));
    return low + sy * (high - low);
}

} // namespace leafwright
