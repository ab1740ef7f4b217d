#include "firing/firing.h"
#include "firing/schedule.h"
#include "near.h"

using namespace leafwright;

namespace {

PieceSize const kSize{290, 380, 110, 200};

bool found(FiringAnswer const& a, std::string_view code) {
    for (FiringFinding const& f : a.findings)
        if (f.code == code) return true;
    return false;
}

} // namespace

TEST_CASE("the proposed first firing takes about ten hours up and more than a day down") {
    // Common practice, no source.
    FiringAnswer const a = *fire({"first", 1000, {}}, {}, {}, kSize);
    CHECK(a.proposed);
    CHECK(a.hours_up > 8.5);
    CHECK(a.hours_up < 12);
    CHECK(a.hours_down > 24);
    CHECK(a.top_degC == 1000);
    CHECK(a.findings.empty());
    CHECK(a.worst_gradient_K < a.bearable_K.value);
    CHECK(a.worst_cooling_K < a.bearable_cooling_K.value);
    FiringClay fired;
    fired.fired_before = true;
    FiringAnswer const last = *fire({"last", 1260, {}}, fired, {}, kSize);
    CHECK(last.top_degC == 1260);
    CHECK(last.hours_down > 24);
    CHECK(last.findings.empty());
}

TEST_CASE("thicker clay is fired more slowly") {
    FiringClay thin;
    thin.thickest_mm = 12;
    FiringClay thick;
    thick.thickest_mm = 45;
    CHECK(fire({"first", 1000, {}}, thin, {}, kSize)->hours_up < fire({"first", 1000, {}}, thick, {}, kSize)->hours_up);
}

TEST_CASE("the curve holds rates, holds and the kiln's own cooling") {
    KilnSpec const kiln;
    KilnCurve const c = kiln_curve({{60, 90, 1}, {100, 1000, 0.5}}, kiln);
    CHECK_NEAR(c.top_h, 70.0 / 60 + 1 + 9.1 + 0.5, 1e-12);
    CHECK_NEAR(c.at(70.0 / 60 + 0.5), 90, 1e-12);
    CHECK_NEAR(c.at(70.0 / 60 + 1 + 3), 390, 1e-9);
    CHECK_NEAR(c.end_h() - c.top_h, 28, 1e-9); // 1000 to 100 degC in the default kiln
    CHECK_NEAR(c.at(c.end_h()), 100, 1e-9);
    double const tau = cooling_tau_h(kiln);
    CHECK_NEAR(c.at(c.top_h + 5), 20 + 980 * std::exp(-5 / tau), 1e-9);
    CHECK_NEAR(c.degree_hours(), 70.0 / 60 * 35 + 70 + 9.1 * 525 + 490, 1e-9);
}

TEST_CASE("a fall is never faster than the kiln, and is held back where it is asked to be") {
    KilnSpec const kiln;
    double const tau = cooling_tau_h(kiln);
    KilnCurve const fast = kiln_curve({{100, 1000, 0}, {1000, 500, 0}}, kiln);
    CHECK_NEAR(fast.end_h() - fast.top_h, 28, 1e-9);
    KilnCurve const slow = kiln_curve({{100, 1000, 0}, {20, 900, 0}}, kiln);
    CHECK_NEAR(slow.at(slow.top_h + 2.5), 950, 1e-9);
    // 70 K/h is what the kiln does at 20 + 70 tau; above that the rate holds, below it the kiln.
    KilnCurve const mixed = kiln_curve({{100, 1000, 0}, {70, 400, 0}}, kiln);
    double const turn = 20 + 70 * tau;
    CHECK(turn > 400);
    CHECK_NEAR(mixed.at(mixed.top_h + (1000 - turn) / 70), turn, 1e-6);
}

TEST_CASE("clay in a steady rise lags by r L^2/(2 a) in the whole model too") {
    // Standing, so that both sides heat alike: L is half of 20 mm. Fired before, between 600 and 900 degC: capacity
    // 1050 J/kgK, 0.41 W/mK, 1900 kg/m3; the skin's own lag does not count in the difference.
    FiringClay clay;
    clay.thickest_mm = 20;
    clay.fired_before = true;
    KilnSpec kiln;
    kiln.depth_mm = 250; // standing only
    FiringAnswer const a = *fire({"x", 1000, {{100, 1000, 0}}}, clay, kiln, kSize);
    REQUIRE(a.fit.place == KilnPlace::standing);
    double const diffusivity = 0.41 / (1900 * 1050);
    for (FiringMoment const& m : a.moments)
        if (m.kiln_degC > 700 && m.kiln_degC < 950 && m.hour < a.hours_up)
            CHECK_REL(m.difference_K, 100.0 / 3600 * 1e-4 / (2 * diffusivity), 0.01);
}

TEST_CASE("hasty schedules are told, each with what to do") {
    KilnSpec quick;
    quick.cool_hours = 12;
    FiringClay clay;
    clay.thickest_mm = 40;
    FiringAnswer const a = *fire({"first", 1000, {{400, 1000, 0}}}, clay, quick, kSize);
    CHECK(found(a, "firing.steam"));
    CHECK(found(a, "firing.water"));
    CHECK(found(a, "firing.quartz"));
    CHECK(found(a, "firing.gradient"));
    for (FiringFinding const& f : a.findings) CHECK(!f.hint.empty());
    // What is proposed for the same kiln holds the fall to 50 K/h.
    FiringAnswer const proposed = *fire({"first", 1000, {}}, clay, quick, kSize);
    CHECK(!found(proposed, "firing.quartz"));
    CHECK_NEAR(proposed.quartz_rate_K_h, 50, 1e-9);
    CHECK(!found(proposed, "firing.steam"));
}

TEST_CASE("a schedule that does not rise is refused") {
    CHECK(fire({"first", 1000, {{0, 1000, 0}}}, {}, {}, kSize).problem().code == "firing.segments");
    CHECK(fire({"first", 1000, {{100, 10, 0}}}, {}, {}, kSize).problem().code == "firing.segments");
}

TEST_CASE("heat of ware and water by hand") {
    // 1 kg, 1 kJ/kgK, 20 to 1000 degC: 980 kJ; water from 20 degC: 2590.8 kJ/kg (4.18 x 80 + 2256.4, steam tables).
    CHECK_NEAR(ware_heat_kJ(1, 1, 20, 1000), 980, 1e-9);
    CHECK_NEAR(water_heat_kJ(1, 20), 2590.8, 1e-9);
    CHECK_NEAR(water_heat_kJ(1, 20) / 3600, 0.7196666667, 1e-9);
    FiringClay clay;
    clay.dry_g = 1000;
    clay.water_share = 0.02;
    FiringAnswer const a = *fire({"first", 1000, {}}, clay, {}, kSize);
    // Mean specific heat 850 + 200 (0.5 x 480 + 500)/980 = 1001 J/kgK; 0.75 MJ/kg on 8/13.957 of it.
    double const kJ = 980 * 1.00102 + 0.02 * 2590.8 + 750 * 0.08 / 0.1395667;
    CHECK_REL(a.ware_kWh, kJ / 3600, 1e-3);
    CHECK(a.kWh > 10 * a.ware_kWh); // the lining takes most
    KilnSpec metered;
    metered.kWh = 35;
    CHECK_NEAR(fire({"first", 1000, {}}, clay, metered, kSize)->kWh, 35, 1e-9);
}

TEST_CASE("what heat alone breaks, by the stress of a held plate") {
    // sigma = E alpha dT/(1 - nu) (Timoshenko and Goodier, art. 153) with a parabola: a third of it inside, two thirds
    // at the skin. Breaking stretch 3e-4, expansion 6e-6/K, nu = 0.2: 3 x 0.8 x 3e-4/6e-6 = 120 K and half of that.
    Figure const stretch{3e-4, 1e-4, 6e-4, FigureFrom::by_default};
    Figure const expansion{6e-6, 4e-6, 8e-6, FigureFrom::by_default};
    Figure const warming = bearable_gradient_K(stretch, expansion, false);
    CHECK_NEAR(warming.value, 120, 1e-9);
    CHECK_NEAR(warming.low, 30, 1e-9);
    CHECK_NEAR(warming.high, 360, 1e-9);
    CHECK_NEAR(bearable_gradient_K(stretch, expansion, true).value, 60, 1e-9);
    // A weaker clay is fired more slowly.
    FiringClay weak;
    weak.fracture_strain = stretch * 0.3;
    CHECK(fire({"first", 1000, {}}, weak, {}, kSize)->hours_up > fire({"first", 1000, {}}, {}, {}, kSize)->hours_up);
    // A kiln thrown open cools too fast for thick clay, and that is told.
    KilnSpec open;
    open.cool_hours = 4;
    FiringClay thick;
    thick.thickest_mm = 40;
    FiringAnswer const a = *fire({"first", 1000, {{60, 1000, 0}}}, thick, open, kSize);
    CHECK(a.worst_cooling_K > a.bearable_cooling_K.value);
    CHECK(found(a, "firing.cooling"));
}
