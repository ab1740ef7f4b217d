#include "drying/drying.h"
#include "near.h"
#include "plates.h"

using namespace leafwright;

TEST_CASE("a straight line of weighings gives its slope as the flux") {
    // 1 m2, 6000 g dry, losing 600 g a day: 25 g/m2h.
    std::vector<Weighing> w;
    for (int day = 0; day < 5; ++day) w.push_back({static_cast<double>(day), 7500.0 - 200 * day});
    CoverFit const fit = *fit_cover(w, 1e6 / 3, 6000, 0.25);
    CHECK_NEAR(fit.flux_g_m2h, 200 / 24.0 * 3, 1e-9);
    CHECK_NEAR(fit.uncertainty_g_m2h, 0, 1e-9);
    CHECK(fit.used == 4); // at 6700 g less than 60 % of the water is left
}

TEST_CASE("weighings of a piece that the model dried give its cover back") {
    DryingSpec spec;
    spec.room_degC = 20;
    spec.former_out_day = 119;
    spec.flux_g_m2h = {37, 37, 37, FigureFrom::measured};
    Task task;
    DryingClay const clay = drying_clay(*body_of("stoneware"));
    DryingAnswer const a = *dry(plate(40, 40, 2, [](Vec2) { return 18.0; }), clay, spec, {}, task);
    std::vector<Weighing> w;
    for (int day = 0; day < 8; ++day) w.push_back({static_cast<double>(day), a.at(24.0 * day).mass_g});
    CoverFit const fit = *fit_cover(w, a.open_mm2, a.dry_g, clay.water);
    CHECK_REL(fit.flux_g_m2h, 37, 0.03);
}

TEST_CASE("weighings that cannot be true are refused") {
    std::vector<Weighing> const good = {{0, 7500}, {1, 7300}, {2, 7100}, {3, 6900}};
    auto const code = [](std::vector<Weighing> w) { return fit_cover(w, 1e6, 6000, 0.25).problem().code; };
    CHECK(fit_cover(good, 1e6, 6000, 0.25).ok());
    CHECK(code({{0, 7500}, {1, 7600}, {2, 7100}}) == "cover.contradiction");
    CHECK(code({{0, 7500}, {0, 7400}, {2, 7100}}) == "cover.contradiction");
    CHECK(code({{0, 7500}, {1, 7300}, {2, 5900}}) == "cover.contradiction");
    CHECK(code({{0, 7500}, {1, 7300}}) == "cover.few");
    CHECK(code({{0, 7500}, {1, 6200}, {2, 6100}, {3, 6050}}) == "cover.few"); // dry already
}
