#include "range/range_plan.h"

#include "near.h"
#include "range/range_file.h"
#include "range/silhouette.h"
#include "range_sample.h"

#include <algorithm>
#include <cmath>

using namespace leafwright;

namespace {

RangePlan planned(RangeSpec const& spec, std::vector<Piece> const& pieces) {
    Task task;
    Outcome<RangePlan> plan = plan_range(spec, pieces, task);
    REQUIRE_MESSAGE(plan.ok(), (plan.ok() ? "" : plan.problem().sentence()));
    return std::move(*plan);
}

RangePlan gatehouse() {
    RangeSpec const spec = *demo_range("gatehouse");
    std::vector<Piece> pieces;
    for (RangePieceSpec const& piece : spec.pieces) pieces.push_back(*demo_piece(piece.file.substr(5)));
    return planned(spec, pieces);
}

} // namespace

TEST_CASE("one copy of one piece alone costs what its own plan says") {
    RangePlan const plan = planned(sample::small_range({1}), {sample::small_piece(150)});
    REQUIRE(plan.entries.size() == 1);
    RangeEntry const& e = plan.entries[0];
    CHECK_REL(e.cost.total.value, e.second->cost.total.value, 1e-12);
    CHECK_REL(e.cost.price.high, e.second->cost.price.high, 1e-12);
    CHECK_NEAR(plan.costs.saving.value, 0, 1e-9);
    CHECK_REL(plan.costs.total.value, e.cost.total.value, 1e-12);
    CHECK(plan.clay.at(0).knead_g == e.plan->clay.knead_g);
}

TEST_CASE("the gatehouse: sums are those of its pieces, energy is shared without rest") {
    RangePlan const plan = gatehouse();
    double knead = 0, total = 0, price = 0, kWh = 0, alone = 0, shared = 0;
    int leaves = 0, cut = 0;
    for (RangeEntry const& e : plan.entries) {
        knead += e.copies * e.plan->clay.knead_g.value;
        total += e.copies * e.cost.total.value;
        price += e.copies * e.cost.price.value;
        kWh += e.copies * e.kWh;
        alone += e.copies * e.firing_alone.value;
        shared += e.copies * e.cost.firing.value;
        leaves += e.copies * e.plan->leaves.count;
        // Per piece: overhead on all parts, price by the rule.
        CostSpec const& rule = e.plan->piece.cost;
        double const parts = e.cost.clay.value + e.cost.firing.value + e.cost.finish.value + e.cost.labour.value;
        CHECK_REL(e.cost.total.value, parts * (1 + rule.overhead_share), 1e-12);
        CHECK_REL(e.cost.price.value, e.cost.total.value * rule.price_factor, 1e-12);
        CHECK_REL(e.cost.firing.value, e.kWh * rule.kWh_price, 1e-12);
    }
    for (RangeLeaves const& l : plan.leaves) {
        cut += l.cut;
        CHECK(l.gather == (l.cut + 2) / 3);
        CHECK(l.shortest_mm <= l.longest_mm);
    }
    double loads = 0;
    for (KilnLoad const& load : plan.loads) loads += load.kWh;
    REQUIRE(plan.clay.size() == 1);
    CHECK_REL(plan.clay[0].knead_g.value, knead, 1e-12);
    CHECK(plan.clay[0].bags == static_cast<int>(std::ceil(knead / 12500)));
    CHECK(plan.clay[0].bags_most >= plan.clay[0].bags);
    CHECK(cut == leaves);
    CHECK_REL(plan.costs.total.value, total, 1e-12);
    CHECK_REL(plan.costs.price.value, price, 1e-12);
    CHECK_REL(kWh, loads, 1e-12); // no energy is lost between the loads and the pieces
    CHECK_REL(plan.costs.saving.value, (alone - shared) * 1.15, 1e-9);
    CHECK(plan.costs.saving.value > 0);
    CHECK(plan.shapes.size() == 3);
    CHECK(plan.shapes[0].copies == 2);
    CHECK(plan.done <= *plan.spec.due);
    REQUIRE(plan.latest);
    CHECK(plan.latest->done <= *plan.spec.due);
    CHECK(plan.latest->start >= plan.spec.start);
    CHECK(plan.latest->start <= plan.latest->never_after);
    CHECK(plan.done_early <= plan.done);
    CHECK(plan.done <= plan.done_late);
    CHECK(std::ranges::none_of(plan.warnings, &Warning::refusal));
    CHECK(range_plan_to_json(gatehouse()) == range_plan_to_json(plan)); // the same again, with two threads
}

TEST_CASE("a silhouette has the box of the plan's own size") {
    RangePlan const plan = gatehouse();
    for (RangeEntry const& e : plan.entries) {
        Vec2 const size = bounds(e.silhouette_mm).size();
        StageAnswer const& wet = e.plan->stages.front();
        INFO(e.name);
        CHECK_NEAR(size.x, wet.width_mm, 1.0);
        CHECK_NEAR(size.y, wet.height_mm, 1.0);
        CHECK(is_simple(e.silhouette_mm));
        // More than the former's plan, less than the box.
        CHECK(std::abs(signed_area(e.silhouette_mm)) > e.plan->former_measures.plan_mm2);
        CHECK(std::abs(signed_area(e.silhouette_mm)) < size.x * size.y);
    }
}

TEST_CASE("equal pieces are planned once and share formers; names are told apart") {
    RangeSpec spec = sample::small_range({1, 1, 1});
    spec.pieces[1].label = spec.pieces[0].label;
    Piece other = sample::small_piece(150, 4);
    RangePlan const plan = planned(spec, {sample::small_piece(150), sample::small_piece(150), other});
    CHECK(plan.entries[0].plan == plan.entries[1].plan);
    CHECK(plan.entries[0].plan != plan.entries[2].plan);
    CHECK(plan.entries[0].name != plan.entries[1].name);
    REQUIRE(plan.shapes.size() == 1);
    CHECK(plan.shapes[0].copies == 3);
}

TEST_CASE("a due date too near is a refusal that tells when to begin") {
    RangeSpec spec = sample::small_range({1});
    spec.due = spec.start + std::chrono::days{10};
    RangePlan const plan = planned(spec, {sample::small_piece(150)});
    REQUIRE(!plan.warnings.empty());
    CHECK(plan.warnings[0].code == "due.late");
    CHECK(plan.warnings[0].refusal);
    REQUIRE(plan.latest);
    CHECK(plan.latest->start < spec.start);
    CHECK(plan.warnings[0].hint.find(spoken_date(plan.latest->start)) != std::string::npos);
    // Begun then, it is ready.
    spec.start = plan.latest->start;
    RangePlan const early = planned(spec, {sample::small_piece(150)});
    CHECK(early.done <= *spec.due);
    CHECK(early.warnings.empty());
}

TEST_CASE("a piece too large for the kiln is refused by name, the others are planned") {
    RangeSpec spec = sample::small_range({1, 1});
    KilnSpec kiln;
    kiln.width_mm = kiln.depth_mm = kiln.height_mm = 280;
    spec.kiln = kiln;
    RangePlan const plan = planned(spec, {sample::small_piece(150), sample::small_piece(420)});
    REQUIRE(!plan.warnings.empty());
    auto const misfit = std::ranges::find(plan.warnings, "kiln.fit", &Warning::code);
    REQUIRE(misfit != plan.warnings.end());
    CHECK(misfit->stage == plan.entries[1].name);
    CHECK(misfit->refusal);
    CHECK(plan.loads.size() == 2);
    CHECK(plan.schedule.copies.size() == 1);
    CHECK(range_plan_to_json(plan).find("kiln.fit") != std::string::npos);
}

TEST_CASE("cancelled, it gives nothing") {
    Task task;
    task.cancel();
    Outcome<RangePlan> const plan = plan_range(sample::small_range({1}), {sample::small_piece(150)}, task);
    REQUIRE(!plan.ok());
    CHECK(plan.problem().code == "cancelled");
}
