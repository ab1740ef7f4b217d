#include "base/random.h"
#include "base/units.h"
#include "body/body.h"
#include "near.h"

#include <algorithm>
#include <array>

using namespace leafwright;

namespace {

BodySpec exact_body(double water, double density, double drying, double firing, double share, double loss) {
    BodySpec body;
    body.water_dry_basis = Figure::exact(water);
    body.particle_density_g_cm3 = Figure::exact(density);
    body.drying_shrinkage = Figure::exact(drying);
    body.firing_shrinkage = Figure::exact(firing);
    body.first_firing_share = Figure::exact(share);
    body.loss_on_ignition = Figure::exact(loss);
    body.absorption = Figure::exact(0.02);
    return body;
}

// The worked chain: w 0.25, 2.6 g/cm3, 6 % drying, 6.5 % firing, 8 % loss; volume of exactly 10 kg.
BodySpec chain_body() { return exact_body(0.25, 2.6, 0.06, 0.065, 0.15, 0.08); }
constexpr double kChainMm3 = 10000.0 / (1.25 / (1 / 2.6 + 0.25 / 0.9982)) * 1000.0;

Figure random_figure(Random& random, double low, double high) {
    std::array<double, 3> v{random.between(low, high), random.between(low, high), random.between(low, high)};
    std::sort(v.begin(), v.end());
    return {v[1], v[0], v[2], FigureFrom::measured};
}

BodySpec random_body(Random& random) {
    BodySpec body;
    body.water_dry_basis = random_figure(random, 0.15, 0.4);
    body.particle_density_g_cm3 = random_figure(random, 2.4, 2.9);
    body.drying_shrinkage = random_figure(random, 0.0, 0.12);
    body.firing_shrinkage = random_figure(random, 0.0, 0.12);
    body.first_firing_share = random_figure(random, 0.0, 1.0);
    body.loss_on_ignition = random_figure(random, 0.0, 0.2);
    body.absorption = random_figure(random, 0.0, 0.2);
    return body;
}

double within(Random& random, Figure const& f) { return random.between(f.low, f.high); }

} // namespace

TEST_CASE("ten kilograms of plastic clay go through all stages as the worked chain says") {
    // Phase relation, Sv = 1 - (1 - S)^3 and the definitions of water and loss, reckoned apart with 30 digits.
    auto const s = clay_stages(chain_body(), kChainMm3, 400, 300, 120);
    REQUIRE(s.size() == 5);
    CHECK_REL(kChainMm3, 5.080529569e6, 1e-9);
    CHECK_REL(s[0].mass_g.value, 10000.0, 1e-9);
    CHECK_REL(s[2].mass_g.value, 8000.0, 1e-9);
    CHECK_REL(s[2].volume_mm3, 4.219806571e6, 1e-9);
    CHECK_REL(s[2].mass_g.value / s[2].volume_mm3 * 1e6, 1895.821494, 1e-9); // kg/m3
    CHECK_REL(1 - s[2].mass_g.value / s[2].volume_mm3 * 1e3 / 2.6, 0.2708378868, 1e-9);
    CHECK_REL(s[0].volume_mm3 - s[2].volume_mm3, 0.860722997e6, 1e-9);
    CHECK_REL(s[4].volume_mm3, 3.449271474e6, 1e-9);
    CHECK_REL(s[4].mass_g.value, 7360.0, 1e-9);
    CHECK_REL(s[4].mass_g.value / s[4].volume_mm3 * 1e6, 2133.783918, 1e-9);
    CHECK(s[3].mass_g == s[4].mass_g);
}

TEST_CASE("leather-hard clay holds a third of its shrinkage water and no air") {
    // A third is common practice, no source. Shrinkage of the chain ends at w = 0.1426032880.
    auto const s = clay_stages(chain_body(), kChainMm3, 400, 300, 120);
    double const water = 0.1426032880 + (0.25 - 0.1426032880) / 3;
    CHECK_REL(s[1].water_dry_basis, water, 1e-9);
    CHECK_REL(s[1].mass_g.value, 8000 * (1 + water), 1e-9);
    // Twin way to its volume: particles and water side by side, pores full.
    CHECK_REL(s[1].volume_mm3, 8000 * (1 / 2.6 + water / 0.9982) * 1e3, 1e-9);
    CHECK_REL(std::pow(s[1].length_factor.value, 3), s[1].volume_mm3 / s[0].volume_mm3, 1e-12);
}

TEST_CASE("a test bar shrinks in the chain of ASTM C326") {
    // Marks 101.6 mm apart: 95.504 dry, 89.29624 fired; total shrinkage 12.11 %.
    auto const s = clay_stages(chain_body(), 1e6, 101.6, 19, 19);
    CHECK_NEAR(s[2].width_mm, 95.504, 1e-9);
    CHECK_NEAR(s[4].width_mm, 89.29624, 1e-9);
    CHECK_NEAR(1 - s[4].length_factor.value, 0.1211, 1e-12);
    CHECK_NEAR(s[3].width_mm, 95.504 * (1 - 0.15 * 0.065), 1e-9);
    CHECK_NEAR(s[4].height_mm, 19 * 0.8789, 1e-9);
    CHECK_NEAR(s[4].depth_mm, 19 * 0.8789, 1e-9);
}

TEST_CASE("eight kilograms bone dry lose eight per cent in the fire") {
    auto const s = clay_stages(chain_body(), kChainMm3, 1, 1, 1);
    CHECK_REL(s[2].mass_g.value * (1 + 0.25), s[0].mass_g.value, 1e-12);
    CHECK_REL(s[0].water_dry_basis / (1 + s[0].water_dry_basis), 0.20, 1e-12); // wet basis
    CHECK_REL(s[4].mass_g.value, 7360, 1e-9);
}

TEST_CASE("an exact body gives exact figures and a default one says so") {
    for (StageAnswer const& answer : clay_stages(chain_body(), kChainMm3, 400, 300, 120)) {
        CHECK(answer.mass_g.is_exact());
        CHECK(answer.length_factor.is_exact());
        CHECK(answer.mass_g.from == FigureFrom::computed);
    }
    auto const stoneware = clay_stages(*body_of("stoneware"), 1e6, 400, 300, 120);
    CHECK(stoneware[4].mass_g.from == FigureFrom::by_default);
    CHECK(stoneware[4].mass_g.low < stoneware[4].mass_g.high);
    CHECK(stoneware[0].length_factor.is_exact());
}

TEST_CASE("every clay within the body's figures stays within the answered range") {
    Random random{2024};
    for (int round = 0; round < 200; ++round) {
        BodySpec const body = random_body(random);
        auto const wide = clay_stages(body, 3e6, 400, 300, 120);
        BodySpec const inner =
            exact_body(within(random, body.water_dry_basis), within(random, body.particle_density_g_cm3),
                       within(random, body.drying_shrinkage), within(random, body.firing_shrinkage),
                       within(random, body.first_firing_share), within(random, body.loss_on_ignition));
        auto const one = clay_stages(inner, 3e6, 400, 300, 120);
        for (std::size_t i = 0; i < wide.size(); ++i) {
            REQUIRE(wide[i].mass_g.low <= wide[i].mass_g.value);
            REQUIRE(wide[i].mass_g.value <= wide[i].mass_g.high);
            REQUIRE(one[i].mass_g.value >= wide[i].mass_g.low * (1 - 1e-12));
            REQUIRE(one[i].mass_g.value <= wide[i].mass_g.high * (1 + 1e-12));
            REQUIRE(one[i].length_factor.value >= wide[i].length_factor.low - 1e-12);
            REQUIRE(one[i].length_factor.value <= wide[i].length_factor.high + 1e-12);
        }
    }
}

TEST_CASE("a wider figure of the body never narrows an answer") {
    Random random{7};
    for (int round = 0; round < 50; ++round) {
        BodySpec const narrow = random_body(random);
        BodySpec wide = narrow;
        wide.loss_on_ignition.high += 0.02;
        wide.drying_shrinkage.high += 0.02;
        auto const a = clay_stages(narrow, 1e6, 1, 1, 1);
        auto const b = clay_stages(wide, 1e6, 1, 1, 1);
        for (std::size_t i = 0; i < a.size(); ++i) {
            REQUIRE(b[i].mass_g.low <= a[i].mass_g.low);
            REQUIRE(b[i].mass_g.high >= a[i].mass_g.high);
            REQUIRE(b[i].length_factor.low <= a[i].length_factor.low);
        }
        CHECK(b[2].length_factor.low < a[2].length_factor.low);
        CHECK(b[4].mass_g.low < a[4].mass_g.low);
    }
}

TEST_CASE("clay gets lighter and smaller from stage to stage, and mass follows volume") {
    Random random{99};
    for (int round = 0; round < 100; ++round) {
        BodySpec const body = random_body(random);
        auto const s = clay_stages(body, 2e6, 400, 300, 120);
        for (std::size_t i = 1; i < s.size(); ++i) {
            REQUIRE(s[i].mass_g.value <= s[i - 1].mass_g.value);
            REQUIRE(s[i].length_factor.value <= s[i - 1].length_factor.value + 1e-15);
            REQUIRE(s[i].water_dry_basis <= s[i - 1].water_dry_basis);
        }
        auto const twice = clay_stages(body, 4e6, 400, 300, 120);
        CHECK_REL(twice[4].mass_g.high, 2 * s[4].mass_g.high, 1e-12);
    }
}

TEST_CASE("no clay at all weighs nothing") {
    auto const s = clay_stages(chain_body(), 0, 0, 0, 0);
    for (StageAnswer const& answer : s) {
        CHECK(answer.mass_g.value == 0);
        CHECK(answer.volume_mm3 == 0);
    }
    CHECK(s[0].water_dry_basis == 0.25);
}
