#include "base/parse_json.h"
#include "near.h"
#include "sample_piece.h"

#include <nlohmann/json.hpp>

using namespace leafwright;

TEST_CASE("saving and loading is the identity, every double to the last bit") {
    int leaves = 0;
    for (std::uint64_t seed = 1; seed <= 30; ++seed) {
        Piece const piece = sample::full_piece(seed);
        Outcome<Piece> const back = piece_from_json(piece_to_json(piece));
        INFO((back.ok() ? std::string() : back.problem().sentence()));
        REQUIRE(back.ok());
        CHECK(*back == piece);
        leaves += static_cast<int>(back->leaves.size());
    }
    CHECK(leaves == 30 * 12);
}

TEST_CASE("numbers are written as short as gives the same double back") {
    Piece piece = new_piece();
    piece.slab.thickness_mm = 8;
    piece.rows.rules[0].side_lap = 0.1 + 0.2;
    piece.former.profile.crown_mm = 1e2 / 3;
    std::string const text = piece_to_json(piece);
    CHECK(text.find("\"thickness_mm\": 8,") != std::string::npos);
    CHECK(text.find("0.30000000000000004") != std::string::npos);
    CHECK(text.find("33.333333333333336") != std::string::npos);
    CHECK(text.find("8.0") == std::string::npos);
}

TEST_CASE("our text is JSON to another parser, with the keys in the order of the tables") {
    auto const json = nlohmann::ordered_json::parse(piece_to_json(sample::full_piece(5)));
    std::vector<std::string> keys;
    for (auto const& [key, value] : json.items()) keys.push_back(key);
    std::vector<std::string> const expected = {
        "leafwright", "version", "name",   "seed",   "former", "slab", "leaf_kinds", "rows",    "leaves", "features",
        "body",       "hanging", "drying", "firing", "finish", "kiln", "cost",       "cutting", "extra"};
    CHECK(keys == expected);
    CHECK(json["former"]["outline"]["kind"] == "free");
    CHECK(json["leaves"].size() == 12);
    CHECK(json["leaves"][3].contains("flipped"));
    CHECK(json["features"][0]["kind"] == "eye");
    CHECK(json["features"][0].contains("turn_deg"));
    CHECK(json["extra"].contains("slip_g_per_m2"));
    CHECK(json["body"]["water_dry_basis"] == 0.25);
    CHECK(json["body"]["drying_shrinkage"]["from"] == "default");
}

TEST_CASE("missing keys take their defaults, and the figures of the named clay") {
    Outcome<Piece> const piece = piece_from_json(R"({"leafwright": "piece", "version": 1})");
    REQUIRE(piece.ok());
    CHECK(piece->former == FormerSpec{});
    CHECK(piece->slab == SlabSpec{});
    BodySpec const stoneware = *body_of("stoneware");
    CHECK(piece->body == stoneware);

    Outcome<Piece> const narrowed =
        piece_from_json(R"({"leafwright": "piece", "version": 1, "body": {"clay": "body:stoneware",
        "water_dry_basis": 0.22, "absorption": {"value": 0.03, "low": 0.02, "high": 0.05, "from": "default"}}})");
    REQUIRE(narrowed.ok());
    CHECK(narrowed->body.water_dry_basis == Figure{0.22, 0.22, 0.22, FigureFrom::measured});
    CHECK(narrowed->body.absorption == Figure{0.03, 0.02, 0.05, FigureFrom::by_default});
    CHECK(narrowed->body.drying_shrinkage == stoneware.drying_shrinkage);
}

TEST_CASE("a round outline has the height of its width") {
    Outcome<Piece> const piece = piece_from_json(
        R"({"leafwright": "piece", "version": 1, "former": {"outline": {"kind": "round", "width_mm": 360, "height_mm": 9000}}})");
    INFO((piece.ok() ? std::string() : piece.problem().sentence()));
    REQUIRE(piece.ok());
    CHECK(piece->former.outline.height_mm == 360);
    CHECK(*piece_from_json(piece_to_json(*piece)) == *piece);
}

TEST_CASE("parts for later versions are kept and written back") {
    std::string const text = R"({"leafwright": "piece", "version": 1,
        "former": {"scan": {"file": "x.stl", "unit": "mm", "up": "z", "more": ["a", 1, 2.5, null, true, {"deep": {}},
                            [400.25, -0.0], 18446744073709551615]}}})";
    Outcome<Piece> const piece = piece_from_json(text);
    INFO((piece.ok() ? std::string() : piece.problem().sentence()));
    REQUIRE(piece.ok());
    auto const before = parse_json(text);
    auto const after = parse_json(piece_to_json(*piece));
    CHECK(after.at("former").at("scan") == before.at("former").at("scan"));
    CHECK(*piece_from_json(piece_to_json(*piece)) == *piece);
}

TEST_CASE("the new piece and every demo piece pass the check and survive a round trip") {
    CHECK_FALSE(check_piece(new_piece()).has_value());
    CHECK(*piece_from_json(piece_to_json(new_piece())) == new_piece());
    CHECK(demo_names() == std::vector<std::string>{"hare", "owl", "sun"});
    for (std::string const& name : demo_names()) {
        Outcome<Piece> const piece = demo_piece(name);
        INFO(name, ": ", (piece.ok() ? std::string() : piece.problem().sentence()));
        REQUIRE(piece.ok());
        CHECK(*piece_from_json(piece_to_json(*piece)) == *piece);
        CHECK(piece->leaves.size() >= 40);
        CHECK(piece->leaves.size() <= 120);
    }
    CHECK(demo_piece("hedgehog").problem().code == "demo.unknown");
}
