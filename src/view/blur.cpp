#include "view/blur.h"

#include <algorithm>
#include <cstddef>

namespace leafwright {
namespace {

void blur_row(float const* in, float* out, int columns, int radius) {
    float const share = 1.0f / static_cast<float>(2 * radius + 1);
    float sum = 0;
    for (int i = -radius; i <= radius; ++i) sum += in[std::clamp(i, 0, columns - 1)];
    for (int i = 0; i < columns; ++i) {
        out[i] = sum * share;
        sum += in[std::min(i + radius + 1, columns - 1)] - in[std::max(i - radius, 0)];
    }
}

} // namespace

std::vector<float> box_blurred(std::vector<float> const& in, int columns, int rows, int radius) {
    auto const width = static_cast<std::size_t>(columns);
    std::vector<float> across(in.size());
    for (int j = 0; j < rows; ++j) {
        std::size_t const at = static_cast<std::size_t>(j) * width;
        blur_row(in.data() + at, across.data() + at, columns, radius);
    }
    std::vector<float> out(in.size());
    std::vector<float> sum(width, 0.0f);
    float const share = 1.0f / static_cast<float>(2 * radius + 1);
    auto const row = [&](int j) {
        return across.data() + static_cast<std::size_t>(std::clamp(j, 0, rows - 1)) * width;
    };
    for (int j = -radius; j <= radius; ++j)
        for (std::size_t i = 0; i < width; ++i) sum[i] += row(j)[i];
    for (int j = 0; j < rows; ++j) {
        float const* enters = row(j + radius + 1);
        float const* leaves = row(j - radius);
        float* to = out.data() + static_cast<std::size_t>(j) * width;
        for (std::size_t i = 0; i < width; ++i) {
            to[i] = sum[i] * share;
            sum[i] += enters[i] - leaves[i];
        }
    }
    return out;
}

} // namespace leafwright
