#include "near.h"
#include "piece/tile_file.h"

using namespace leafwright;

namespace {

constexpr char const* kGood = R"({"leafwright": "tiles", "version": 1, "name": "Batch 3", "clay": "body:porcelain",
 "length_error_mm": 0.1, "mass_error_g": 0.01, "tiles": [
  {"name": "a", "plastic": {"length_mm": [100.0, 100.2], "mass_g": 250}, "dry": {"length_mm": 94, "mass_g": 200},
   "fired": [{"name": "first", "top_degC": 1000, "length_mm": 93.5, "mass_g": 186},
             {"name": "last", "top_degC": 1260, "length_mm": 88, "mass_g": 184}],
   "soaked_g": 187, "suspended_g": 104}],
 "lump": {"wet_g": 260, "dry_g": 200}})";

Problem refused(std::string text, std::string const& from, std::string const& to) {
    auto const at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    Outcome<TileSet> const set = tiles_from_json(text);
    REQUIRE(!set.ok());
    return set.problem();
}

} // namespace

TEST_CASE("a file of test tiles is read in full") {
    TileSet const set = *tiles_from_json(kGood);
    CHECK(set.clay == "body:porcelain");
    REQUIRE(set.tiles.size() == 1);
    CHECK(set.tiles[0].plastic.length_mm == Readings{100.0, 100.2});
    CHECK(set.tiles[0].plastic.mass_g == Readings{250});
    REQUIRE(set.tiles[0].firings.size() == 2);
    CHECK(set.tiles[0].firings[1].top_degC == 1260);
    CHECK(set.tiles[0].suspended_g == Readings{104});
    CHECK(set.lump_wet_g == Readings{260});
    CHECK(set.length_error_mm == 0.1);
    CHECK(tile_answer(set).ok());
}

TEST_CASE("a file of test tiles with a fault is refused where the fault is") {
    CHECK(refused(kGood, "\"tiles\", \"version\"", "\"piece\", \"version\"").code == "not-tiles");
    CHECK(refused(kGood, "\"soaked_g\"", "\"soaked\"").where == "tiles[0].soaked");
    CHECK(refused(kGood, "\"soaked_g\"", "\"soaked\"").hint.find("soaked_g") != std::string::npos);
    CHECK(refused(kGood, "[100.0, 100.2]", "[100.0, \"x\"]").where == "tiles[0].plastic.length_mm");
    CHECK(refused(kGood, "[100.0, 100.2]", "[]").where == "tiles[0].plastic.length_mm");
    CHECK(refused(kGood, "\"mass_error_g\": 0.01", "\"mass_error_g\": -1").code == "range");
    CHECK(refused(kGood, "\"version\": 1", "\"version\": 2").where == "version");
    CHECK(refused(kGood, "body:porcelain", "body:jelly").where == "clay");
    CHECK(refused(kGood, "\"lump\": {\"wet_g\": 260, \"dry_g\": 200}", "\"lump\": 3").where == "lump");
    CHECK(tiles_from_json(R"({"leafwright": "tiles"})").problem().code == "tile.missing");
    CHECK(!tiles_from_json("[1, 2").ok());
}
