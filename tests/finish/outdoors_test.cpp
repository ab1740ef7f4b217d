#include "finish/finish.h"
#include "near.h"

using namespace leafwright;

TEST_CASE("absorption groups of ISO 13006") {
    CHECK(absorption_group(0.005) == "Ia");
    CHECK(absorption_group(0.0051) == "Ib");
    CHECK(absorption_group(0.03) == "Ib");
    CHECK(absorption_group(0.031) == "IIa");
    CHECK(absorption_group(0.0601) == "IIb");
    CHECK(absorption_group(0.10) == "IIb");
    CHECK(absorption_group(0.101) == "III");
}

TEST_CASE("severe weather by ASTM C216") {
    // A published query: C/B = 0.83 and 11 % boil absorption: 9.13 % cold, above the 8 % that would waive it: fails.
    CHECK_NEAR(0.83 * 0.11, 0.0913, 1e-12);
    CHECK(!severe_weather(0.0913, 0.11));
    CHECK(severe_weather(0.079, 0.095)); // 0.83 too, but at most 8 % cold
    CHECK(severe_weather(0.10, 0.13));   // 0.77
    CHECK(!severe_weather(0.14, 0.21));  // boil above 20 %
    CHECK(!severe_weather(0.05, 0));
}

TEST_CASE("pores more than 91.7 per cent full burst") {
    CHECK_REL(kCriticalSaturation, 0.9168466955, 1e-9); // 916.7 over 999.84 kg/m3
    CHECK_REL(1 / kCriticalSaturation, 1.090694884, 1e-9);
}

TEST_CASE("what is said of a body follows what is known of it") {
    FinishSpec spec;
    CHECK(outdoor_answer(spec, {0.01, 0.005, 0.02, FigureFrom::measured}).fit == Outdoors::likely);
    CHECK(outdoor_answer(spec, {0.02, 0.01, 0.06, FigureFrom::by_default}).fit == Outdoors::doubtful);
    CHECK(outdoor_answer(spec, {0.12, 0.1, 0.15, FigureFrom::by_default}).fit == Outdoors::unlikely);
    spec.cold_absorption = 0.10;
    spec.boil_absorption = 0.13;
    OutdoorAnswer const tested = outdoor_answer(spec, {0.12, 0.1, 0.15, FigureFrom::by_default});
    CHECK(tested.fit == Outdoors::likely);
    CHECK_NEAR(tested.saturation, 0.10 / 0.13, 1e-12);
    CHECK(tested.only_tests.size() == 4);
}
