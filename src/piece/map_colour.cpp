#include "piece/map_colour.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {
namespace {

double encoded(double linear) {
    double const x = std::clamp(linear, 0.0, 1.0);
    return x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1 / 2.4) - 0.055; // IEC 61966-2-1
}

Vec3 from_oklab(double light, double a, double b) {
    double const l = std::pow(light + 0.3963377774 * a + 0.2158037573 * b, 3);
    double const m = std::pow(light - 0.1055613458 * a - 0.0638541728 * b, 3);
    double const s = std::pow(light - 0.0894841775 * a - 1.2914855480 * b, 3);
    return {encoded(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
            encoded(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
            encoded(-0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s)};
}

} // namespace

Vec3 map_colour(double share) {
    double const t = std::clamp(share, 0.0, 1.0);
    double const light = 0.945 - 0.525 * t;
    double const chroma = 0.055 + 0.055 * std::sin(kPi * (0.15 + 0.75 * t));
    double const hue = radians(98 + 164 * t);
    return from_oklab(light, chroma * std::cos(hue), chroma * std::sin(hue));
}

} // namespace leafwright
