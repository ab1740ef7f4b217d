#include "body/body.h"
#include "near.h"

using namespace leafwright;

TEST_CASE("saturated plastic clay has the density of the phase relation of soil mechanics") {
    // rho = (1 + w)/(1/rs + w/rw), rs 2600 and rw 998.2 kg/m3, reckoned apart with 30 digits.
    CHECK_REL(plastic_density_g_cm3(0.20, 2.6), 2.051366091, 1e-9);
    CHECK_REL(plastic_density_g_cm3(0.25, 2.6), 1.968298750, 1e-9);
    CHECK_REL(plastic_density_g_cm3(0.30, 2.6), 1.897377123, 1e-9);
    // No water at all leaves the particles; much water is water.
    CHECK_REL(plastic_density_g_cm3(0, 2.6), 2.6, 1e-15);
    CHECK_REL(plastic_density_g_cm3(1e9, 2.6), 0.9982, 1e-8);
}

TEST_CASE("volume shrinkage follows the cube of the length") {
    // Sv = 1 - (1 - S)^3.
    CHECK_NEAR(volume_shrinkage(0.05), 0.142625, 1e-12);
    CHECK_NEAR(volume_shrinkage(0.06), 0.169416, 1e-12);
    CHECK_NEAR(volume_shrinkage(0.10), 0.271, 1e-12);
    CHECK_NEAR(volume_shrinkage(0.12), 0.318528, 1e-12);
    CHECK_NEAR(volume_shrinkage(0.13), 0.341497, 1e-12);
    CHECK_NEAR(linear_shrinkage(0.30), 0.1120959983, 1e-10);
}

TEST_CASE("linear and volume shrinkage undo each other") {
    int checked = 0;
    for (double s = -0.02; s <= 0.3; s += 0.01, ++checked) CHECK_NEAR(linear_shrinkage(volume_shrinkage(s)), s, 1e-14);
    CHECK(checked > 30);
}

TEST_CASE("a piece must be made larger by 1/(1 - S), not by 1 + S") {
    CHECK_NEAR(oversize_factor(0.12), 1.136363636, 1e-9);
    CHECK_NEAR(oversize_factor(0.12) * (1 - 0.12), 1, 1e-15);
    CHECK_NEAR(1.12 * (1 - 0.12), 0.9856, 1e-12); // the wrong way misses by 1.4 %
}

TEST_CASE("stages have the names that the plan file uses") {
    CHECK(stage_name(Stage::plastic) == "plastic");
    CHECK(stage_name(Stage::leather_hard) == "leather-hard");
    CHECK(stage_name(Stage::bone_dry) == "bone dry");
    CHECK(stage_name(Stage::first_firing) == "first firing");
    CHECK(stage_name(Stage::last_firing) == "last firing");
}
