#include "leaf/trace_work.h"

#include <opencv2/imgproc.hpp>

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

std::array<float, 256> make_linear_light() {
    std::array<float, 256> table{};
    for (std::size_t i = 0; i < table.size(); ++i) {
        double const v = static_cast<double>(i) / 255.0;
        table[i] = static_cast<float>(v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4));
    }
    return table;
}

} // namespace

std::array<float, 256> const& linear_light() {
    static std::array<float, 256> const table = make_linear_light();
    return table;
}

Coarse coarse_of(Photo const& photo, int long_side) {
    Coarse coarse;
    int const longest = std::max(photo.width_px, photo.height_px);
    coarse.step = std::max(1, static_cast<int>(std::lround(static_cast<double>(longest) / long_side)));
    int const step = coarse.step;
    coarse.light.create(photo.height_px / step, photo.width_px / step);
    auto const& table = linear_light();
    float const share = 1.0F / static_cast<float>(step * step);
    cv::parallel_for_(cv::Range(0, coarse.light.rows), [&](cv::Range const& rows) {
        for (int j = rows.start; j < rows.end; ++j) {
            cv::Vec3f* const out = coarse.light[j];
            std::fill(out, out + coarse.light.cols, cv::Vec3f{});
            for (int k = 0; k < step; ++k) {
                std::uint8_t const* in = photo.at(0, j * step + k);
                for (int i = 0; i < coarse.light.cols; ++i)
                    for (int m = 0; m < step; ++m, in += 3)
                        out[i] += cv::Vec3f(table[in[0]], table[in[1]], table[in[2]]);
            }
            for (int i = 0; i < coarse.light.cols; ++i) out[i] *= share;
        }
    });
    return coarse;
}

float quantile(std::vector<float> values, double share) {
    if (values.empty()) return 0;
    auto const at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    return *at;
}

cv::Mat3f lab_of(cv::Mat3f const& light) {
    cv::Mat3f lab;
    cv::cvtColor(light, lab, cv::COLOR_LRGB2Lab);
    return lab;
}

} // namespace leafwright
