// The hand, driven by scripted pointer events over a round saucer (a spherical cap), without a window.
#include "base/units.h"
#include "bench/gesture.h"

#include "near.h"

#include <doctest/doctest.h>

using namespace leafwright;
using What = PointerEvent::What;

namespace {

ClaySurface saucer() {
    FormerSpec spec;
    spec.outline.kind = OutlineKind::round;
    spec.outline.width_mm = 300;
    spec.profile.kind = ProfileKind::saucer;
    spec.profile.crown_mm = 40;
    auto former = Former::make(spec);
    REQUIRE(former);
    return ClaySurface::make(*former, {});
}

Piece three_leaves() {
    Piece piece = new_piece();
    for (int id = 1; id <= 3; ++id) {
        LeafPlacement leaf;
        leaf.id = id;
        leaf.kind = piece.leaf_kinds.front().id;
        leaf.row = id;
        leaf.azimuth_deg = 40.0 * id;
        leaf.from_crown_mm = 100;
        piece.leaves.push_back(leaf);
    }
    return piece;
}

// A hand with its ground; events are told one after the other.
struct Script {
    Piece piece = three_leaves();
    ClaySurface surface = saucer();
    std::vector<int> selected;
    bool leaves_move = true;
    Hand hand;
    std::vector<Deed> deeds;

    void tell(PointerEvent event) {
        Ground const ground{piece, &surface, selected, leaves_move, true, 4};
        deeds.clear();
        hand = after(std::move(hand), event, ground, deeds);
    }
    static PointerEvent at(What what, double x, double y, std::optional<Spot> spot = {}, int leaf = 0) {
        PointerEvent event;
        event.what = what;
        event.at_px = {x, y};
        event.spot = spot;
        if (leaf) event.hit = LeafHit{leaf, spot.value_or(Spot{}), {}};
        return event;
    }
    template <class D> D const& only() const {
        REQUIRE(deeds.size() == 1);
        REQUIRE(std::holds_alternative<D>(deeds[0]));
        return std::get<D>(deeds[0]);
    }
};

SetLeaves const& shown_leaves(Deed const& deed) {
    REQUIRE(std::holds_alternative<ShowChange>(deed));
    Command const& command = std::get<ShowChange>(deed).command;
    REQUIRE(std::holds_alternative<SetLeaves>(command));
    return std::get<SetLeaves>(command);
}

} // namespace

TEST_CASE("a click on a leaf chooses it, a click beside chooses nothing") {
    Script script;
    Spot const spot{radians(80), 100};
    script.tell(Script::at(What::press, 10, 10, spot, 2));
    CHECK(script.deeds.empty());
    script.tell(Script::at(What::move, 12, 11, spot, 2)); // a hand trembles
    script.tell(Script::at(What::release, 12, 11, spot, 2));
    CHECK(script.only<SelectLeaves>().ids == std::vector<int>{2});
    CHECK(std::holds_alternative<Resting>(script.hand));
    script.tell(Script::at(What::press, 50, 50));
    script.tell(Script::at(What::release, 50, 50));
    CHECK(script.only<SelectLeaves>().ids.empty());
}

TEST_CASE("a click with Shift adds a leaf, and takes it out again") {
    Script script;
    script.selected = {1};
    PointerEvent press = Script::at(What::press, 10, 10, Spot{}, 2);
    press.shift = true;
    script.tell(press);
    script.tell(Script::at(What::release, 10, 10, Spot{}, 2));
    CHECK(script.only<SelectLeaves>().ids == std::vector<int>{1, 2});
    script.selected = {1, 2};
    script.tell(press);
    script.tell(Script::at(What::release, 10, 10, Spot{}, 2));
    CHECK(script.only<SelectLeaves>().ids == std::vector<int>{1});
}

TEST_CASE("a dragged leaf goes where the pointer goes, and is one entry of the history") {
    Script script;
    Spot const from{radians(82), 104}; // grabbed beside its middle
    Spot const to{radians(95), 70};
    script.tell(Script::at(What::press, 10, 10, from, 2));
    script.tell(Script::at(What::move, 30, 30, to, 2));
    REQUIRE(script.deeds.size() == 2);
    CHECK(std::get<SelectLeaves>(script.deeds[0]).ids == std::vector<int>{2});
    LeafPlacement const moved = shown_leaves(script.deeds[1]).leaves.at(0);
    // The step in the equal-area chart is the pointer's own.
    Vec2 const step =
        script.surface.to_chart(spot_of(moved)) - script.surface.to_chart(spot_of(script.piece.leaves[1]));
    Vec2 const asked = script.surface.to_chart(to) - script.surface.to_chart(from);
    CHECK_NEAR(step.x, asked.x, 1e-6);
    CHECK_NEAR(step.y, asked.y, 1e-6);
    CHECK(moved.turn_deg == script.piece.leaves[1].turn_deg);
    script.tell(Script::at(What::release, 30, 30, to, 2));
    (void)script.only<KeepChange>();
    CHECK(std::holds_alternative<Resting>(script.hand));
}

TEST_CASE("several chosen leaves keep their places among each other") {
    Script script;
    script.selected = {1, 3};
    script.tell(Script::at(What::press, 10, 10, Spot{radians(40), 100}, 1));
    script.tell(Script::at(What::move, 40, 10, Spot{radians(55), 90}, 1));
    auto const& leaves = shown_leaves(script.deeds.back()).leaves;
    REQUIRE(leaves.size() == 2);
    CHECK_NEAR(leaves[0].azimuth_deg, 55, 1e-9);
    CHECK_NEAR(leaves[1].azimuth_deg, 135, 1e-9);
    CHECK_NEAR(leaves[0].from_crown_mm, 90, 1e-9);
    CHECK_NEAR(leaves[1].from_crown_mm, 90, 1e-9);
}

TEST_CASE("Esc while dragging drops the change") {
    Script script;
    script.tell(Script::at(What::press, 10, 10, Spot{radians(80), 100}, 2));
    script.tell(Script::at(What::move, 40, 10, Spot{radians(90), 100}, 2));
    script.tell(Script::at(What::cancel, 40, 10));
    (void)script.only<DropChange>();
    CHECK(std::holds_alternative<Resting>(script.hand));
}

TEST_CASE("no leaf is dragged further than 60 mm beyond the rim") {
    Script script;
    double const rim = script.surface.rim_from_crown_mm(radians(80));
    script.tell(Script::at(What::press, 10, 10, Spot{radians(80), 100}, 2));
    script.tell(Script::at(What::move, 10, 200, Spot{radians(80), rim + 140}, 2));
    LeafPlacement const moved = shown_leaves(script.deeds.back()).leaves.at(0);
    CHECK_NEAR(moved.from_crown_mm, rim + 60, 1e-6);
}

TEST_CASE("at a stage where leaves keep still, a drag on a leaf turns the piece") {
    Script script;
    script.leaves_move = false;
    script.tell(Script::at(What::press, 10, 10, Spot{radians(80), 100}, 2));
    script.tell(Script::at(What::move, 40, 15, Spot{radians(90), 100}, 2));
    CHECK(script.only<TurnView>().by_px == Vec2(30, 5));
}

TEST_CASE("a leaf from the tray follows the pointer and is laid by each click until Esc") {
    Script script;
    std::string const kind = script.piece.leaf_kinds.front().id;
    script.hand = pick_up(kind, false);
    Spot const spot{radians(121), 98};
    script.tell(Script::at(What::move, 20, 20, spot));
    auto const& shown = std::get<AddLeaves>(script.only<ShowChange>().command);
    REQUIRE(shown.leaves.size() == 1);
    CHECK(shown.leaves[0].kind == kind);
    CHECK_NEAR(shown.leaves[0].azimuth_deg, 121, 1e-9);
    CHECK(shown.leaves[0].row == 3); // the row of the leaf nearest to it
    for (int click = 0; click < 2; ++click) {
        script.tell(Script::at(What::press, 20, 20, spot));
        REQUIRE(script.deeds.size() == 2);
        CHECK(std::holds_alternative<KeepChange>(script.deeds[1]));
        script.tell(Script::at(What::release, 20, 20, spot));
        CHECK(script.deeds.empty());
        CHECK(std::holds_alternative<Carrying>(script.hand));
    }
    script.tell(Script::at(What::cancel, 20, 20));
    (void)script.only<DropChange>();
    CHECK(std::holds_alternative<Resting>(script.hand));
}

TEST_CASE("a leaf dragged from the tray is laid where the button comes up, and chosen") {
    Script script;
    script.hand = pick_up(script.piece.leaf_kinds.front().id, true);
    PointerEvent beside = Script::at(What::move, -100, 20);
    beside.over_picture = false;
    script.tell(beside);
    (void)script.only<DropChange>();
    script.tell(Script::at(What::move, 20, 20, Spot{1, 80}));
    script.tell(Script::at(What::release, 20, 20, Spot{1, 80}));
    REQUIRE(script.deeds.size() == 3);
    CHECK(std::holds_alternative<KeepChange>(script.deeds[1]));
    CHECK(std::get<SelectLeaves>(script.deeds[2]).ids == std::vector<int>{4}); // ids 1 to 3 are taken
    CHECK(std::holds_alternative<Resting>(script.hand));
}

TEST_CASE("a click in the tray that ends there leaves the leaf in hand") {
    Script script;
    script.hand = pick_up(script.piece.leaf_kinds.front().id, true);
    PointerEvent release = Script::at(What::release, -100, 20);
    release.over_picture = false;
    script.tell(release);
    CHECK(script.deeds.empty());
    REQUIRE(std::holds_alternative<Carrying>(script.hand));
    CHECK(!std::get<Carrying>(script.hand).held);
}

TEST_CASE("a lifted leaf keeps its number and is laid once") {
    Script script;
    script.hand = lift(script.piece.leaves[0]);
    Spot const spot{radians(200), 60};
    script.tell(Script::at(What::press, 20, 20, spot));
    REQUIRE(script.deeds.size() == 3);
    LeafPlacement const moved = shown_leaves(script.deeds[0]).leaves.at(0);
    CHECK(moved.id == 1);
    CHECK(moved.row == 1);
    CHECK_NEAR(moved.azimuth_deg, 200, 1e-9);
    CHECK(std::holds_alternative<Resting>(script.hand));
}

TEST_CASE("the round handle turns a leaf by the angle that the pointer goes round it") {
    Script script;
    script.selected = {2};
    Vec2 const middle = script.surface.to_chart(spot_of(script.piece.leaves[1]));
    auto const round_it = [&](double angle_deg, double reach_mm) {
        return script.surface.from_chart(middle +
                                         reach_mm * Vec2(std::cos(radians(angle_deg)), std::sin(radians(angle_deg))));
    };
    PointerEvent press = Script::at(What::press, 10, 10, round_it(80, 40));
    press.handle = HandleKind::turn;
    script.tell(press);
    REQUIRE(std::holds_alternative<TurningLeaf>(script.hand));
    script.tell(Script::at(What::move, 20, 10, round_it(105, 55)));
    CHECK_NEAR(shown_leaves(script.deeds[0]).leaves.at(0).turn_deg, 25, 1e-6);
    script.tell(Script::at(What::release, 20, 10, round_it(105, 55)));
    (void)script.only<KeepChange>();
}

TEST_CASE("the square handle sizes a leaf by the share of the distance") {
    Script script;
    script.selected = {2};
    Vec2 const middle = script.surface.to_chart(spot_of(script.piece.leaves[1]));
    PointerEvent press = Script::at(What::press, 10, 10, script.surface.from_chart(middle + Vec2(30, 0)));
    press.handle = HandleKind::size;
    script.tell(press);
    script.tell(Script::at(What::move, 20, 10, script.surface.from_chart(middle + Vec2(0, 45))));
    CHECK_NEAR(shown_leaves(script.deeds[0]).leaves.at(0).scale, 1.5, 1e-6);
    script.tell(Script::at(What::move, 20, 10, script.surface.from_chart(middle + Vec2(0, 145))));
    CHECK_NEAR(shown_leaves(script.deeds[0]).leaves.at(0).scale, 3.0, 1e-12); // the largest that a leaf may be
}

TEST_CASE("Ctrl and drag draws a box; the box tells its corners in order") {
    Script script;
    PointerEvent press = Script::at(What::press, 100, 90, Spot{}, 1);
    press.ctrl = true;
    script.tell(press);
    script.tell(Script::at(What::move, 40, 120));
    CHECK(script.deeds.empty());
    script.tell(Script::at(What::release, 30, 130));
    PickInBox const& box = script.only<PickInBox>();
    CHECK(box.low_px == Vec2(30, 90));
    CHECK(box.high_px == Vec2(100, 130));
    CHECK(!box.adding);
}

TEST_CASE("right turns the view, middle moves it, the wheel comes nearer") {
    Script script;
    PointerEvent press = Script::at(What::press, 10, 10, Spot{}, 1);
    press.button = PointerButton::right;
    script.tell(press);
    script.tell(Script::at(What::move, 17, 12));
    CHECK(script.only<TurnView>().by_px == Vec2(7, 2));
    script.tell(Script::at(What::release, 17, 12));
    press.button = PointerButton::middle;
    script.tell(press);
    script.tell(Script::at(What::move, 5, 10));
    CHECK(script.only<MoveView>().by_px == Vec2(-5, 0));
    script.tell(Script::at(What::release, 5, 10));
    PointerEvent wheel = Script::at(What::wheel, 5, 10);
    wheel.wheel = 2;
    script.tell(wheel);
    CHECK(script.only<ZoomView>().notches == 2);
}

TEST_CASE("the wheel with Ctrl turns the chosen leaves, with Shift it sizes them") {
    Script script;
    script.selected = {1, 2};
    PointerEvent wheel = Script::at(What::wheel, 5, 10);
    wheel.wheel = 1;
    wheel.ctrl = true;
    script.tell(wheel);
    auto const turned = std::get<SetLeaves>(script.only<MakeChange>().command).leaves;
    REQUIRE(turned.size() == 2);
    CHECK(turned[0].turn_deg > 0);
    wheel.ctrl = false;
    wheel.shift = true;
    script.tell(wheel);
    CHECK(std::get<SetLeaves>(script.only<MakeChange>().command).leaves[1].scale > 1);
}

TEST_CASE("turning a leaf keeps its angle within half a turn") {
    LeafPlacement leaf;
    leaf.turn_deg = 170;
    CHECK_NEAR(turned_by(leaf, 20).turn_deg, -170, 1e-9);
    CHECK_NEAR(turned_by(leaf, 10).turn_deg, 180, 1e-9);
    CHECK_NEAR(turned_by(leaf, -350).turn_deg, 180, 1e-9);
    CHECK_NEAR(turned_by(leaf, 720).turn_deg, 170, 1e-9);
}
