// The column as a conductor of heat. Carslaw and Jaeger, Conduction of Heat in Solids, 1959; Incropera and DeWitt.
#include "drying/column.h"
#include "near.h"

#include <array>

using namespace leafwright;

namespace {

ColumnFace const kInsulated{};

// Centre and surface of a slab of half thickness 1 after a step to 0 outside, at Fo and Bi.
std::array<double, 2> step_change(double bi, double fo) {
    Column column(200, 1, 1, 1, 1);
    ColumnFace const face{bi, 0, 0};
    for (int i = 0; i < 800; ++i) column.step(fo / 800, kInsulated, face);
    return {column.left_value(kInsulated), column.right_value(face)};
}

} // namespace

TEST_CASE("a step change at Bi = 1 gives the series' centre and surface") {
    CHECK_NEAR(step_change(1, 0.5)[0], 0.772526383424, 1e-4);
    CHECK_NEAR(step_change(1, 0.5)[1], 0.504521927896, 1e-4);
    CHECK_NEAR(step_change(1, 0.2)[0], 0.950641778505, 1e-4); // the one-term chart would say 0.9651
}

TEST_CASE("late in the day only the first root of z tan z = Bi is left") {
    // Roots and C1: Carslaw and Jaeger app. IV table I, recomputed; the centre falls by exp(-z1^2 Fo).
    std::array<std::array<double, 3>, 6> const roots{{{0.1, 0.3110528482, 1.016094217},
                                                      {0.3, 0.5217911763, 1.045047057},
                                                      {1, 0.8603335890, 1.119132008},
                                                      {5, 1.313837717, 1.240249309},
                                                      {10, 1.428870011, 1.261962589},
                                                      {100, 1.555245129, 1.273087620}}};
    for (auto const& [bi, z, c] : roots) CHECK_NEAR(step_change(bi, 1.5)[0], c * std::exp(-z * z * 1.5), 1e-4);
}

TEST_CASE("a steel wall warmed by oil, a printed example") {
    // Incropera and DeWitt example 5.4 (h 500, k 63.9, a 18.8e-6, L 40 mm, 480 s, -20 degC in oil of 60 degC): printed
    // 42.9 degC; with exact roots 43.01745142 and 45.36354812 degC.
    Column wall(200, 0.04, 63.9 / 18.8e-6, 63.9, -20);
    ColumnFace const oil{500, 60, 0};
    for (int i = 0; i < 960; ++i) wall.step(0.5, kInsulated, oil);
    CHECK_NEAR(wall.left_value(kInsulated), 43.01745142, 2e-3);
    CHECK_NEAR(wall.right_value(oil), 45.36354812, 2e-3);
    CHECK_NEAR(wall.left_value(kInsulated), 42.9, 0.2);
}

TEST_CASE("in a steady rise the skin leads by r L^2/(2 a)") {
    // r = 150 K/h, a = 5e-7: 1.0416667 K at 5 mm, 4.1666667 K at 10 mm (Carslaw and Jaeger 3.4-3.5).
    for (double length : {5e-3, 10e-3}) {
        Column clay(100, length, 1, 5e-7, 0);
        double const rate = 150.0 / 3600;
        double const dt = 1;
        for (int i = 0; i < 1500; ++i)
            clay.step(dt, kInsulated, kInsulated, {kHeld, rate * dt * i, 0}, {kHeld, rate * dt * (i + 1), 0});
        CHECK_NEAR(rate * 1500 - clay.left_value(kInsulated), rate * length * length / (2 * 5e-7), 1e-4 * 4.2);
    }
}

TEST_CASE("the lag builds up as its series says") {
    std::array<std::array<double, 2>, 5> const shares{{{0.1, 0.197746365422},
                                                       {0.25, 0.443211836557},
                                                       {0.5, 0.699454529574},
                                                       {1, 0.912477104336},
                                                       {2, 0.992577623242}}};
    for (auto const& [fo, share] : shares) {
        Column slab(200, 1, 1, 1, 0);
        int const n = 800;
        for (int i = 0; i < n; ++i)
            slab.step(fo / n, kInsulated, kInsulated, {kHeld, fo * i / n, 0}, {kHeld, fo * (i + 1) / n, 0});
        CHECK_NEAR((fo - slab.left_value(kInsulated)) / 0.5, share, 1e-4);
    }
}
