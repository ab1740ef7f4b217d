// Every way a file can be wrong gives one Problem that names the place.
#include "near.h"
#include "sample_piece.h"

using namespace leafwright;

namespace {

struct BadFile {
    char const* members; // after the tag and the version
    char const* code;
    char const* where;
    char const* part_of_sentence;
};

// A name and a number each, so that no row can pass by being read as another.
constexpr BadFile kBadFiles[] = {
    {R"("slab": {"thickness_mm": 80})", "range", "slab.thickness_mm", "is 80; the range is 3 to 25"},
    {R"("slab": {"thickness_mm": "8"})", "type", "slab.thickness_mm", "is a text; a number is needed"},
    {R"("slab": {"thickness_mm": null})", "type", "slab.thickness_mm", "is null"},
    {R"("slab": [8])", "type", "slab", "is a list; an object is needed"},
    {R"("slab": {"thicknes_mm": 8})", "key.unknown", "slab.thicknes_mm", "Did you mean \"thickness_mm\""},
    {R"("slabs": {})", "key.unknown", "slabs", "Did you mean \"slab\""},
    {R"("zebra": {})", "key.unknown", "zebra", "Known here: name, seed, former"},
    {R"("name": 5)", "type", "name", "is a number; a text is needed"},
    {R"("seed": -1)", "range", "seed", "is -1"},
    {R"("seed": 1.5)", "range", "seed", "is 1.5"},
    {R"("former": {"outline": {"kind": "ovel"}})", "word", "former.outline.kind", "Did you mean \"oval\""},
    {R"("former": {"outline": {"width_mm": 1201}})", "range", "former.outline.width_mm", "40 to 1200"},
    {R"("former": {"outline": {"kind": "free", "points_mm": [[100,0],[0,100],[-100,0]]}})", "range",
     "former.outline.points_mm", "at least 4"},
    {R"("former": {"outline": {"points_mm": [[100,0],[0]]}})", "type", "former.outline.points_mm[1]", "two numbers"},
    {R"("former": {"profile": {"crown_mm": 2.9}})", "range", "former.profile.crown_mm",
     "is 2.9; the range is 3 to 500"},
    {R"("rows": {"mirror": 1})", "type", "rows.mirror", "true or false"},
    {R"("leaf_kinds": [{"id": "a", "outline": "drawer:hornbean"}])", "leaf.unknown", "leaf_kinds[0].outline",
     "Did you mean \"drawer:hornbeam\""},
    {R"("leaf_kinds": [{"id": "a", "outline": "drawer:hazel"}, {"id": "a", "outline": "drawer:hazel"}])", "id.twice",
     "leaf_kinds[1].id", "two leaf kinds"},
    {R"("leaf_kinds": [{"outline": "drawer:hazel"}])", "missing", "leaf_kinds[0].id", "is missing"},
    {R"("leaf_kinds": [{"id": "", "outline": "drawer:hazel"}])", "range", "leaf_kinds[0].id", "is empty"},
    {R"("leaves": [{"id": 1, "kind": "oak"}])", "leaf.unknown", "leaves[0].kind", "not among the leaf kinds"},
    {R"("leaves": [{"kind": "oak"}])", "missing", "leaves[0].id", "is missing"},
    {R"("leaves": [{"id": 1}])", "missing", "leaves[0].kind", "is missing"},
    {R"("leaves": [7])", "type", "leaves[0]", "is a number; an object is needed"},
    {R"("leaf_kinds": [{"id": "a", "outline": "drawer:hazel"}], "leaves": [{"id": 1, "kind": "a"}, {"id": 1, "kind": "a"}])",
     "id.twice", "leaves[1].id", "two leaves"},
    {R"("leaf_kinds": [{"id": "a", "outline": "drawer:hazel"}], "leaves": [{"id": 1, "kind": "a", "scale": 0.2}])",
     "range", "leaves[0].scale", "is 0.2; the range is 0.3 to 3"},
    {R"("leaves": [{"id": 1e30, "kind": "a"}])", "range", "leaves[0].id", "is 1e+30"},
    {R"("leaves": [{"id": 1.5, "kind": "a"}])", "type", "leaves[0].id", "a whole number is needed"},
    {R"("leaves": [{"id": 0, "kind": "a"}])", "range", "leaves[0].id", "is 0"},
    {R"("rows": {"rules": [{"row": 1, "kinds": ["oak"]}]})", "leaf.unknown", "rows.rules[0].kinds[0]", "\"oak\""},
    {R"("rows": {"rules": [{"row": 1, "kinds": []}]})", "range", "rows.rules[0].kinds", "is empty"},
    {R"("leaf_kinds": [{"id": "a", "outline": "drawer:hazel"}], "rows": {"rules": [{"row": 2, "kinds": ["a"]}, {"row": 1, "kinds": ["a"]}]})",
     "rows.order", "rows.rules[1].row", "is 1 after row 2"},
    {R"("features": [{"kind": "eyes"}])", "word", "features[0].kind", "Did you mean \"eye\""},
    {R"("features": [{"kind": "eye", "rise_mm": 121}])", "range", "features[0].rise_mm", "0 to 120"},
    {R"("body": {"clay": "body:moonstone"})", "body.unknown", "body.clay", "moonstone"},
    {R"("body": {"clay": "stoneware"})", "body.unknown", "body.clay", "body:NAME"},
    {R"("body": {"water_dry_basis": {"low": 0.1}})", "missing", "body.water_dry_basis.value", "is missing"},
    {R"("body": {"water_dry_basis": {"value": 0.2, "low": 0.25, "high": 0.3}})", "range", "body.water_dry_basis",
     "not in order"},
    {R"("body": {"water_dry_basis": {"value": 0.2, "from": "guess"}})", "word", "body.water_dry_basis.from",
     "computed, measured, default"},
    {R"("body": {"water_dry_basis": 25})", "range", "body.water_dry_basis", "is 25; the range is 0.05 to 0.6"},
    {R"("hanging": {"kind": "nails"})", "word", "hanging.kind", "lugs, holes"},
    {R"("firing": [{"name": "first", "top_degC": 1400}])", "range", "firing[0].top_degC", "600 to 1350"},
    {R"("firing": {})", "type", "firing", "is an object; a list is needed"},
    {R"("name": "a", "name": "b")", "key.twice", "name", "is given twice"},
    {R"("leaves": [{"id": 1, "id": 2}])", "key.twice", "leaves[0].id", "is given twice"},
};

std::string file_of(char const* members) {
    return std::string(R"({"leafwright": "piece", "version": 1, )") + members + '}';
}

} // namespace

TEST_CASE("each fault of a file is told by its place and what is wrong") {
    int seen = 0;
    for (BadFile const& bad : kBadFiles) {
        CAPTURE(bad.members);
        Outcome<Piece> const piece = piece_from_json(file_of(bad.members));
        REQUIRE_FALSE(piece.ok());
        CHECK(piece.problem().code == bad.code);
        CHECK(piece.problem().where == bad.where);
        CHECK_MESSAGE(piece.problem().sentence().find(bad.part_of_sentence) != std::string::npos,
                      piece.problem().sentence());
        CHECK(piece.problem().kind == ProblemKind::input);
        ++seen;
    }
    CHECK(seen >= 40);
}

TEST_CASE("a file of another kind or another time is refused") {
    CHECK(piece_from_json("[]").problem().code == "type");
    CHECK(piece_from_json(R"({"version": 1})").problem().code == "not-a-piece");
    CHECK(piece_from_json(R"({"leafwright": "range", "version": 1})").problem().what.find("\"range\"") !=
          std::string::npos);
    Problem const newer = piece_from_json(R"({"leafwright": "piece", "version": 9})").problem();
    CHECK(newer.code == "version");
    CHECK(newer.sentence().starts_with("version: is version 9; this program reads version 1. Update Leafwright"));
    CHECK(piece_from_json(R"({"leafwright": "piece", "version": "1"})").problem().code == "type");
    CHECK(piece_from_json(R"({"leafwright": "piece"})").problem().code == "missing");
}

TEST_CASE("faults of syntax name line and column") {
    Problem const comma = piece_from_json("{\n  \"leafwright\": \"piece\"\n  \"version\": 1}").problem();
    CHECK(comma.code == "syntax");
    CHECK(comma.where.starts_with("line 3, column "));
    Problem const nan =
        piece_from_json("{\"leafwright\": \"piece\", \"version\": 1,\n\"slab\": {\"thickness_mm\": NaN}}").problem();
    CHECK(nan.code == "syntax");
    CHECK(nan.where.starts_with("line 2, column 2"));
    CHECK(nan.hint.find("finite") != std::string::npos);
    Problem const minus = piece_from_json("{\"leafwright\": \"piece\", \"version\": 1, \"seed\": -Infinity}").problem();
    CHECK(minus.hint.find("finite") != std::string::npos);
    Problem const huge =
        piece_from_json("{\"leafwright\": \"piece\", \"version\": 1, \"slab\": {\"thickness_mm\": 1e999}}").problem();
    CHECK(huge.code == "number");
    CHECK(huge.what == "the number 1e999 is too large");
    Problem const cut = piece_from_json("{\"leafwright\": \"piece\", \"version\": 1, \"slab\": {\"thick").problem();
    CHECK(cut.what == "the text ends too early");
    CHECK(piece_from_json("").problem().what == "the file is empty");
    CHECK(piece_from_json(" \n").problem().what == "the file is empty");
    CHECK(piece_from_json("{\"leafwright\": \"piece\", \"version\": 1, \"name\": \"\xff\xfe\"}").problem().code ==
          "syntax");
    CHECK(piece_from_json(std::string("\0\0\0", 3)).problem().code == "syntax");
}

TEST_CASE("ten megabytes of brackets are refused at once") {
    for (char bracket : {'[', '{'}) {
        Problem const deep = piece_from_json(std::string(10u << 20, bracket)).problem();
        CHECK(deep.code == "too-deep");
        CHECK(deep.where == "line 1, column 65");
    }
    std::string nested = R"({"leafwright": "piece", "version": 1, "former": {"scan": )" + std::string(62, '[') +
                         std::string(62, ']') + "}}";
    CHECK(piece_from_json(nested).ok());
    CHECK(piece_from_json(R"({"leafwright": "piece", "version": 1, "name": ")" + std::string(150, '[') + "\"}").ok());
}

TEST_CASE("more than the program reads is refused, not cut off") {
    std::string leaves = R"("leaf_kinds": [{"id": "a", "outline": "drawer:hazel"}], "leaves": [)";
    for (int i = 1; i <= 5001; ++i) {
        if (i > 1) leaves += ',';
        leaves += R"({"id": )";
        leaves += std::to_string(i);
        leaves += R"(, "kind": "a"})";
    }
    Problem const many = piece_from_json(file_of((leaves + ']').c_str())).problem();
    CHECK(many.code == "too-many");
    CHECK(many.where == "leaves");
    CHECK(many.what == "holds 5001 entries; at most 5000 are read");
    CHECK(piece_from_json(std::string((64u << 20) + 1, ' ')).problem().code == "too-large");
}

TEST_CASE("pieces made in the window are checked like files") {
    Piece piece = sample::full_piece(3);
    CHECK_FALSE(check_piece(piece).has_value());
    piece.leaves[4].scale = std::nan("");
    CHECK(check_piece(piece)->where == "leaves[4].scale");
    CHECK(check_piece(piece)->what == "is not a number; the range is 0.3 to 3");
    piece = sample::full_piece(3);
    piece.features[1].width_mm = INFINITY;
    CHECK(check_piece(piece)->where == "features[1].width_mm");
    piece = sample::full_piece(3);
    piece.leaf_kinds[0].outline = "drawer:nothing";
    CHECK(check_piece(piece)->code == "leaf.unknown");
}
