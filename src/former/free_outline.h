// A closed cubic spline through points round the centre, read as a radius for each azimuth.
#pragma once

#include "former/outline.h"

namespace leafwright {

class FreeOutline {
public:
    // Points in either direction. Problem "outline.not-star" when a ray from (0, 0) meets the curve twice, or never.
    static Outcome<FreeOutline> make(std::vector<Vec2> points_mm);

    RadiusJet radius(double azimuth_rad) const;
    // Azimuths of the points, ascending in [0, 2 pi).
    std::vector<double> const& knots() const { return azimuth_; }

private:
    struct PointJet {
        Vec2 p, d, dd; // position and derivatives by the spline's parameter
    };
    PointJet at(std::size_t segment, double share) const;
    bool is_star() const;

    // Knot i: point, second derivative, and the parameter length to knot i + 1; the first knot stands again at the end.
    std::vector<Vec2> point_, bend_;
    std::vector<double> step_, azimuth_;
};

} // namespace leafwright
