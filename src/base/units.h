// Constants and conversions. Every raw number elsewhere carries its unit in its name.
#pragma once

#include <numbers>

namespace leafwright {

inline constexpr double kPi = std::numbers::pi;
inline constexpr double kTwoPi = 2.0 * std::numbers::pi;

inline constexpr double radians(double degrees) { return degrees * (kPi / 180.0); }
inline constexpr double degrees(double radians) { return radians * (180.0 / kPi); }

// International inch and avoirdupois pound (exact, 1959 agreement).
inline constexpr double kMmPerInch = 25.4;
inline constexpr double kGPerPound = 453.59237;

// Density of water at 20 degC; standard gravity (3rd CGPM 1901, exact).
inline constexpr double kWaterDensity_g_cm3 = 0.9982;
inline constexpr double kStandardGravity_m_s2 = 9.80665;

inline constexpr double kMm3PerCm3 = 1000.0;

} // namespace leafwright
