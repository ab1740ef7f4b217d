#include "firing/kiln.h"
#include "near.h"

using namespace leafwright;

TEST_CASE("Newton's cooling from 1000 to 100 degC in a day") {
    // T = Ta + (T0 - Ta) exp(-t/tau), Ta = 20; figures reckoned apart.
    double const tau = newton_tau_h(1000, 100, 24, 20);
    CHECK_REL(tau, 9.578827202, 1e-9);
    CHECK_NEAR(20 + 980 * std::exp(-12 / tau), 300, 1e-9);
    CHECK_REL(newton_hours(1000, 573, tau, 20), 5.480952913, 1e-9);
    CHECK_REL(newton_rate_K_h(573, tau, 20), 57.73149347, 1e-9);
    CHECK_REL(newton_rate_K_h(1000, tau, 20), 102.3089758, 1e-9);
    CHECK_REL(newton_tau_h(1260, 200, 24, 20), 12.43581431, 1e-9);
}

TEST_CASE("a thermocouple bead follows the same law") {
    // Incropera and DeWitt example 5.1: tau 1 s, from 25 to 199 degC in gas of 200 degC: ln 175 = 5.164785974 s.
    CHECK_REL(newton_hours(25, 199, 1, 200), 5.164785974, 1e-9);
}

TEST_CASE("the maker's readings give the kiln's own pace") {
    std::vector<CoolingReading> readings;
    for (double h : {0.0, 3.0, 7.0, 15.0, 22.0}) readings.push_back({h, 20 + 980 * std::exp(-h / 11.5)});
    CHECK_REL(*fit_newton_tau_h(readings, 20), 11.5, 1e-9);
    KilnSpec kiln;
    CHECK_REL(cooling_tau_h(kiln), newton_tau_h(1000, 100, 28, 20), 1e-12);
    kiln.cooling = readings;
    CHECK_REL(cooling_tau_h(kiln), 11.5, 1e-9);
    CHECK(fit_newton_tau_h({{0, 900}}, 20).problem().code == "cooling.few");
    CHECK(fit_newton_tau_h({{0, 900}, {2, 950}}, 20).problem().code == "cooling.contradiction");
    CHECK(fit_newton_tau_h({{0, 900}, {2, 21}}, 20).problem().code == "cooling.contradiction");
}

TEST_CASE("a piece goes in flat, standing, or not at all") {
    KilnSpec kiln;
    kiln.width_mm = kiln.depth_mm = kiln.height_mm = 450; // 25 clear: 400 to use
    CHECK(kiln_fit(kiln, {380, 400, 120, 200}).place == KilnPlace::flat);
    CHECK_NEAR(kiln_fit(kiln, {380, 390, 120, 200}).spare_mm, 10, 1e-12);
    kiln.depth_mm = 300;
    CHECK(kiln_fit(kiln, {380, 400, 120, 200}).place == KilnPlace::standing);
    CHECK(kiln_fit(kiln, {240, 400, 120, 200}).place == KilnPlace::flat); // turned round
    kiln.height_mm = 400;
    KilnFit const none = kiln_fit(kiln, {380, 400, 120, 200});
    CHECK(none.place == KilnPlace::none);
    CHECK_NEAR(none.spare_mm, -50, 1e-12);
    CHECK(none.words.find("50 mm are missing") != std::string::npos);
}

TEST_CASE("in a round kiln the corners count") {
    KilnSpec kiln;
    kiln.width_mm = kiln.height_mm = 450;
    kiln.shape = KilnShape::round;
    CHECK(kiln_fit(kiln, {380, 390, 120, 198}).flat);
    CHECK(!kiln_fit(kiln, {380, 390, 120, 230}).flat);
    CHECK(kiln_fit(kiln, {380, 390, 120, 230}).standing);  // hypot(380, 120) = 398.5
    CHECK(!kiln_fit(kiln, {380, 390, 130, 230}).standing); // 401.6
}

TEST_CASE("the lining's heat by hand") {
    // A cube of 1 m inside its wall's middle (885 mm inside, 115 mm brick): 6 m2; rise 980 K, 5000 K h.
    KilnSpec kiln;
    kiln.width_mm = kiln.depth_mm = kiln.height_mm = 885;
    double const stored = 6 * 0.115 * 800 * 1000 * 980 / 2 / 3.6e6;
    double const lost = 6 * 0.25 / 0.115 * 5000 / 2 / 1000;
    CHECK_REL(lining_kWh(kiln, 1000, 5000), stored + lost, 1e-12);
}
