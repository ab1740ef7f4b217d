// Inside the features, for no other file: the plain forms in their own square, -1 to 1 both ways, height 1.
// Every outline is convex. A form is told by a gauge (0 at its middle, 1 on its outline, growing evenly on every ray)
// or by a half width along its length.
#pragma once

#include "base/vec.h"

namespace leafwright::form {

inline constexpr double kLipWidth_mm = 8.0; // of an opening's raised lip

// Half of a circle over [0, 1]: a roll of clay.
double roll(double t);

// Between an ellipse (almond 0) and two parabolas that meet in corners left and right (almond 1).
double almond_gauge(Vec2 const& p, double almond);
double almond_area(double almond);

// A rounded triangle, one corner up: r = 1 - e sin 3 phi, brought to fill the square.
Vec2 nose_point(double azimuth_rad);
double nose_gauge(Vec2 const& p);
double nose_area();

// Two lips: highest beside the line on which they meet.
double mouth_height(Vec2 const& p);
double mouth_volume();

// A long leaf, pointed at both ends, hollow along its middle.
double ear_half_width(double y);
double ear_height(Vec2 const& p);
double ear_volume();

// A drop, pointed above.
double petal_half_width(double y);
double petal_height(Vec2 const& p);
double petal_volume();

} // namespace leafwright::form
