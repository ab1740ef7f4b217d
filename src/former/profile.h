// The profile that raises the outline: at each azimuth a planar curve (r R, crown Z) from the crown (w = 0, R = 0, Z =
// 1) to the rim (w = 1, R = 1, Z = 0).
#pragma once

#include "former/former.h"

namespace leafwright {

struct SectionJet {
    double radial = 0, height = 1; // R and Z
    double radial_by_w = 0, height_by_w = 0;
    double log_radial_by_azimuth = 0;         // (dR/dazimuth) / R, finite at the crown
    double height_by_azimuth_over_radial = 0; // (dZ/dazimuth) / R, 0 at the crown
};

// A point of the surface in the frame (outward, round, up) of its azimuth.
struct SurfaceJet {
    double rho = 0, z = 0;
    double rho_by_w = 0, z_by_w = 0;
    double normal_out = 0, normal_round = 0, normal_up = 1; // unit
    double stretch = 1; // area element = rho |(rho_by_w, z_by_w)| stretch dw dazimuth
    double rho_by_azimuth = 0, z_by_azimuth = 0;
};

class Profile {
public:
    // Exponents of the superellipse left-right and up-down; both are `fullness` for a dome.
    Profile(ProfileSpec const& spec, double exponent_across, double exponent_along);

    double crown_mm() const { return crown_mm_; }
    double exponent_across() const { return across_; }
    double exponent_along() const { return along_; }
    std::vector<double> const& breaks() const { return breaks_; }

    SectionJet section(double w, double azimuth_rad, RadiusJet const& radius) const;
    SurfaceJet surface(double w, double azimuth_rad, RadiusJet const& radius) const;

private:
    ProfileKind kind_;
    double crown_mm_, fullness_, across_, along_;
    // Below exponent 2 the superellipse bends sharply at crown and rim; w runs into both with this power, so that all
    // is smooth in w.
    double grading_ = 1;
    std::vector<double> breaks_;
};

// Length of the superellipse (x/a)^m + (z/h)^m = 1 from crown to rim. Relative error below 1e-10 for m in 1.2 to 20.
double superellipse_arc_mm(double a_mm, double h_mm, double m);

} // namespace leafwright
