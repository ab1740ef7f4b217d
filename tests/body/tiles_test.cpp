#include "base/random.h"
#include "body/tiles.h"
#include "near.h"

using namespace leafwright;

namespace {

TestTile plain_tile() {
    TestTile tile;
    tile.plastic = {{101.6}, {250}};
    tile.dry = {{95.504}, {200}};
    tile.firings = {{"first", 1000, {{94.9}, {186}}}, {"last", 1260, {{89.29624}, {184}}}};
    return tile;
}

TileSet set_of(std::vector<TestTile> tiles) {
    TileSet set;
    set.tiles = std::move(tiles);
    return set;
}

} // namespace

TEST_CASE("marks 101.6 mm apart shrink by ASTM C326") {
    // 101.6 -> 95.504 -> 89.29624 mm: 6 % drying, 6.5 % firing, 12.11 % total; Sv = 1 - (1 - S)^3.
    TileAnswer const a = *tile_answer(set_of({plain_tile()}));
    CHECK_NEAR(a.drying_shrinkage->value, 0.06, 1e-12);
    REQUIRE(a.firings.size() == 2);
    CHECK_NEAR(a.firings[1].firing_shrinkage.value, 0.065, 1e-12);
    CHECK_NEAR(a.firings[1].total_shrinkage.value, 0.1211, 1e-12);
    CHECK_NEAR(a.drying_volume_shrinkage->value, 0.169416, 1e-12);
    CHECK_NEAR(a.firings[1].volume_shrinkage.value, 1 - std::pow(0.8789, 3), 1e-12);
    CHECK_NEAR(a.water_of_plasticity->value, 0.25, 1e-12); // (250 - 200)/200
    CHECK_NEAR(a.firings[1].loss_on_ignition.value, 0.08, 1e-12);
}

TEST_CASE("soaked and suspended masses give absorption, porosity and density by ASTM C373") {
    // D 360, S 224, M 385 g (textbook silicon carbide example), water 1 g/cm3; figures reckoned apart with 30 digits.
    TestTile tile;
    tile.firings = {{"last", 0, {{}, {360}}}};
    tile.soaked_g = {385};
    tile.suspended_g = {224};
    TileSet set = set_of({tile});
    set.water_g_cm3 = 1;
    TileAnswer a = *tile_answer(set);
    CHECK_REL(a.absorption->value, 0.06944444444, 1e-9);
    CHECK_REL(a.open_porosity->value, 0.1552795031, 1e-9);
    CHECK_REL(a.bulk_g_cm3->value, 2.236024845, 1e-9);
    CHECK_REL(a.apparent_g_cm3->value, 2.647058824, 1e-9);
    CHECK_REL(a.open_porosity->value, a.absorption->value * a.bulk_g_cm3->value, 1e-12); // P = A B at rw = 1

    set.tiles[0].firings[0].state.mass_g = {412.60};
    set.tiles[0].soaked_g = {418.79};
    set.tiles[0].suspended_g = {235.10};
    a = *tile_answer(set);
    CHECK_REL(a.absorption->value, 0.01500242365, 1e-9);
    CHECK_REL(a.open_porosity->value, 0.03369807828, 1e-9);
    CHECK_REL(a.bulk_g_cm3->value, 2.246175622, 1e-9);
    CHECK_REL(a.apparent_g_cm3->value, 2.324507042, 1e-9);
}

TEST_CASE("repeats and reading error add in quadrature") {
    // GUM 4.2.3: s/sqrt(n); 4.3.7: a/sqrt(3).
    CHECK_NEAR(measured({100}, 0.3).uncertainty, 0.3 / std::sqrt(3.0), 1e-15);
    Measured const m = measured({100, 101, 102}, 0.3);
    CHECK_NEAR(m.value, 101, 1e-12);
    CHECK_NEAR(m.uncertainty, std::sqrt(1.0 / 3 + 0.09 / 3), 1e-12);
}

TEST_CASE("the uncertainty of shrinkage is that of the quotient") {
    // S = 1 - d/p: u^2 = (u_d/p)^2 + (d u_p/p^2)^2 (GUM 5.1.2).
    TileSet set = set_of({plain_tile()});
    set.length_error_mm = 0.5;
    double const u = 0.5 / std::sqrt(3.0);
    double const p = 101.6;
    double const d = 95.504;
    TileAnswer const a = *tile_answer(set);
    CHECK_REL(a.drying_shrinkage->uncertainty, std::hypot(u / p, d * u / (p * p)), 1e-6);
}

TEST_CASE("the uncertainty agrees with a Monte Carlo of the readings") {
    // GUM Supplement 1 in small: rectangular reading errors, 40,000 draws; its own error is about 0.4 %.
    Random random{11};
    double sum = 0;
    double squares = 0;
    int const draws = 40000;
    for (int i = 0; i < draws; ++i) {
        double const dry = 412.60 + random.between(-0.5, 0.5);
        double const soaked = 418.79 + random.between(-0.5, 0.5);
        double const hung = 235.10 + random.between(-0.5, 0.5);
        double const p = (soaked - dry) / (soaked - hung);
        sum += p;
        squares += p * p;
    }
    double const mean = sum / draws;
    TestTile tile;
    tile.firings = {{"last", 0, {{}, {412.60}}}};
    tile.soaked_g = {418.79};
    tile.suspended_g = {235.10};
    TileSet set = set_of({tile});
    set.mass_error_g = 0.5;
    CHECK_REL(tile_answer(set)->open_porosity->uncertainty, std::sqrt(squares / draws - mean * mean), 0.02);
}

TEST_CASE("more tiles that agree make the figure surer, tiles that differ do not hide it") {
    TileAnswer const one = *tile_answer(set_of({plain_tile()}));
    TileAnswer const four = *tile_answer(set_of({plain_tile(), plain_tile(), plain_tile(), plain_tile()}));
    CHECK_REL(four.drying_shrinkage->uncertainty, one.drying_shrinkage->uncertainty / 2, 1e-6);
    TestTile other = plain_tile();
    other.dry.length_mm = {93.0};
    TileAnswer const two = *tile_answer(set_of({plain_tile(), other}));
    double const half = 0.5 * (95.504 - 93.0) / 101.6; // s/sqrt(2) of two values is half their distance
    CHECK(two.drying_shrinkage->uncertainty > half);
    CHECK(two.drying_shrinkage->uncertainty < 1.05 * half);
}

TEST_CASE("readings that cannot all be true are refused, each in a sentence with what to do") {
    auto const refused = [](auto change) {
        TestTile tile = plain_tile();
        tile.soaked_g = {188};
        tile.suspended_g = {105};
        REQUIRE(tile_answer(set_of({tile})).ok());
        change(tile);
        Outcome<TileAnswer> const found = tile_answer(set_of({tile}));
        REQUIRE(!found.ok());
        CHECK(found.problem().where.starts_with("tiles[0]."));
        CHECK(!found.problem().hint.empty());
        return found.problem().code;
    };
    CHECK(refused([](TestTile& t) { t.dry.mass_g = {251}; }) == "tile.contradiction");
    CHECK(refused([](TestTile& t) { t.dry.length_mm = {102.5}; }) == "tile.contradiction");
    CHECK(refused([](TestTile& t) { t.firings[0].state.mass_g = {201}; }) == "tile.contradiction");
    CHECK(refused([](TestTile& t) { t.firings[1].state.mass_g = {187}; }) == "tile.contradiction");
    CHECK(refused([](TestTile& t) { t.soaked_g = {180}; }) == "tile.contradiction");
    CHECK(refused([](TestTile& t) { t.suspended_g = {190}; }) == "tile.contradiction");
    CHECK(refused([](TestTile& t) { t.soaked_g = {}; }) == "tile.missing");
    CHECK(refused([](TestTile& t) { t.firings = {}; }) == "tile.missing");
    CHECK(refused([](TestTile& t) { t.plastic.mass_g = {0}; }) == "range");
    CHECK(refused([](TestTile& t) { t.dry.mass_g = {std::nan("")}; }) == "range");
}

TEST_CASE("growth within the reading error is no contradiction") {
    TestTile tile = plain_tile();
    tile.dry.length_mm = {101.9};
    CHECK(tile_answer(set_of({tile})).ok());
    tile.firings[1].state.mass_g = {186.08};
    CHECK(tile_answer(set_of({tile})).ok());
}

TEST_CASE("a body is narrowed to what the tiles tell, and only there") {
    BodySpec const stoneware = *body_of("stoneware");
    BodySpec const body = narrowed(stoneware, *tile_answer(set_of({plain_tile()})));
    CHECK_NEAR(body.drying_shrinkage.value, 0.06, 1e-12);
    CHECK(body.drying_shrinkage.from == FigureFrom::measured);
    CHECK(body.drying_shrinkage.high - body.drying_shrinkage.low < 0.01);
    CHECK_NEAR(body.first_firing_share.value, (1 - 94.9 / 95.504) / 0.065, 1e-9);
    CHECK(body.absorption == stoneware.absorption);
    CHECK(body.particle_density_g_cm3 == stoneware.particle_density_g_cm3);
}

TEST_CASE("recycled clay that is wetter shrinks more, down to the same dry body") {
    // Shrinkage of the worked chain (w 0.25, 2.6 g/cm3, 6 %) ends at w = 0.1426032880, reckoned apart.
    CHECK_REL(shrinkage_end_water(0.25, 2.6, 0.06), 0.1426032880, 1e-9);
    BodySpec body = *body_of("stoneware");
    body.drying_shrinkage = {0.06, 0.06, 0.06, FigureFrom::measured};
    body.water_dry_basis = {0.25, 0.25, 0.25, FigureFrom::measured};
    TileSet set = set_of({});
    set.lump_wet_g = {520};
    set.lump_dry_g = {400};
    TileAnswer const answer = *tile_answer(set);
    CHECK_NEAR(answer.lump_water->value, 0.30, 1e-12);
    BodySpec const wetter = narrowed(body, answer);
    CHECK(wetter.drying_shrinkage.value > 0.06);
    // A gram of dry clay fills the same room at the end of either way.
    double const room = (1 / 2.6 + 0.30 / 0.9982) * std::pow(1 - wetter.drying_shrinkage.value, 3);
    CHECK_REL(room, (1 / 2.6 + 0.25 / 0.9982) * std::pow(0.94, 3), 1e-12);
    CHECK_NEAR(with_water(body, body.water_dry_basis).drying_shrinkage.value, 0.06, 1e-12);
    set.lump_dry_g = {530};
    CHECK(tile_answer(set).problem().code == "tile.contradiction");
    set.lump_dry_g = {};
    CHECK(tile_answer(set).problem().code == "tile.missing");
}

TEST_CASE("made larger by 1/(1 - S) a piece ends at the size asked for") {
    Figure const factor{0.88, 0.86, 0.90, FigureFrom::by_default};
    Figure const make = plastic_length_mm(400, factor);
    CHECK_REL(make.value, 400 * 1.136363636, 1e-9);
    CHECK(make.low < make.value);
    CHECK(make.value < make.high);
    CHECK_REL(make.low * 0.90, 400, 1e-12);
}

TEST_CASE("slip holds the dry matter of Brongniart's formula") {
    // Traite des arts ceramiques vol. 1 (1854) p. 249; printed 1166, 833.3 and 1137 g.
    CHECK_NEAR(slip_dry_g_per_litre(1700, 2.5), 1166.666667, 1e-6);
    CHECK_NEAR(slip_dry_g_per_litre(1500, 2.5), 833.3333333, 1e-6);
    CHECK_NEAR(slip_dry_g_per_litre(1700, 2.6), 1137.5, 1e-9);
}

TEST_CASE("a slip mix is made of nothing but its clay and water") {
    SlipMix const mix = *slip_mix(2, 1500, 2.5, 0.25);
    CHECK_NEAR(mix.dry_g, 1666.666667, 1e-6);
    CHECK_NEAR(mix.clay_g, 1666.666667 * 1.25, 1e-6);
    CHECK_NEAR(mix.clay_g + mix.water_g, 3000, 1e-9);
    // Twin: volumes of solids and water fill two litres.
    CHECK_NEAR(mix.dry_g / 2.5 + (3000 - mix.dry_g), 2000, 1e-9);
    CHECK(!slip_mix(2, 990, 2.5, 0.25).ok());
    CHECK(!slip_mix(2, 2300, 2.5, 0.25).ok());
    CHECK(!slip_mix(0, 1500, 2.5, 0.25).ok());
}
