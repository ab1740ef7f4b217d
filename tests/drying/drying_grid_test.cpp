#include "base/random.h"
#include "base/units.h"
#include "drying/column.h"
#include "drying/drying_grid.h"
#include "near.h"
#include "plates.h"

using namespace leafwright;

namespace {

constexpr double kDry = 1.57;   // g/cm3
constexpr double kD = 3.6;      // mm2/h, 1e-9 m2/s
constexpr double kWater = 0.25; // at the start
constexpr double kHumidity = 0.6;
constexpr double kExchange = 28.5e-6 / 0.4; // g/mm2h

std::vector<double> on_grid(DryingGrid const& grid, auto value) {
    std::vector<double> x(grid.size(), 0.0);
    for (int row = 1; row + 1 < grid.rows; ++row)
        for (int column = 1; column + 1 < grid.columns; ++column)
            if (grid.dry_g[grid.index(column, row)] > 0) x[grid.index(column, row)] = value(column - 1, row - 1);
    return x;
}

// The column through the thickness, with the clay's sorption at its open face; fine steps.
double column_mean(double thick_mm, double hours) {
    double const rho = kDry * 1e-3;
    Column column(60, thick_mm, rho, rho * kD, kWater);
    double surface = kWater;
    int const steps = static_cast<int>(hours * 4);
    for (int i = 0; i < steps; ++i) {
        for (int round = 0; round < 1; ++round) {
            double const activity = 1 - std::exp(-surface / kSorptionWater);
            double const flux = kExchange * (activity - kHumidity);
            double const slope = kExchange / kSorptionWater * (1 - activity);
            // Flux, straight in the surface value about the last one.
            ColumnFace const open{slope, surface - flux / slope, 0};
            column.step(0.25, {}, open);
            surface = column.right_value(open);
        }
    }
    return column.mean();
}

} // namespace

TEST_CASE("an even plate dries as the column through its thickness") {
    // The lumped law against the full column; 11 to 28 mm is the range of a clad piece.
    for (double thick : {11.0, 16.0, 28.0}) {
        ClayMap const clay = plate(6, 5, 2, [&](Vec2) { return thick; });
        DryingGrid const grid = drying_grid(clay, kDry, kD, 1);
        DryingStepper stepper(grid, kD, kDry, kWater);
        double hour = 0;
        for (double until : {48.0, 120.0, 240.0}) {
            for (; hour < until; hour += 1) stepper.step(1, {kExchange, kHumidity, 1});
            CHECK_NEAR(stepper.water_g() / grid.dry_total_g, column_mean(thick, until), 1.5e-3);
        }
    }
}

TEST_CASE("water in the plane evens out as the cosine does, exp(-D pi^2 t/L^2)") {
    // Crank, Mathematics of Diffusion, section 2.3: one term of the series of a sealed strip.
    int const n = 60;
    ClayMap const clay = plate(n, 4, 2, [](Vec2) { return 12.0; });
    DryingGrid const grid = drying_grid(clay, kDry, kD, 1);
    DryingStepper stepper(grid, kD, kDry, kWater);
    stepper.set_water(on_grid(grid, [&](int column, int) { return 0.2 + 0.04 * std::cos(kPi * (column + 0.5) / n); }));
    double const start = stepper.water_g();
    for (int i = 0; i < 1440; ++i) stepper.step(0.25, {0, kHumidity, 1});
    double const left = std::exp(-kD * std::pow(kPi / (2.0 * n), 2) * 360);
    CHECK_NEAR(stepper.water()[grid.index(1, 1)], 0.2 + 0.04 * left * std::cos(kPi * 0.5 / n), 1e-5);
    CHECK_REL(stepper.water_g(), start, 1e-12);
}

TEST_CASE("on a hemisphere water evens out at the rate of the sphere's own modes") {
    // P2(cos theta) is a mode of the sealed hemisphere (its slope is 0 at the equator) with eigenvalue 6/R^2; without
    // the chart's metric the rate would be wrong by a third.
    FormerSpec spec;
    spec.outline.kind = OutlineKind::round;
    spec.outline.width_mm = spec.outline.height_mm = 184;
    spec.profile.crown_mm = 92;
    SurfaceOptions options;
    options.offset_mm = 8;
    ClaySurface const surface = ClaySurface::make(*Former::make(spec), options);
    auto const face = face_map(surface, surface.rim_chart(720), {}, 2);
    ClayMap const clay = clay_map(face, 8, {}, {}, {});
    DryingGrid const grid = drying_grid(clay, kDry, kD, 1);
    auto const mode = [&](int column, int row) {
        Vec2 const p = face->middle(column, row);
        double const z = 1 - glm::dot(p, p) / (2 * 100.0 * 100.0); // cos theta
        return 1.5 * z * z - 0.5;
    };
    auto const amplitude = [&](std::vector<double> const& x) {
        double sum = 0;
        double weight = 0;
        std::vector<double> const m = on_grid(grid, mode);
        for (std::size_t i = 0; i < x.size(); ++i) {
            if (!(grid.dry_g[i] > 0)) continue;
            sum += static_cast<double>(grid.dry_g[i]) * m[i] * (x[i] - 0.2);
            weight += static_cast<double>(grid.dry_g[i]) * m[i] * m[i];
        }
        return sum / weight;
    };
    DryingStepper stepper(grid, kD, kDry, kWater);
    stepper.set_water(on_grid(grid, [&](int c, int r) { return 0.2 + 0.03 * mode(c, r); }));
    double const before = amplitude(stepper.water());
    for (int i = 0; i < 240; ++i) stepper.step(1, {0, kHumidity, 1});
    double const rate = -std::log(amplitude(stepper.water()) / before) / 240;
    CHECK_REL(rate, 6 * kD / (100.0 * 100.0), 0.02);
}

TEST_CASE("no water is lost or made") {
    Random random{5};
    ClayMap const clay = plate(40, 30, 2, [&](Vec2) { return random.between(4, 30); });
    DryingGrid const grid = drying_grid(clay, kDry, kD, 1);
    DryingStepper stepper(grid, kD, kDry, kWater);
    double const start = stepper.water_g();
    double dried = 0;
    for (int i = 0; i < 60; ++i) {
        dried += stepper.step(6, {kExchange, kHumidity, i < 20 ? 1.0 : 1.3});
        REQUIRE(std::abs(start - dried - stepper.water_g()) <= 1e-9 * start);
    }
    CHECK(dried > 0.5 * start);
}

TEST_CASE("clay never gets wetter than it was nor drier than the room allows") {
    ClayMap const clay = plate(40, 30, 2, [&](Vec2 p) { return p.x < 40 ? 6.0 : 24.0; });
    DryingGrid const grid = drying_grid(clay, kDry, kD, 1);
    DryingStepper stepper(grid, kD, kDry, kWater);
    for (int i = 0; i < 150; ++i) {
        stepper.step(6, {kExchange, kHumidity, 1});
        for (std::size_t k = 0; k < grid.size(); ++k) {
            if (!(grid.dry_g[k] > 0)) continue;
            REQUIRE(stepper.water()[k] <= kWater + 1e-6);
            REQUIRE(stepper.water()[k] >= balance_water(kHumidity) - 1e-5);
        }
    }
    CHECK_NEAR(stepper.water_g() / grid.dry_total_g, balance_water(kHumidity), 2e-3);
}

TEST_CASE("every link of a slanted metric passes water downhill and keeps plane flow right") {
    // A field that is straight in the chart has no outflow inside, whatever the (constant) metric.
    ClayMap clay = plate(12, 12, 2, [](Vec2) { return 10.0; });
    auto face = std::make_shared<FaceMap>(*clay.face);
    for (std::size_t i = 0; i < face->size(); ++i) {
        face->along_xx[i] = 1.3F;
        face->along_xy[i] = 0.55F;
        face->along_yy[i] = (1 + 0.55F * 0.55F) / 1.3F;
    }
    clay.face = face;
    DryingGrid const grid = drying_grid(clay, kDry, kD, 1);
    std::vector<double> const x = on_grid(grid, [](int c, int r) { return 0.1 + 0.003 * c - 0.002 * r; });
    std::size_t const i = grid.index(6, 6);
    CHECK_NEAR(grid.outflow(x.data(), i), 0, 1e-9);
    for (auto const* links : {&grid.east, &grid.north, &grid.north_east, &grid.north_west})
        for (float link : *links) REQUIRE(link >= 0);
    // And a bowl u^2 of the chart has -div(T grad) = -2 T_xx.
    std::vector<double> const bowl = on_grid(grid, [](int c, int) { return 4.0 * c * c; });
    double const conductance = kDry * 1e-3 * kD * 10;
    CHECK_REL(grid.outflow(bowl.data(), i), -2 * 1.3 * conductance * 4, 1e-5); // cell area 4 mm2
}
