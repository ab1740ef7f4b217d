#include "base/parse_json.h"
#include "base/units.h"
#include "near.h"
#include "piece/commands.h"
#include "piece/planner.h"
#include "piece/warnings.h"
#include "sample_piece.h"

#include <nlohmann/json.hpp>

using namespace leafwright;

namespace {

std::shared_ptr<Plan const> plan_of(Piece const& piece) {
    Outcome<std::shared_ptr<Plan const>> plan = Planner().plan(piece);
    INFO((plan.ok() ? std::string() : plan.problem().sentence()));
    REQUIRE(plan.ok());
    return *plan;
}

Piece round_piece(double width_mm, double crown_mm, ProfileKind profile) {
    Piece piece = new_piece();
    piece.former.outline = {OutlineKind::round, width_mm, width_mm, 0.5, 2, {}};
    piece.former.profile.kind = profile;
    piece.former.profile.crown_mm = crown_mm;
    return piece;
}

// One step of play: what a hand at the bench might do next.
Command any_step(Piece const& piece, Random& random) {
    LeafPlacement leaf = piece.leaves[random.below(static_cast<std::uint32_t>(piece.leaves.size()))];
    Feature eye;
    eye.kind = FeatureKind::eye;
    eye.from_crown_mm = random.between(20, 80);
    SlabSpec slab = piece.slab;
    slab.thickness_mm = random.between(6, 10);
    switch (random.below(8)) {
    case 0:
        return SetSlab{slab};
    case 1:
        return RemoveLeaves{{leaf.id}};
    case 2:
        return MirrorLeaves{{leaf.id}};
    case 3:
        return ReorderLeaves{{leaf.id}, OrderChange::to_top};
    case 4:
        return AddFeature{eye};
    case 5:
        return SetLeafKind{{"hornbeam", "drawer:hornbeam", random.between(70, 90), 5}};
    default:
        leaf.azimuth_deg += random.between(-8, 8);
        leaf.turn_deg += random.between(-8, 8);
        return SetLeaves{{leaf}};
    }
}

bool has_warning(Plan const& plan, std::string_view code) {
    for (Warning const& warning : plan.warnings)
        if (warning.code == code) return true;
    return false;
}

} // namespace

TEST_CASE("the same piece gives the same plan, byte for byte, whatever was planned before") {
    Random random(8);
    Planner planner;
    Piece piece = sample::clad_piece(2);
    for (int step = 0; step < 25; ++step) {
        piece = leafwright::apply(piece, any_step(piece, random));
        Outcome<std::shared_ptr<Plan const>> const played = planner.plan(piece);
        REQUIRE(played.ok());
        CHECK((*played)->piece == piece);
        if (step % 4 == 0) CHECK(plan_to_json(**played) == plan_to_json(*plan_of(piece)));
    }
    CHECK(piece.leaves.size() > 40);
}

TEST_CASE("moving one leaf lays one leaf, and all else is shared") {
    Planner planner;
    Piece piece = sample::clad_piece(3);
    Feature boss;
    piece.features = {boss};
    auto const before = *planner.plan(piece);
    piece.leaves[17].azimuth_deg += 3;
    auto const after = *planner.plan(piece);
    int relaid = 0;
    for (std::size_t i = 0; i < piece.leaves.size(); ++i) relaid += before->laid[i] != after->laid[i] ? 1 : 0;
    CHECK(relaid == 1);
    CHECK(before->former == after->former);
    CHECK(before->slab == after->slab);
    CHECK(before->outer_face == after->outer_face);
    CHECK(before->patterns == after->patterns);
    CHECK(before->zone.rim == after->zone.rim);
    CHECK(before->zone.keep_clear == after->zone.keep_clear);
    CHECK(before->features[0].mound == after->features[0].mound);
    CHECK(*planner.plan(piece) == after); // planned again: the very same
    piece.name = "renamed";
    CHECK((*planner.plan(piece))->laid == after->laid);
}

TEST_CASE("a former that is a spherical cap has the areas of Archimedes") {
    // Cap of rim radius 200 and rise 60 (checks by mensuration handbooks): A = pi (a^2 + h^2), V = pi h (3 a^2 +
    // h^2)/6.
    auto const plan = plan_of(round_piece(400, 60, ProfileKind::saucer));
    CHECK_REL(plan->former_measures.surface_mm2, kPi * (200.0 * 200 + 60 * 60), 1e-6);
    CHECK_REL(plan->former_measures.volume_mm3, kPi * 60 * (3 * 200.0 * 200 + 60 * 60) / 6, 1e-6);
    CHECK_REL(plan->former_measures.plan_mm2, kPi * 200 * 200, 1e-6);
}

TEST_CASE("clay is weighed by the phase relation, part by part") {
    // Saturated plastic clay, w = 0.25, rs = 2600, rw = 998.2 kg/m3: 1968.298750 kg/m3 (soil mechanics texts).
    double const g_per_mm3 = 1968.298750e-6;
    Piece piece = sample::clad_piece(3);
    Feature boss; // 60 x 40 x 25 mm
    piece.features = {boss};
    piece.body.water_dry_basis = {0.25, 0.20, 0.30, FigureFrom::by_default};
    piece.body.particle_density_g_cm3 = {2.6, 2.6, 2.6, FigureFrom::measured};
    piece.body.kneading_spare = 0.1;
    piece.extra.cutting_density = 0.5;
    auto const plan = plan_of(piece);
    double leaf_mm3 = 0;
    double leaf_mm2 = 0;
    for (auto const& laid : plan->laid) {
        leaf_mm2 += laid->flat_mm2;
        leaf_mm3 += laid->flat_mm2 * 5;
    }
    CHECK(leaf_mm2 > 96 * 1000);
    ClayAnswer const& clay = plan->clay;
    CHECK_REL(clay.slab_g.value, g_per_mm3 * plan->slab->volume_mm3, 1e-8);
    CHECK_REL(clay.leaves_g.value, g_per_mm3 * leaf_mm3, 1e-8);
    CHECK_REL(clay.offcuts_g.value, clay.leaves_g.value, 1e-12); // half the sheet becomes leaves
    CHECK_REL(clay.features_g.value, g_per_mm3 * feature_volume_mm3(boss), 1e-8);
    CHECK_REL(clay.lugs_g.value, g_per_mm3 * 2 * kPi / 6 * 27000, 1e-8); // two balls of 30 mm
    CHECK_REL(clay.slip_g.value, 600 * leaf_mm2 * 1e-6, 1e-12);
    double const sum = clay.slab_g.value + clay.leaves_g.value + clay.features_g.value + clay.lugs_g.value +
                       clay.slip_g.value + clay.offcuts_g.value;
    CHECK_REL(clay.spare_g.value, 0.1 * sum, 1e-12);
    CHECK_REL(clay.knead_g.value, 1.1 * sum, 1e-12);
    // w = 0.20: 2051.366091, w = 0.30: 1897.377123 kg/m3 (the same relation): drier clay is denser.
    CHECK_REL(clay.slab_g.low, 1897.377123e-6 * plan->slab->volume_mm3, 1e-8);
    CHECK_REL(clay.slab_g.high, 2051.366091e-6 * plan->slab->volume_mm3, 1e-8);
    CHECK(clay.slab_g.from == FigureFrom::by_default);

    piece.hanging.kind = "holes";
    CHECK(plan_of(piece)->clay.lugs_g.value == 0);
}

TEST_CASE("the wet piece weighs its trimmed slab, leaves, mounds and lugs, less what an opening takes") {
    Piece piece = sample::clad_piece(2);
    auto const without = plan_of(piece);
    Feature opening;
    opening.kind = FeatureKind::opening;
    opening.width_mm = opening.height_mm = 80;
    opening.rise_mm = 0;
    piece.features = {opening};
    auto const with = plan_of(piece);
    double const g_per_mm3 = without->clay.slab_g.value / without->slab->volume_mm3;
    double const volume = without->slab->shell_mm3 + without->leaves.volume_mm3 + 2 * kPi / 6 * 27000;
    CHECK_REL(without->stages[0].mass_g.value, g_per_mm3 * volume, 1e-6);
    double const lost = without->stages[0].mass_g.value - with->stages[0].mass_g.value;
    double const hole_mm2 = with->features[0].slab_hole_mm2;
    CHECK(hole_mm2 > 0);
    CHECK_REL(lost, g_per_mm3 * (hole_mm2 * with->slab->thickness_mm.mean - feature_volume_mm3(opening)), 1e-6);
    CHECK(with->clay.slab_g == without->clay.slab_g); // the slab is rolled whole
}

TEST_CASE("union, overhang and bare clay make up the clad zone") {
    for (int rings : {0, 1, 3, 5}) {
        auto const plan = plan_of(sample::clad_piece(rings));
        OverlapFigures const& o = plan->leaves.overlap;
        CHECK_REL(o.union_mm2 - o.overhang_mm2 + o.bare_mm2, o.zone_mm2, 1e-9);
        CHECK_REL(o.zone_mm2, plan->outer_face->area_mm2(), 1e-4);
        double layers = 0;
        for (double area : o.layers_mm2) layers += area;
        if (rings > 0) CHECK_REL(layers, o.area_mm2, 1e-9);
        if (rings > 0) CHECK_NEAR(plan->leaves.lap, 1 - o.union_mm2 / o.area_mm2, 1e-9);
        CHECK(plan->leaves.rows == rings);
    }
}

TEST_CASE("turning the whole arrangement on a round former changes no area") {
    Piece piece = round_piece(360, 70, ProfileKind::dome);
    piece.leaves = sample::clad_piece(3).leaves;
    auto const before = plan_of(piece);
    for (LeafPlacement& leaf : piece.leaves) leaf.azimuth_deg = std::fmod(leaf.azimuth_deg + 77.7, 360.0);
    auto const after = plan_of(piece);
    OverlapFigures const& a = before->leaves.overlap;
    OverlapFigures const& b = after->leaves.overlap;
    CHECK_REL(b.area_mm2, a.area_mm2, 1e-5);
    CHECK_REL(b.union_mm2, a.union_mm2, 1e-5);
    CHECK_NEAR(b.bare_mm2, a.bare_mm2, 1e-4 * a.zone_mm2);
    CHECK(b.pairs.size() > 100);
    CHECK_REL(after->clay.knead_g.value, before->clay.knead_g.value, 1e-9);
}

TEST_CASE("figures do not depend on the order of leaves that do not meet") {
    Piece piece = sample::clad_piece(1);
    std::swap(piece.leaves[0], piece.leaves[20]); // opposite each other
    auto const swapped = plan_of(piece);
    auto const plain = plan_of(sample::clad_piece(1));
    // Leaf 1 went to the top of its row and leaf 21 to the bottom: only pairs with their neighbours turn round.
    CHECK_REL(swapped->leaves.overlap.union_mm2, plain->leaves.overlap.union_mm2, 1e-12);
    CHECK(swapped->leaves.overlap.pairs.size() == plain->leaves.overlap.pairs.size());

    Piece apart = sample::clad_piece(1);
    std::erase_if(apart.leaves, [](LeafPlacement const& leaf) { return leaf.id % 8 != 1; });
    auto const in_order = plan_of(apart);
    CHECK(in_order->leaves.overlap.pairs.empty());
    std::reverse(apart.leaves.begin(), apart.leaves.end());
    auto const reversed = plan_of(apart);
    CHECK_REL(reversed->leaves.overlap.union_mm2, in_order->leaves.overlap.union_mm2, 1e-12);
    CHECK_REL(reversed->leaves.stack_most_mm, in_order->leaves.stack_most_mm, 1e-6);
}

TEST_CASE("a bare dome measures as wide as its outline and the slab's two sides") {
    // A dome meets the board upright, so the outer face stands one thickness outside the outline.
    auto const plan = plan_of(round_piece(360, 70, ProfileKind::dome));
    REQUIRE(plan->stages.size() == 5);
    CHECK_NEAR(plan->stages[0].width_mm, 360 + 2 * 8, 0.5);
    CHECK_NEAR(plan->stages[0].height_mm, 360 + 2 * 8, 0.5);
    CHECK_NEAR(plan->stages[0].depth_mm, 70 + 8, 0.2);
    // Drying 6 %, firing 6.5 % of the dry length: total 12.11 % (ASTM C326's chain).
    CHECK_NEAR(plan->stages[4].width_mm, (360 + 16) * (1 - 0.1211), 0.5);
}

TEST_CASE("leaves and mounds make the piece larger") {
    auto const bare = plan_of(sample::clad_piece(0));
    auto const clad = plan_of(sample::clad_piece(1));
    CHECK(clad->stages[0].width_mm > bare->stages[0].width_mm + 2 * 5);
    CHECK(clad->stages[0].height_mm > bare->stages[0].height_mm + 2 * 5);
    Piece with_nose = sample::clad_piece(0);
    Feature boss; // rises 25 mm at the crown
    with_nose.features = {boss};
    CHECK_NEAR(plan_of(with_nose)->stages[0].depth_mm, bare->stages[0].depth_mm + 25, 0.6);
}

TEST_CASE("a fault names the key of the file, and leaves the planner as it was") {
    Planner planner;
    Piece const good = sample::clad_piece(1);
    auto const plan = *planner.plan(good);
    Piece bad = good;
    bad.former = round_piece(300, 200, ProfileKind::saucer).former;
    Outcome<std::shared_ptr<Plan const>> const refused = planner.plan(bad);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problem().where == "former.profile.crown_mm");
    CHECK(*planner.plan(good) == plan);
    bad = good;
    bad.leaf_kinds[1].outline = "drawer:nothing";
    CHECK(planner.plan(bad).problem().where == "leaf_kinds[1].outline");
    bad = good;
    bad.slab.thickness_mm = 80;
    CHECK(planner.plan(bad).problem().where == "slab.thickness_mm");
    CHECK(*planner.plan(good) == plan);
}

TEST_CASE("the maker is warned in plain sentences, refusals first") {
    Piece piece = sample::clad_piece(0);
    CHECK(has_warning(*plan_of(piece), "bare"));
    piece.slab.sheet_width_mm = 100;
    auto const narrow = plan_of(piece);
    REQUIRE_FALSE(narrow->warnings.empty());
    CHECK(narrow->warnings[0].code == "slab.too-wide");
    CHECK(narrow->warnings[0].refusal);

    piece = sample::clad_piece(2);
    piece.slab.thickness_mm = 11;
    auto const clad = plan_of(piece);
    CHECK(clad->leaves.stack_most_mm < 3 * 11);
    CHECK_FALSE(has_warning(*clad, "stack.thick"));
    CHECK_FALSE(has_warning(*clad, "leaf.off"));
    CHECK_FALSE(has_warning(*clad, "leaf.over-opening"));
    LeafPlacement off = piece.leaves[0];
    off.id = 500;
    off.from_crown_mm += 70;
    LeafPlacement twin = piece.leaves.back();
    twin.id = 501; // lies exactly on the last leaf
    LeafPlacement middle = piece.leaves[0];
    middle.id = 499;
    middle.from_crown_mm = 0;
    piece.leaves.push_back(middle);
    piece.leaves.push_back(off);
    piece.leaves.push_back(twin);
    for (int id = 502; id < 506; ++id) {
        LeafPlacement pile = piece.leaves[60]; // five deep at one place
        pile.id = id;
        piece.leaves.push_back(pile);
    }
    Feature opening;
    opening.kind = FeatureKind::opening;
    opening.width_mm = opening.height_mm = 60;
    piece.features = {opening};
    auto const spoilt = plan_of(piece);
    CHECK(has_warning(*spoilt, "leaf.off"));
    CHECK(has_warning(*spoilt, "leaf.hidden"));
    CHECK(has_warning(*spoilt, "leaf.over-opening"));
    // The warnings' leaves, to be shown when asked for: those that the sentences name.
    CHECK(leaves_meant(*spoilt, "stack.thick").empty());
    for (Warning const& warning : spoilt->warnings) {
        std::vector<int> const ids = leaves_meant(*spoilt, warning.code);
        if (!warning.code.starts_with("leaf.") || warning.code == "leaf.fine") continue;
        REQUIRE(!ids.empty());
        CHECK(warning.text.find(std::to_string(ids.front())) != std::string::npos);
    }
    auto const off_ids = leaves_meant(*spoilt, "leaf.off");
    CHECK(std::ranges::find(off_ids, off.id) != off_ids.end());
    CHECK(has_warning(*spoilt, "stack.thick"));
    for (Warning const& warning : spoilt->warnings) {
        CHECK(warning.text.ends_with('.'));
        CHECK(warning.hint.ends_with('.'));
        CHECK_FALSE(warning.stage.empty());
    }
}

TEST_CASE("the place of bare clay is named as the piece hangs") {
    struct Gap {
        double from_deg, to_deg;
        std::string place;
    };
    for (Gap const& gap : {Gap{110, 160, "upper left"}, Gap{-20, 20, "right"}, Gap{250, 290, "bottom"}}) {
        Piece piece = sample::clad_piece(5);
        std::erase_if(piece.leaves, [&](LeafPlacement const& leaf) {
            double const a = leaf.azimuth_deg > 340 ? leaf.azimuth_deg - 360 : leaf.azimuth_deg;
            return leaf.row <= 2 && a > gap.from_deg && a < gap.to_deg;
        });
        auto const plan = plan_of(piece);
        bool named = false;
        for (Warning const& warning : plan->warnings)
            named = named || (warning.code == "bare" && warning.text.find("at the " + gap.place) != std::string::npos);
        CHECK_MESSAGE(named, gap.place);
    }
}

TEST_CASE("the plan as JSON has the promised keys, and its numbers are those of the plan") {
    Piece piece = sample::clad_piece(2);
    piece.features = {Feature{}};
    auto const plan = plan_of(piece);
    auto const json = parse_json(plan_to_json(*plan));
    for (char const* path : {"/former/surface_mm2",
                             "/former/plan_mm2",
                             "/former/rim_mm",
                             "/former/tape_across_mm",
                             "/former/tape_along_mm",
                             "/former/volume_mm3",
                             "/slab/flat_mm2",
                             "/slab/outline_mm/0/1",
                             "/slab/bounds_mm/1",
                             "/slab/volume_mm3",
                             "/slab/thickness_mm/rolled",
                             "/slab/thickness_mm/least",
                             "/slab/thickness_mm/mean",
                             "/slab/thickness_mm/most",
                             "/slab/stretch/most",
                             "/slab/stretch/least",
                             "/slab/pucker_mm2",
                             "/slab/draped_mm2",
                             "/leaves/count",
                             "/leaves/rows",
                             "/leaves/area_mm2",
                             "/leaves/volume_mm3",
                             "/leaves/union_mm2",
                             "/leaves/lap",
                             "/leaves/bare_mm2",
                             "/leaves/overhang_mm2",
                             "/leaves/layers_mm2/0",
                             "/leaves/pairs/0/upper",
                             "/leaves/pairs/0/lower",
                             "/leaves/pairs/0/area_mm2",
                             "/leaves/stack_most_mm",
                             "/leaves/each/0/id",
                             "/leaves/each/0/row",
                             "/leaves/each/0/area_mm2",
                             "/leaves/each/0/exposed_mm2",
                             "/leaves/each/0/lap",
                             "/leaves/each/0/overhang_mm2",
                             "/leaves/each/0/bonded_mm2",
                             "/leaves/each/0/hollow_mm3",
                             "/leaves/bonded_mm2",
                             "/leaves/hollow_mm3",
                             "/leaves/thick_spots",
                             "/leaves/bare_spots/0/azimuth_deg",
                             "/leaves/bare_spots/0/from_crown_mm",
                             "/leaves/bare_spots/0/place",
                             "/leaves/bare_spots/0/area_mm2",
                             "/leaves/bare_spots/0/ring/0/1",
                             "/clay/slab_g",
                             "/clay/leaves_g",
                             "/clay/features_g",
                             "/clay/lugs_g",
                             "/clay/slip_g",
                             "/clay/offcuts_g",
                             "/clay/spare_g",
                             "/clay/knead_g/value",
                             "/clay/knead_g/low",
                             "/clay/knead_g/high",
                             "/clay/knead_g/from",
                             "/stages/4/name",
                             "/stages/4/mass_g",
                             "/stages/4/length_factor",
                             "/stages/4/volume_mm3",
                             "/stages/4/width_mm",
                             "/stages/4/height_mm",
                             "/stages/4/depth_mm",
                             "/warnings/0/code",
                             "/warnings/0/stage",
                             "/warnings/0/text",
                             "/warnings/0/hint"})
        CHECK_MESSAGE(json.contains(nlohmann::json::json_pointer(path)), path);
    CHECK(json["leaves"]["union_mm2"].get<double>() == plan->leaves.overlap.union_mm2);
    CHECK(json["clay"]["knead_g"]["value"].get<double>() == plan->clay.knead_g.value);
    CHECK(json["leaves"]["each"].size() == piece.leaves.size());
    CHECK(json["stages"][1]["name"] == "leather-hard");
}

TEST_CASE("rows laid by the rules are measured by the plan as the solver says, and pinned leaves stay") {
    Piece piece = new_piece();
    LeafPlacement pinned;
    pinned.id = 7;
    pinned.kind = "hazel";
    pinned.azimuth_deg = 33;
    pinned.from_crown_mm = 120;
    pinned.pinned = true;
    LeafPlacement loose = pinned;
    loose.id = 8;
    loose.pinned = false;
    piece.leaves = {pinned, loose};
    Task task;
    Outcome<LaidRows> const laid = lay_piece(piece, task);
    REQUIRE(laid.ok());
    CHECK(std::find(laid->piece.leaves.begin(), laid->piece.leaves.end(), pinned) != laid->piece.leaves.end());
    CHECK(laid->piece.leaves.size() > 30);
    CHECK_FALSE(check_piece(laid->piece).has_value());
    CHECK_NEAR(plan_of(laid->piece)->leaves.overlap.bare_mm2, laid->result.bare_mm2, 1.0);
    Task again;
    CHECK(lay_piece(piece, again)->piece == laid->piece);
    Task stopped;
    stopped.cancel();
    Outcome<LaidRows> const none = lay_piece(piece, stopped);
    REQUIRE_FALSE(none.ok());
    CHECK(none.problem().code == "cancelled");
}
