// The cells of the drying model and one implicit step on them. A band of empty cells goes all round, so that no
// neighbour needs asking for. Mass in g, lengths in mm, time in h.
#pragma once

#include "drying/drying.h"

namespace leafwright {

// a_w(X) by a table with straight pieces; the relative error of exp is below 1e-6.
class Sorption {
public:
    Sorption();
    // exp(-x/X*) and its slope.
    void read(float x, float& value, float& slope) const {
        float const at = (x - kLow) * kPerWater;
        int const i = at <= 0 ? 0 : (at >= kLast ? kLast : static_cast<int>(at));
        slope = slope_[static_cast<std::size_t>(i)];
        value = value_[static_cast<std::size_t>(i)] + slope * (x - kLow - static_cast<float>(i) / kPerWater);
    }

private:
    static constexpr int kLast = 8190;
    static constexpr float kLow = -0.05F;
    static constexpr float kPerWater = 8191 / 0.8F;
    std::vector<float> value_, slope_;
};

struct DryingGrid {
    int columns = 0; // with the band
    int rows = 0;
    std::size_t stride = 0;
    std::vector<int> first, last; // active columns of a row: first to last - 1
    std::vector<float> dry_g;     // dry clay of the cell; 0 where there is none
    std::vector<float> open_mm2;  // of its front
    std::vector<float> thick_mm;
    std::vector<unsigned char> free;                        // both faces in the air: a tip beyond the slab
    std::vector<float> east, north, north_east, north_west; // g/h for a difference of 1 in X
    double dry_total_g = 0;
    double open_total_mm2 = 0;

    std::size_t size() const { return dry_g.size(); }
    std::size_t index(int column, int row) const {
        return static_cast<std::size_t>(row) * stride + static_cast<std::size_t>(column);
    }
    // Sum over neighbours of link times (x_here - x_there), g/h.
    template <class T> T outflow(T const* x, std::size_t i) const {
        std::size_t const s = stride;
        T const here = x[i];
        auto const to = [&](float link, std::size_t there) { return static_cast<T>(link) * (here - x[there]); };
        return to(east[i], i + 1) + to(east[i - 1], i - 1) + to(north[i], i + s) + to(north[i - s], i - s) +
               to(north_east[i], i + s + 1) + to(north_east[i - s - 1], i - s - 1) + to(north_west[i], i + s - 1) +
               to(north_west[i - s + 1], i - s + 1);
    }
    double links_of(std::size_t i) const;
};

// `block` cells of the map become one (1, 2, 4 ...). Cells with less than 0.3 mm of clay are left out.
// The metric's tensor is split into steps to the eight neighbours, all weights of them 0 or more, so that water never
// runs from dry to wet; where it is too lopsided for that (1 : 5.8 at the worst angle) the slant part is cut back.
DryingGrid drying_grid(ClayMap const& clay, double dry_g_cm3, double diffusivity_mm2_h, int block);

// How the air takes water now.
struct DryingAir {
    double exchange_g_mm2h = 0; // k
    double humidity = 0.6;
    double faces = 1; // of cells that are not free
};

class DryingStepper {
public:
    DryingStepper(DryingGrid const& grid, double diffusivity_mm2_h, double dry_g_cm3, double start_water);

    // Another start; a value per cell of the grid.
    void set_water(std::vector<double> const& water);
    // One implicit step. Gives the water that left, g.
    double step(double hours, DryingAir const& air);
    std::vector<double> const& water() const { return x_; }
    // Water at the surface that goes with it.
    std::vector<float> const& surface() const { return s_; }
    double water_g() const;

private:
    double faces_of(std::size_t i, DryingAir const& air) const;
    void set_flux(DryingAir const& air);
    void assemble(double hours, DryingAir const& air);
    void solve();
    double close_balance(double hours);
    double multiply();

    DryingGrid const* grid_;
    double resistance_; // 1/(3 rho D), per mm of thickness and g/mm2h
    Sorption sorption_;
    std::vector<double> x_, old_, before_;
    std::vector<float> s_, flux_, slope_, links_;
    std::vector<float> residual_, diagonal_, inverse_, delta_, p_, q_;
    double last_hours_ = 0;
};

} // namespace leafwright
