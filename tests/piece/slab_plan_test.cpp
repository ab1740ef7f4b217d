// The draped slab in a plan: worked out again only when it must be, and told in plan.json and in warnings.
#include "base/parse_json.h"
#include "near.h"
#include "piece/piece_json.h"
#include "piece/planner.h"
#include "sample_piece.h"

#include <algorithm>
#include <nlohmann/json.hpp>

using namespace leafwright;

namespace {

Piece deep_piece() {
    Piece piece = sample::clad_piece(2);
    piece.former.outline = {OutlineKind::oval, 300, 400, 0.5, 2, {}};
    piece.former.profile.crown_mm = 150;
    piece.slab.sheet_width_mm = 900;
    return piece;
}

bool has_warning(Plan const& plan, std::string const& code) {
    return std::any_of(plan.warnings.begin(), plan.warnings.end(), [&](Warning const& w) { return w.code == code; });
}

} // namespace

TEST_CASE("a leaf moved leaves the slab alone, a former changed does not") {
    Planner planner;
    Piece piece = deep_piece();
    auto const first = *planner.plan(piece);
    piece.leaves[3].azimuth_deg += 5;
    auto const moved = *planner.plan(piece);
    CHECK(moved->slab == first->slab);
    piece.former.profile.crown_mm = 140;
    auto const lower = *planner.plan(piece);
    CHECK(lower->slab != first->slab);
    CHECK(lower->slab->pucker_mm2 < first->slab->pucker_mm2);
    CHECK((*Planner().plan(piece))->slab->sliding_mm == lower->slab->sliding_mm);
}

TEST_CASE("plan.json tells the band, the stretches, the puckers and the cuts of the slab") {
    Piece piece = deep_piece();
    auto const plan = *Planner().plan(piece);
    auto const json = parse_json(plan_to_json(*plan))["slab"];
    SlabAnswer const& slab = *plan->slab;
    CHECK(json["stretch"]["most"].get<double>() == slab.stretch_most);
    CHECK(json["stretch"]["least"].get<double>() == slab.stretch_least);
    CHECK(json["pucker_mm2"].get<double>() == slab.pucker_mm2);
    CHECK(json["surplus_rim_mm"].get<double>() == slab.surplus_rim_mm);
    CHECK(json["sliding_mm2"].get<double>() < json["sticking_mm2"].get<double>());
    CHECK(json["sliding_mm"].size() == slab.sliding_mm.size());
    CHECK(json["cuts"].empty());
    REQUIRE(json["proposed_cuts"].size() == slab.proposed_cuts.size());
    CHECK(json["ways"].size() == 3);

    piece.slab.cuts = slab.proposed_cuts;
    auto const cut = *Planner().plan(piece);
    auto const cuts = parse_json(plan_to_json(*cut))["slab"]["cuts"];
    REQUIRE(cuts.size() == piece.slab.cuts.size());
    CHECK(cuts[0]["azimuth_deg"].get<double>() == piece.slab.cuts[0].azimuth_deg);
    CHECK(cuts[0]["opening_mm"].get<double>() > 10);
    CHECK(cuts[0]["notch_mm"].size() > 4);
}

TEST_CASE("puckers and tears are warned of, cuts that stand too near are refused") {
    Piece piece = deep_piece();
    piece.slab.stretch_limit = 0.03;
    auto const plan = *Planner().plan(piece);
    CHECK(has_warning(*plan, "slab.pucker"));
    CHECK(has_warning(*plan, "slab.tear"));
    piece.slab.stretch_limit = 0.15;
    CHECK_FALSE(has_warning(**Planner().plan(piece), "slab.tear"));
    piece.slab.cuts = {{10, 60}, {12, 60}};
    CHECK(Planner().plan(piece).problem().code == "slab.cuts");
    CHECK(Planner().plan(piece).problem().where == "slab.cuts[1]");
}

TEST_CASE("coarse plans while a slider moves leave no trace in the fine plan that follows") {
    Planner planner;
    Piece piece = deep_piece();
    auto const before = *planner.plan(piece);
    std::shared_ptr<Plan const> coarse;
    for (double const crown : {148.0, 141.0, 133.0, 131.0}) {
        piece.former.profile.crown_mm = crown;
        coarse = *planner.plan(piece, {.coarse_slab = true});
        CHECK(coarse->coarse);
        CHECK(coarse->laid == before->laid); // leaves wait
    }
    Task cancelled;
    cancelled.cancel();
    auto const broken_off = planner.plan(piece, {.coarse_slab = false, .task = &cancelled});
    REQUIRE_FALSE(broken_off.ok());
    CHECK(broken_off.problem().code == "cancelled");
    auto const fine = *planner.plan(piece);
    CHECK_FALSE(fine->coarse);
    CHECK(plan_to_json(*fine) == plan_to_json(**Planner().plan(piece)));
    // What the hand saw was near it: within half a per cent (drape.h).
    CHECK_REL(coarse->slab->flat_mm2, fine->slab->flat_mm2, 0.005);
    CHECK_REL(coarse->slab->draped_mm2, fine->slab->draped_mm2, 1e-4);
    CHECK(*planner.plan(piece, {.coarse_slab = true}) == fine); // nothing coarser than what is there
}

TEST_CASE("a coarse plan of a slab alone keeps the surface and what lies on it") {
    Planner planner;
    Piece piece = deep_piece();
    auto const before = *planner.plan(piece);
    piece.slab.grip = 0.5;
    auto const coarse = *planner.plan(piece, {.coarse_slab = true});
    CHECK(coarse->coarse);
    CHECK(coarse->outer_face == before->outer_face);
    piece.leaves[0].azimuth_deg += 4;
    auto const fine = *planner.plan(piece);
    CHECK_FALSE(fine->coarse);
    CHECK(plan_to_json(*fine) == plan_to_json(**Planner().plan(piece)));
}

TEST_CASE("a file whose darts stand nearer than 5 degrees is found at fault, at the second of them") {
    Piece piece = deep_piece();
    piece.slab.cuts = {{-178, 80}, {90, 80}, {179.5, 60}};
    auto const problem = check_piece(piece);
    REQUIRE(problem);
    CHECK(problem->where == "slab.cuts[2]");
    piece.slab.cuts[2].azimuth_deg = 176;
    CHECK_FALSE(check_piece(piece));
}
