#include "drying/air.h"

#include <cmath>

namespace leafwright {

double saturation_Pa(double degC) {
    double const t = degC + 273.15;
    double const cold = 53.878 - 1331.22 / t - 9.44523 * std::log(t) + 0.014025 * t;
    return std::exp(54.842763 - 6763.22 / t - 4.210 * std::log(t) + 0.000367 * t +
                    std::tanh(0.0415 * (t - 218.8)) * cold);
}

double saturation_by_magnus_Pa(double degC) { return 611.2 * std::exp(17.62 * degC / (243.12 + degC)); }

} // namespace leafwright
