#include "near.h"
#include "piece/history.h"
#include "sample_piece.h"

#include <limits>
#include <rapidcheck.h>

using namespace leafwright;

namespace {

// Any number a slip of the hand or a broken widget could send, in range or not.
double any_number() {
    int const kind = *rc::gen::inRange(0, 10);
    if (kind == 0) return std::numeric_limits<double>::quiet_NaN();
    if (kind == 1) return std::numeric_limits<double>::infinity();
    if (kind == 2) return -1e300;
    return *rc::gen::inRange(-20000, 20000) / 16.0;
}

std::string any_kind() {
    return *rc::gen::element<std::string>("hornbeam", "hazel", "field-maple", "fig", "nothing", "");
}

int any_id() { return *rc::gen::inRange(-1, 24); }

LeafPlacement any_leaf() {
    LeafPlacement leaf;
    leaf.id = any_id();
    leaf.kind = any_kind();
    leaf.row = *rc::gen::inRange(-3, 200);
    leaf.azimuth_deg = any_number();
    leaf.from_crown_mm = any_number();
    leaf.turn_deg = any_number();
    leaf.scale = any_number();
    leaf.flipped = *rc::gen::arbitrary<bool>();
    return leaf;
}

template <class Make> auto several(Make make) {
    std::vector<decltype(make())> made;
    for (int i = *rc::gen::inRange(0, 4); i > 0; --i) made.push_back(make());
    return made;
}

Feature any_feature() {
    Feature feature;
    feature.kind = static_cast<FeatureKind>(*rc::gen::inRange(0, 8));
    feature.azimuth_deg = any_number();
    feature.width_mm = any_number();
    feature.rise_mm = any_number();
    return feature;
}

RowRule any_rule() {
    RowRule rule;
    rule.row = *rc::gen::inRange(-1, 5);
    rule.kinds = several(any_kind);
    rule.side_lap = any_number();
    return rule;
}

Command any_former_command() {
    SetFormer command;
    command.former.outline.kind = static_cast<OutlineKind>(*rc::gen::inRange(0, 5));
    command.former.outline.width_mm = any_number();
    command.former.outline.points_mm = several([] { return Vec2(any_number(), any_number()); });
    command.former.profile.crown_mm = any_number();
    return command;
}

Command any_body_command() {
    SetBody command{*body_of("stoneware")};
    command.body.clay = *rc::gen::element<std::string>("body:stoneware", "body:nothing", "");
    command.body.water_dry_basis = {any_number(), any_number(), any_number(), FigureFrom::measured};
    return command;
}

Command any_command() {
    switch (*rc::gen::inRange(0, 21)) {
    case 0:
        return any_former_command();
    case 1:
        return SetSlab{{any_number(), any_number(), any_number(), any_number(), any_number(), several([] {
                            return SlabCut{any_number(), any_number()};
                        })}};
    case 2:
        return any_body_command();
    case 3:
        return SetHanging{{any_kind(), any_number(), any_number(), "wire:copper-1.0"}};
    case 4:
        return SetExtra{{any_number(), any_number()}};
    case 5:
        return SetRows{{several(any_rule), *rc::gen::arbitrary<bool>()}};
    case 6:
        return SetSeed{*rc::gen::arbitrary<std::uint64_t>()};
    case 7:
        return SetName{std::string(*rc::gen::inRange<std::size_t>(0, 300), 'n')};
    case 8:
        return SetFirings{several([] { return FiringSpec{"first", any_number()}; })};
    case 9:
        return SetLeafKind{{any_kind(), "drawer:" + any_kind(), any_number(), any_number()}};
    case 10:
        return RemoveLeafKind{any_kind()};
    case 11:
        return AddLeaves{several(any_leaf)};
    case 12:
        return SetLeaves{several(any_leaf)};
    case 13:
        return ReplaceAllLeaves{several(any_leaf)};
    case 14:
        return RemoveLeaves{several(any_id)};
    case 15:
        return ReorderLeaves{several(any_id), static_cast<OrderChange>(*rc::gen::inRange(0, 4))};
    case 16:
        return CopyLeaves{several(any_id), any_number(), any_number()};
    case 17:
        return MirrorLeaves{several(any_id)};
    case 18:
        return AddFeature{any_feature()};
    case 19:
        return SetFeature{*rc::gen::inRange(-1, 4), any_feature()};
    default:
        return RemoveFeature{*rc::gen::inRange(-1, 4)};
    }
}

Piece start_piece() {
    Piece piece = sample::full_piece(9, 8);
    piece.name = "start"; // property tests print it
    return piece;
}

} // namespace

TEST_CASE("A row laid with another kind keeps it when rows are laid anew; the other rows keep theirs") {
    Piece piece = new_piece();
    REQUIRE(piece.leaf_kinds.size() == 3);
    std::string const a = piece.leaf_kinds[0].id;
    std::string const b = piece.leaf_kinds[1].id;
    std::string const c = piece.leaf_kinds[2].id;
    auto const rule = [](int row, std::vector<std::string> kinds) {
        RowRule made;
        made.row = row;
        made.kinds = std::move(kinds);
        return made;
    };
    auto const kinds_by_row = [](Piece const& shown) { // of rows 1 to 5: those of the last rule that begins by then
        std::vector<std::vector<std::string>> kinds(5);
        for (RowRule const& each : shown.rows.rules)
            for (int row = each.row; row <= 5; ++row) kinds[static_cast<std::size_t>(row - 1)] = each.kinds;
        return kinds;
    };
    piece.rows.rules = {rule(1, {a}), rule(2, {a, b})};
    using Kinds = std::vector<std::vector<std::string>>;
    CHECK(kinds_by_row(apply(piece, SetRow{1, {}, "Other leaf in", c})) == Kinds{{c}, {a, b}, {a, b}, {a, b}, {a, b}});
    CHECK(kinds_by_row(apply(piece, SetRow{3, {}, "Other leaf in", c})) == Kinds{{a}, {a, b}, {c}, {a, b}, {a, b}});
    piece.rows.rules = {rule(1, {a, b})};
    CHECK(kinds_by_row(apply(piece, SetRow{1, {}, "Other leaf in", c})) == Kinds{{c}, {a, b}, {a, b}, {a, b}, {a, b}});
    CHECK(apply(piece, SetRow{2, {}, "Slide"}).rows == piece.rows);
    CHECK(apply(piece, SetRow{2, {}, "Other leaf in", "no such kind"}).rows == piece.rows);
}

TEST_CASE("any run of commands, fully undone, gives the start; redone, the end") {
    CHECK(rc::check([] {
        Piece const start = start_piece();
        History history(start);
        int const steps = *rc::gen::inRange(0, 30);
        for (int i = 0; i < steps; ++i) {
            if (*rc::gen::inRange(0, 4) == 0) {
                history.preview(any_command());
                if (*rc::gen::arbitrary<bool>()) history.commit_preview();
            } else {
                history.commit(any_command());
            }
        }
        history.drop_preview();
        Piece const end = history.now();
        std::vector<Piece> seen{end};
        while (history.can_undo()) {
            history.undo();
            seen.push_back(history.now());
        }
        RC_ASSERT(history.now() == start);
        RC_ASSERT(seen.size() <= static_cast<std::size_t>(steps) + 1);
        for (std::size_t i = seen.size() - 1; history.can_redo(); --i) {
            RC_ASSERT(history.now() == seen[i]);
            history.redo();
        }
        RC_ASSERT(history.now() == end);
    }));
}

TEST_CASE("every command keeps a valid piece valid, and it survives the file at any point") {
    CHECK(rc::check([] {
        Piece piece = start_piece();
        for (int i = *rc::gen::inRange(0, 20); i > 0; --i) {
            piece = leafwright::apply(piece, any_command());
            MaybeProblem const problem = check_piece(piece);
            if (problem) RC_FAIL(problem->sentence());
            Outcome<Piece> const back = piece_from_json(piece_to_json(piece));
            if (!back) RC_FAIL(back.problem().sentence());
            RC_ASSERT(*back == piece);
        }
    }));
}

TEST_CASE("leaves are lifted and lowered among their neighbours, keeping their own order") {
    Piece piece = new_piece();
    for (int id = 1; id <= 5; ++id) {
        LeafPlacement leaf;
        leaf.id = id;
        leaf.kind = "hazel";
        piece.leaves.push_back(leaf);
    }
    auto const order = [](Piece const& p) {
        std::string text;
        for (auto const& leaf : p.leaves) text += static_cast<char>('0' + leaf.id);
        return text;
    };
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{2, 3}, OrderChange::over_one})) == "14235");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{4, 5}, OrderChange::over_one})) == "12345");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{1, 5}, OrderChange::over_one})) == "21345");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{3, 4}, OrderChange::under_one})) == "13425");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{1, 2}, OrderChange::under_one})) == "12345");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{2, 4}, OrderChange::to_top})) == "13524");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{2, 4}, OrderChange::to_bottom})) == "24135");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{1}, OrderChange::over_one, 4})) == "23415");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{5}, OrderChange::under_one, 2})) == "15234");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{1, 3}, OrderChange::over_one, 4})) == "24135");
    // Already beyond it, or not there at all: nothing moves.
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{5}, OrderChange::over_one, 2})) == "12345");
    CHECK(order(leafwright::apply(piece, ReorderLeaves{{1}, OrderChange::under_one, 9})) == "12345");
    CHECK(order(leafwright::apply(piece, CopyLeaves{{4, 2}})) == "1234567");
    CHECK(leafwright::apply(piece, CopyLeaves{{4}}).leaves.back().from_crown_mm == piece.leaves[3].from_crown_mm + 10);
}

TEST_CASE("a mirror image of a mirror image is the leaf again, and lies at the mirrored place") {
    Random random(4);
    for (int i = 1; i <= 200; ++i) {
        LeafPlacement const leaf = sample::leaf(i, random);
        LeafPlacement const image = mirror_image(leaf);
        // Across the upright axis x changes sign and y stays.
        double const a = leaf.azimuth_deg * 3.14159265358979323846 / 180;
        double const b = image.azimuth_deg * 3.14159265358979323846 / 180;
        CHECK_NEAR(std::cos(b), -std::cos(a), 1e-12);
        CHECK_NEAR(std::sin(b), std::sin(a), 1e-12);
        CHECK(image.turn_deg == -leaf.turn_deg);
        CHECK(image.flipped != leaf.flipped);
        LeafPlacement const back = mirror_image(image);
        CHECK_NEAR(std::remainder(back.azimuth_deg - leaf.azimuth_deg, 360.0), 0, 1e-9);
        CHECK(back.turn_deg == leaf.turn_deg);
    }
}

TEST_CASE("removing a leaf kind takes its leaves and its name in the rules with it") {
    Piece const piece = sample::full_piece(2);
    Piece const without = leafwright::apply(piece, RemoveLeafKind{"hornbeam"});
    CHECK(without.leaf_kinds.size() == 2);
    CHECK(without.leaves.size() < piece.leaves.size());
    CHECK_FALSE(without.leaves.empty());
    REQUIRE(without.rows.rules.size() == 2);
    CHECK(without.rows.rules[0].kinds == piece.rows.rules[1].kinds); // row 1 had nothing else
    Piece const none =
        leafwright::apply(leafwright::apply(without, RemoveLeafKind{"hazel"}), RemoveLeafKind{"field-maple"});
    CHECK(none.leaves.empty());
    CHECK(none.rows.rules.empty());
    CHECK_FALSE(check_piece(none).has_value());
}

TEST_CASE("one gesture is one entry") {
    History history(start_piece());
    std::uint64_t revision = history.revision();
    for (int i = 1; i <= 20; ++i) {
        LeafPlacement leaf = history.now().leaves[0];
        leaf.azimuth_deg = 10.0 + i;
        history.preview(SetLeaves{{leaf}});
        CHECK(history.revision() > revision);
        revision = history.revision();
        CHECK(history.shown().leaves[0].azimuth_deg == 10.0 + i);
    }
    CHECK_FALSE(history.can_undo());
    history.commit_preview();
    CHECK(history.revision() == revision); // what is shown did not change
    CHECK(history.undo_label() == "Move leaf");
    history.undo();
    CHECK_FALSE(history.can_undo());
    CHECK(history.redo_label() == "Move leaf");
    CHECK(history.now() == start_piece());
}

TEST_CASE("a command that changes nothing adds no entry, and saving is remembered") {
    History history(start_piece());
    history.commit(SetSlab{history.now().slab});
    history.commit(RemoveLeaves{{12345}});
    CHECK_FALSE(history.can_undo());
    CHECK_FALSE(history.changed_since_save());
    history.commit(SetName{"other"});
    CHECK(history.changed_since_save());
    history.mark_saved();
    CHECK_FALSE(history.changed_since_save());
    history.undo();
    CHECK(history.changed_since_save());
    history.redo();
    CHECK_FALSE(history.changed_since_save());
}

TEST_CASE("a hand that lays many leaves can still undo, and memory stays bounded") {
    History history(start_piece());
    for (int i = 0; i < 1200; ++i) history.commit(SetSeed{static_cast<std::uint64_t>(1000 + i)});
    int undone = 0;
    for (; history.can_undo(); ++undone) history.undo();
    CHECK(undone == 999);
}
