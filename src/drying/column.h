// A column through the thickness: one-dimensional diffusion of water or heat, capacity du/dt = d/dx(conductivity
// du/dx), with exchange at both faces. The reference for the lumped drying model, and the solver for the fire. Finite
// volumes; time by the L-stable two-stage SDIRK of second order (Alexander, SIAM J. Numer. Anal. 14, 1977). Any
// consistent units.
#pragma once

#include <vector>

namespace leafwright {

// Flow into the column through one face: exchange (outside - face) + inflow. kHeld as exchange holds the face at
// `outside`.
struct ColumnFace {
    double exchange = 0; // 0: sealed
    double outside = 0;
    double inflow = 0;
};
inline constexpr double kHeld = 1e300;

class Column {
public:
    // `cells` equal cells, at least 2, over the length; one start value. Properties may be changed between steps.
    Column(int cells, double length, double capacity, double conductivity, double start);

    std::vector<double> capacity;     // by volume, a value per cell
    std::vector<double> conductivity; // a value per cell

    // Faces at the beginning and the end of the step; between them they run straight. Error of order dt^2 and dx^2.
    void step(double dt, ColumnFace const& left_before, ColumnFace const& left_after, ColumnFace const& right_before,
              ColumnFace const& right_after);
    void step(double dt, ColumnFace const& left, ColumnFace const& right) { step(dt, left, left, right, right); }

    std::vector<double> const& values() const { return u_; }
    double mean() const;
    // Value at the face itself, for the face as it is now.
    double left_value(ColumnFace const& face) const;
    double right_value(ColumnFace const& face) const;

private:
    void assemble(double weight, double left_exchange, double right_exchange);
    void solve(std::vector<double>& rhs);
    double dx_;
    std::vector<double> u_, lower_, diagonal_, upper_, scratch_, first_, second_;
};

} // namespace leafwright
