// What the plan tells of rows: laps within the rules, bare and thick spots, maps; and the commands on rows.
#include "base/units.h"
#include "near.h"
#include "piece/commands.h"
#include "piece/lap_verdict.h"
#include "piece/planner.h"
#include "piece/shown_maps.h"
#include "piece/spots.h"
#include "sample_piece.h"

#include <algorithm>
#include <map>

using namespace leafwright;

namespace {

std::shared_ptr<Plan const> plan_of(Piece const& piece) {
    Outcome<std::shared_ptr<Plan const>> plan = Planner().plan(piece);
    REQUIRE(plan.ok());
    return *plan;
}

bool told(LayResult const& result, int row) {
    return std::ranges::any_of(result.remarks, [&](Problem const& remark) {
        return (remark.code == "rows.exposed" || remark.code == "rows.least-lap" || remark.code == "rows.most-lap") &&
               remark.where == "Row " + std::to_string(row);
    });
}

} // namespace

TEST_CASE("the demo pieces are laid without bare clay, with few leaves, and laps are kept or told") {
    for (std::string const& name : demo_names()) {
        CAPTURE(name);
        Outcome<Piece> const piece = demo_piece(name);
        REQUIRE(piece.ok());
        Task task;
        Outcome<LaidRows> const laid = lay_piece(*piece, task);
        REQUIRE(laid.ok());
        auto const plan = plan_of(laid->piece);
        OverlapFigures const& figures = plan->leaves.overlap;
        CHECK(figures.bare_mm2 < 1.0);
        double exposed = 0;
        std::map<int, std::pair<double, double>> rows;
        for (std::size_t k = 0; k < figures.leaves.size(); ++k) {
            OverlapOfLeaf const& leaf = figures.leaves[k];
            int const row = laid->piece.leaves[k].row;
            RowRule rule = laid->piece.rows.rules.front();
            for (RowRule const& other : laid->piece.rows.rules)
                if (other.row <= row) rule = other;
            rows[row].first += leaf.area_mm2;
            rows[row].second += leaf.exposed_mm2;
            exposed += (1 - rule.side_lap) * (1 - rule.head_lap) * leaf.area_mm2;
            if (leaf.exposed_mm2 < (rule.least_exposed - 0.005) * leaf.area_mm2) CHECK(told(laid->result, row));
        }
        for (auto const& [row, areas] : rows) {
            double const lap = 1 - areas.second / areas.first;
            bool const kept = lap < 0.805 && (lap > 0.095 || row == rows.rbegin()->first);
            CHECK((kept || told(laid->result, row)));
        }
        // The bound: what there is to cover over the mean area that the rules leave to be seen of a leaf.
        auto const count = static_cast<double>(figures.leaves.size());
        double const bound = figures.union_mm2 / (exposed / count);
        CHECK(count < 1.25 * bound);
        MESSAGE(name, ": ", count, " leaves, ", count / bound, " of the bound");
    }
}

TEST_CASE("bare spots lie on bare clay, and their areas add up to it") {
    Piece piece = sample::clad_piece(5);
    std::erase_if(piece.leaves, [](LeafPlacement const& leaf) { return leaf.id % 9 == 0 || leaf.id % 13 == 0; });
    auto const plan = plan_of(piece);
    REQUIRE(!plan->leaves.bare_spots.empty());
    double sum = 0;
    for (BareSpot const& spot : plan->leaves.bare_spots) {
        sum += spot.area_mm2;
        Vec2 const at = plan->outer_face->to_chart(spot.at);
        CHECK(contains(*plan->zone.rim, at));
        for (auto const& leaf : plan->laid) CHECK_FALSE(contains(leaf->chart, at));
        CHECK(contains(spot.ring, at));
    }
    CHECK_NEAR(sum, plan->leaves.overlap.bare_mm2, 5.0); // specks are not listed
    CHECK(std::ranges::is_sorted(plan->leaves.bare_spots, std::greater<>(), &BareSpot::area_mm2));
}

TEST_CASE("a pile is a thick spot where it lies, a mound is none") {
    Piece piece = sample::clad_piece(1);
    for (int k = 0; k < 8; ++k) {
        LeafPlacement leaf;
        leaf.id = 900 + k;
        leaf.kind = "hazel";
        leaf.azimuth_deg = 90;
        leaf.from_crown_mm = 90;
        leaf.turn_deg = 20.0 * k;
        piece.leaves.push_back(leaf);
    }
    auto const piled = plan_of(piece);
    REQUIRE(!piled->leaves.thick_spots.empty());
    ThickSpot const& spot = piled->leaves.thick_spots.front();
    CHECK_NEAR(spot.thickness_mm, piled->stack->most_mm + piece.slab.thickness_mm, 1e-4);
    CHECK(glm::length(piled->outer_face->to_chart(spot.at) - piled->outer_face->to_chart({0.5 * kPi, 90})) < 45);
    CHECK(spot.area_mm2 > 100);
    Piece mound = sample::clad_piece(0);
    Feature nose;
    nose.rise_mm = 60;
    mound.features = {nose};
    CHECK(plan_of(mound)->leaves.thick_spots.empty());
}

TEST_CASE("a leaf's lap is judged by its row's rule") {
    Piece piece = sample::clad_piece(5);
    auto const plan = plan_of(piece);
    int on_top = 0;
    for (OverlapOfLeaf const& leaf : plan->leaves.overlap.leaves) {
        LapVerdict const verdict = lap_verdict(*plan, leaf.id);
        if (leaf.lap > 0.85) CHECK(verdict == LapVerdict::too_much);
        if (verdict == LapVerdict::on_top) CHECK(leaf.lap < 0.01);
        on_top += verdict == LapVerdict::on_top ? 1 : 0;
        CHECK(verdict != LapVerdict::alone);
    }
    CHECK(on_top > 0);
    piece.leaves.resize(1);
    CHECK(lap_verdict(*plan_of(piece), piece.leaves[0].id) == LapVerdict::alone);
}

TEST_CASE("the maps of stack, layers and lap tell what the plan tells") {
    auto const plan = plan_of(sample::clad_piece(5));
    for (char const* const key : {"stack", "layers", "lap"}) REQUIRE(shown_map(*plan, key));
    auto const stack = shown_map(*plan, "stack");
    CHECK_NEAR(value_at(*stack, plan->stack->most_at), plan->stack->most_mm, 1e-3);
    // Cells by layer count, times their area, are the overlap engine's areas.
    auto const layers = shown_map(*plan, "layers");
    double const cell = plan->stack->height.cell_mm * plan->stack->height.cell_mm;
    for (std::size_t k = 0; k < 3; ++k) {
        auto const count = std::ranges::count_if(layers->values, [&](float v) { return v > static_cast<float>(k); });
        CHECK_REL(static_cast<double>(count) * cell, plan->leaves.overlap.layers_mm2[k], 0.01);
    }
    // The scale tells whole layers, though the lines run between them.
    std::vector<double> const marks = scale_marks(*layers);
    REQUIRE(marks.size() > 2);
    for (std::size_t k = 0; k < marks.size(); ++k) CHECK(marks[k] == static_cast<double>(k));
    for (double const level : layers->levels) CHECK(level - std::floor(level) == 0.5);
    auto const lap = shown_map(*plan, "lap");
    OverlapOfLeaf const& last = plan->leaves.overlap.leaves.back();
    Vec2 const middle = centroid(plan->laid.back()->chart.outer);
    CHECK_NEAR(value_at(*lap, middle), 100 * last.lap, 1e-3);
}

TEST_CASE("a leaf that comes to another row is laid last of it, and stays in its place otherwise") {
    Piece const piece = sample::clad_piece(3);
    LeafPlacement leaf = piece.leaves.front();
    int const last = piece.leaves.back().row;
    REQUIRE(leaf.row < last);
    leaf.azimuth_deg += 2;
    CHECK(apply(piece, SetLeaves{{leaf}}).leaves.front().id == leaf.id);
    leaf.row = last;
    Piece const moved = apply(piece, SetLeaves{{leaf}});
    REQUIRE(moved.leaves.size() == piece.leaves.size());
    CHECK(moved.leaves.back().id == leaf.id);
    leaf.row = last + 3; // a row that is not there yet
    CHECK(apply(piece, SetLeaves{{leaf}}).leaves.back().id == leaf.id);
    LeafPlacement back = moved.leaves.back();
    back.row = piece.leaves.front().row;
    Piece const again = apply(moved, SetLeaves{{back}});
    auto const at = std::ranges::find(again.leaves, back.id, &LeafPlacement::id);
    REQUIRE(at + 1 != again.leaves.end());
    CHECK((at + 1)->row > back.row);
    CHECK(std::all_of(again.leaves.begin(), at, [&](auto const& other) { return other.row <= back.row; }));
}

TEST_CASE("a row is replaced in its places of the laying order, and an arrangement with its seed at once") {
    Piece const piece = sample::clad_piece(2);
    std::vector<LeafPlacement> row;
    for (LeafPlacement const& leaf : piece.leaves)
        if (leaf.row == piece.leaves.front().row) row.push_back(leaf);
    SetRow change{row.front().row, row, "Slide"};
    for (LeafPlacement& leaf : change.leaves) leaf.azimuth_deg += 1;
    Piece const slid = apply(piece, change);
    REQUIRE(slid.leaves.size() == piece.leaves.size());
    for (std::size_t k = 0; k < slid.leaves.size(); ++k) {
        CHECK(slid.leaves[k].id == piece.leaves[k].id);
        CHECK((slid.leaves[k] == piece.leaves[k]) == (piece.leaves[k].row != change.row));
    }
    CHECK(label(change) == "Slide row " + std::to_string(change.row));
    LeafPlacement fresh = row.front();
    fresh.id = 0;
    change.leaves.push_back(fresh);
    Piece const more = apply(piece, change);
    CHECK(more.leaves.size() == piece.leaves.size() + 1);
    CHECK(std::ranges::count(more.leaves, next_leaf_id(piece), &LeafPlacement::id) == 1);
    change.leaves.resize(3);
    Piece const fewer = apply(piece, change);
    CHECK(fewer.leaves.size() == piece.leaves.size() - row.size() + 3);
    Piece const other = apply(piece, SetArrangement{{row.front()}, 77});
    CHECK(other.seed == 77);
    CHECK(other.leaves.size() == 1);
}
