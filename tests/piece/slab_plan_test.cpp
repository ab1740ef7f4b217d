// The draped slab in a plan: worked out again only when it must be, and told in plan.json and in warnings.
#include "near.h"
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
    auto const json = nlohmann::json::parse(plan_to_json(*plan))["slab"];
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
    auto const cuts = nlohmann::json::parse(plan_to_json(*cut))["slab"]["cuts"];
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
