// The former's plan outline, star-shaped about its centre: one radius for each azimuth.
#pragma once

#include "base/outcome.h"
#include "base/polygon.h"

#include <memory>
#include <string>
#include <vector>

namespace leafwright {

enum class OutlineKind { round, oval, egg, rounded, free };

// What the maker asks for. Lengths as the piece hangs: width left-right, height up-down.
struct OutlineSpec {
    OutlineKind kind = OutlineKind::oval;
    double width_mm = 300;       // 40 to 1200. A round outline takes its diameter from width_mm
    double height_mm = 400;      // 40 to 1200
    double upper_share = 0.5;    // egg: share of the height above the widest line, 0.2 to 0.8
    double squareness = 2.0;     // rounded: exponent of the superellipse, 2 (ellipse) to 8
    std::vector<Vec2> points_mm; // free: at least 4 points round the centre (0, 0), joined by a closed cubic spline
    bool operator==(OutlineSpec const&) const = default;
};

// Radius and its first two derivatives by azimuth, mm, mm/rad, mm/rad2.
struct RadiusJet {
    double r = 0;
    double dr = 0;
    double ddr = 0;
};

class Outline {
public:
    // Problem "range" names the field; "outline.not-star" when a ray from the centre meets a free outline twice.
    static Outcome<Outline> make(OutlineSpec const& spec);

    OutlineSpec const& spec() const;
    RadiusJet radius(double azimuth_rad) const;
    // Plan area and rim length, by Gauss-Legendre panels between breaks(): relative error below 1e-10 on ellipses.
    double area_mm2() const;
    double perimeter_mm() const;
    // Greatest left-right and up-down extents.
    Vec2 size_mm() const;
    // Ascending azimuths in [0, 2 pi) between which radius() is smooth. Never empty.
    std::vector<double> const& breaks() const;
    Ring ring(int points) const;

private:
    struct Data;
    explicit Outline(std::shared_ptr<Data const> data);
    std::shared_ptr<Data const> data_;
};

} // namespace leafwright
