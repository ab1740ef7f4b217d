// The maker's own leaves in a piece, in files and in the leaf book.
#include "piece/commands.h"
#include "piece/leaf_book.h"
#include "piece/leaf_file.h"
#include "piece/own_leaves.h"
#include "piece/piece_json.h"
#include "piece/planner.h"

#include <near.h>

#include <algorithm>
#include <cmath>
#include <fstream>

#include <unistd.h>

using namespace leafwright;

namespace {

OwnLeaf bitten_leaf(std::string name = "Bitten") {
    OwnLeaf leaf;
    leaf.name = name;
    leaf.id = leaf_id_of(name);
    leaf.date = "2026-10-03";
    leaf.place = "the lane";
    leaf.scale_error = 0.004;
    for (int i = 0; i < 60; ++i) {
        double const t = 6.283185307179586 * i / 60;
        leaf.outline_mm.outer.emplace_back(22 * std::sin(-t), 40 - 40 * std::cos(t));
    }
    leaf.outline_mm.holes = {{{5, 30}, {5, 44}, {13, 44}, {13, 30}}};
    leaf.midrib_mm = {{0, 0}, {0, 80}};
    return upright(leaf);
}

struct Scratch {
    std::filesystem::path path =
        std::filesystem::temp_directory_path() / ("leafwright-own-" + std::to_string(getpid()));
    ~Scratch() {
        std::error_code ignored;
        std::filesystem::remove_all(path, ignored);
    }
};

} // namespace

TEST_CASE("A leaf file comes back as it was, and bad ones are refused by their key") {
    OwnLeaf const leaf = bitten_leaf();
    std::string const text = own_leaf_to_json(leaf);
    auto const back = own_leaf_from_json(text);
    REQUIRE(back.ok());
    CHECK(*back == leaf);
    CHECK(own_leaf_to_json(*back) == text);
    auto const with = [&](std::string const& from, std::string const& to) {
        std::string changed = text;
        changed.replace(changed.find(from), from.size(), to);
        return own_leaf_from_json(changed);
    };
    CHECK(with("\"leaf\"", "\"piece\"").problem().code == "not-a-leaf");
    CHECK(with("\"version\": 1", "\"version\": 2").problem().code == "version");
    CHECK(with("\"scale_error\": 0.004", "\"scale_error\": 4").problem().where == "scale_error");
    CHECK(with("\"veins\": \"pinnate\"", "\"veins\": \"pinate\"").problem().hint == "Did you mean \"pinnate\"");
    CHECK(with("\"place\"", "\"plaice\"").problem().code == "key.unknown");
    CHECK(with("\"points_mm\": [", "\"points_mm\": [[500, 500], ").problem().code == "leaf.outline");
    CHECK(own_leaf_from_json("{}").problem().code == "not-a-leaf");
}

TEST_CASE("One act adds a leaf and its kind; the piece's file needs no other") {
    Piece const before = new_piece();
    Piece const piece = apply(before, AddOwnLeaf{bitten_leaf(), 6});
    REQUIRE(piece.own_leaves.size() == 1);
    LeafKindSpec const& kind = piece.leaf_kinds.back();
    CHECK(kind.outline == "own:bitten");
    CHECK_NEAR(kind.length_mm, 80, 1e-9);
    CHECK(kind.thickness_mm == 6);
    CHECK_FALSE(check_piece(piece));
    auto const back = piece_from_json(piece_to_json(piece));
    REQUIRE(back.ok());
    CHECK(*back == piece);
    CHECK(apply(piece, AddOwnLeaf{bitten_leaf(), 6}) == piece); // it is there already
    OwnLeaf other = bitten_leaf();
    other.outline_mm.holes.clear();
    Piece const both = apply(piece, AddOwnLeaf{other, 6});
    REQUIRE(both.own_leaves.size() == 2);
    CHECK(both.own_leaves[1].id == "bitten-2");
    CHECK(apply(both, RenameOwnLeaf{"bitten-2", "Whole"}).own_leaves[1].name == "Whole");
    CHECK(apply(piece, RemoveOwnLeaf{"bitten"}) == before);
    Piece lost = piece;
    lost.own_leaves.clear();
    CHECK(check_piece(lost)->code == "leaf.unknown");
    CHECK(piece_to_json(before).find("own_leaves") == std::string::npos);
}

TEST_CASE("A bitten leaf keeps its hole when it is laid, and the clay below is bare") {
    Piece piece = apply(new_piece(), AddOwnLeaf{bitten_leaf(), 5});
    OwnLeaf whole_leaf = bitten_leaf("Whole");
    whole_leaf.outline_mm.holes.clear();
    piece = apply(piece, AddOwnLeaf{whole_leaf, 5});
    auto const laid = [&](char const* kind) {
        LeafPlacement leaf;
        leaf.kind = kind;
        leaf.azimuth_deg = 90;
        leaf.from_crown_mm = 20;
        Planner planner;
        auto const plan = planner.plan(apply(piece, AddLeaves{{leaf}}));
        REQUIRE(plan.ok());
        return *plan;
    };
    auto const bitten = laid("bitten");
    auto const whole = laid("whole");
    REQUIRE(bitten->laid[0]->chart.holes.size() == 1);
    double const hole = 8 * 14;
    CHECK_NEAR(whole->leaves.area_mm2 - bitten->leaves.area_mm2, hole, 0.5);
    // Areas in the chart are true areas on the clay; a flat leaf on a dome stretches a little.
    CHECK_REL(bitten->leaves.overlap.bare_mm2 - whole->leaves.overlap.bare_mm2, hole, 0.03);
}

TEST_CASE("A leaf too fine for its clay is told in the plan once it is used") {
    OwnLeaf leaf = bitten_leaf("Stalked");
    leaf.outline_mm.holes.clear();
    leaf.outline_mm.outer = {{-1, 0}, {1, 0}, {1, 30}, {20, 45}, {0, 80}, {-20, 45}, {-1, 30}};
    Piece piece = apply(new_piece(), AddOwnLeaf{leaf, 5});
    auto const told = [](Piece const& asked) {
        Planner planner;
        auto const plan = planner.plan(asked);
        REQUIRE(plan.ok());
        return std::ranges::any_of((*plan)->warnings, [](Warning const& w) {
            return w.code == "leaf.fine" && w.text.starts_with("Stalked has "); // by its name, not its id
        });
    };
    CHECK_FALSE(told(piece));
    LeafPlacement placed;
    placed.kind = "stalked";
    placed.from_crown_mm = 20;
    CHECK(told(apply(piece, AddLeaves{{placed}})));
}

TEST_CASE("The leaf book keeps, renames, deletes and brings back") {
    Scratch const scratch;
    auto const first = add_to_book(scratch.path, bitten_leaf("Hazel"));
    auto const second = add_to_book(scratch.path, bitten_leaf("Hazel"));
    REQUIRE(first.ok());
    REQUIRE(second.ok());
    CHECK(first->id == "hazel");
    CHECK(second->id == "hazel-2");
    OwnLeaf named = *second;
    named.name = "Alder";
    CHECK_FALSE(put_in_book(scratch.path, named));
    LeafBook book = read_book(scratch.path);
    REQUIRE(book.leaves.size() == 2);
    CHECK(book.leaves[0].name == "Alder");
    CHECK(book.leaves[1] == *first);
    CHECK_FALSE(put_in_bin(scratch.path, "hazel"));
    CHECK(read_book(scratch.path).leaves.size() == 1);
    CHECK(add_to_book(scratch.path, bitten_leaf("Hazel"))->id == "hazel-3"); // none that the bin holds
    CHECK_FALSE(take_from_bin(scratch.path, "hazel"));
    CHECK(read_book(scratch.path).leaves.size() == 3);
    CHECK(put_in_bin(scratch.path, "nothing"));
    CHECK(put_in_bin(scratch.path, "../hazel"));
    std::ofstream(scratch.path / "broken.leaf.json") << "{";
    book = read_book(scratch.path);
    CHECK(book.leaves.size() == 3);
    REQUIRE(book.left_out.size() == 1);
    CHECK(book.left_out[0].starts_with("broken.leaf.json: "));
    CHECK(read_book(scratch.path / "none").leaves.empty());
    std::ofstream(scratch.path / "Two.SVG") << "<svg width='200mm' height='99mm' viewBox='0 0 200 99'><circle cx='40' "
                                               "cy='50' r='30'/><circle cx='140' cy='50' r='30'/></svg>";
    auto const drawn = leaves_of_file(scratch.path / "Two.SVG");
    REQUIRE(drawn.ok());
    REQUIRE(drawn->leaves.size() == 2);
    CHECK(drawn->leaves[1].name == "Two 2");
}
