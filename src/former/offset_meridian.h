// Meridians of the offset surface: its sections by upright planes through the crown's axis.
#pragma once

#include "former/former.h"

namespace leafwright {

// The outline's radius on a fine regular table (quintic between its nodes): the same to 1e-9, at a tenth of the cost.
class OutlineTable {
public:
    explicit OutlineTable(Outline const& outline, int cells);
    RadiusJet radius(double azimuth_rad) const; // r and dr only

private:
    struct Cell {
        double coefficient[6];
    };
    std::vector<Cell> cells_;
};

// A point of the section by the plane of one azimuth, in its frame (outward, round, up).
struct MeridianSample {
    double length = 0; // along the meridian from the crown
    double rho = 0, z = 0;
    double fall = 0;         // angle of the meridian below the level: tangent = (cos fall, -sin fall)
    double normal_round = 0; // the normal's share along the azimuth
    double density = 0;      // area element = density d(length) d(azimuth) = rho / sqrt(1 - normal_round^2)
    double area = 0;         // integral of density over the length from the crown
};

// `cells` equal steps of length from the crown to the rim. Where the offset folds over itself (a hollow of the outline
// narrower than the offset) the last point that moves outward stands for the fold, so the section stays one curve.
std::vector<MeridianSample> offset_meridian(Former const& former, OutlineTable const& outline, double azimuth_rad,
                                            double offset_mm, int cells, bool coarse = false);

// Running integral of `value` over `at` (ascending), by cubics through four neighbours each.
std::vector<double> running_integral(std::vector<double> const& at, std::vector<double> const& value);

} // namespace leafwright
