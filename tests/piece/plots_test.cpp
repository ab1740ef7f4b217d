// Curves, maps and drawings of the second half against what they are drawn from.
#include "near.h"
#include "piece/drawings.h"
#include "piece/moisture_map.h"
#include "piece/planner.h"
#include "piece/plots.h"
#include "sample_piece.h"

using namespace leafwright;

namespace {

std::shared_ptr<SecondHalf const> half_of(Piece const& piece) {
    Planner planner;
    Task task;
    return plan_second_half(*planner.plan(piece), task);
}

Box2 box_of(std::vector<Vec2> const& points) {
    Box2 box;
    for (Vec2 const& p : points) box.add(p);
    return box;
}

} // namespace

TEST_CASE("axes carry round figures, and lines are read between their points") {
    CHECK(round_ticks(0, 10, 5) == std::vector<double>{0, 2, 4, 6, 8, 10});
    CHECK(round_ticks(-0.3, 1, 3).size() == 3); // 0, 0.5, 1
    PlotLine const line{"x", Stroke::plain, false, {{0, 1}, {2, 5}}};
    CHECK_NEAR(line_at(line, 0.5), 2, 1e-12);
    CHECK(std::isnan(line_at(line, 2.1)));
    CHECK(std::isnan(line_at({"x", Stroke::crosses, false, {{0, 1}, {2, 5}}}, 1)));
}

TEST_CASE("plots and maps of drying and firing hold the answers' own values") {
    Piece piece = sample::clad_piece(2);
    piece.drying.weighings = {{1, 5000}, {2, 4800}};
    auto const half = half_of(piece);
    Plot const moisture = moisture_plot(*half);
    REQUIRE(moisture.lines.size() == 4);
    double const day = 2.5;
    DryingMoment const then = half->drying->at(24 * day);
    CHECK_NEAR(line_at(moisture.lines[0], day), 100 * then.wettest, 0.2);
    CHECK_NEAR(line_at(moisture.lines[1], day), 100 * then.mean, 0.2);
    CHECK(moisture.high.y >= 100 * half->drying->moments.front().wettest);
    for (FiringAnswer const& firing : half->firings) {
        Plot const plot = firing_plot(firing);
        CHECK_NEAR(line_at(plot.lines[0], firing.hours_up), firing.top_degC, 30);
        CHECK(plot.high.y >= firing.top_degC);
        CHECK_REL(plot.high.x, firing.hours_up + firing.hours_down, 1e-6);
    }
    ShownMap const map = moisture_map(*half, 24 * day);
    REQUIRE(map.values.size() == static_cast<std::size_t>(map.columns) * static_cast<std::size_t>(map.rows));
    int told = 0;
    for (int row = 0; row < map.rows; ++row)
        for (int column = 0; column < map.columns; ++column) {
            Vec2 const at = map.low_mm + map.size_mm * Vec2((column + 0.5) / map.columns, (row + 0.5) / map.rows);
            double const water = half->drying->water_at(24 * day, at);
            auto const value =
                static_cast<double>(map.values[static_cast<std::size_t>(row) * static_cast<std::size_t>(map.columns) +
                                               static_cast<std::size_t>(column)]);
            CHECK((water < 0) == std::isnan(value));
            if (water < 0) continue;
            CHECK_NEAR(value, 100 * water, 1e-3);
            ++told;
        }
    CHECK(told > 1000);
    REQUIRE(map.named.size() == 2);
    CHECK_NEAR(map.named[0].value, 100 * half->drying->at(24 * half->drying->days_to_leather_hard.value).mean, 0.3);
    CHECK_NEAR(map.named[1].value, 100 * half->drying->at(24 * half->drying->days_to_bone_dry.value).wettest, 0.3);
    Plot const line = making_line_plot(*half->plan);
    CHECK_NEAR(line.lines[0].points[0].y, 100, 1e-9);
    CHECK_NEAR(line.lines[1].points[4].y, 100 * half->plan->stages[4].length_factor.value, 1e-9);
}

TEST_CASE("the piece is drawn on the wall and in the kiln at the size that it has then") {
    Piece piece = sample::clad_piece(2);
    piece.kiln.width_mm = piece.kiln.depth_mm = piece.kiln.height_mm = 700;
    auto const half = half_of(piece);
    REQUIRE(half->hanging);
    LineDrawing const side = hanging_side(*half->hanging, true);
    // The clay's ring: from the wall out to the highest place, from rim to rim.
    Box2 const clay = box_of(side.shapes[1].points);
    CHECK(clay.low.x >= -1e-9);
    // Leaf tips reach a little beyond.
    double const rims = half->hanging->rig.low_mm + half->hanging->rig.high_mm;
    CHECK(clay.size().y > 0.95 * rims);
    CHECK(clay.size().y < rims + 40);
    // The wire is as long in the drawing as seen from the side: it starts at the lug and ends at the hook.
    REQUIRE(side.shapes[3].pen == Pen::wire);
    CHECK_NEAR(side.shapes[3].points[1].x, half->hanging->rig.hook_y_mm, 1e-9);
    CHECK(side.shapes[3].points[1].y > side.shapes[3].points[0].y);
    LineDrawing const kiln = kiln_drawing(*half, 0);
    Box2 const room = box_of(kiln.shapes[0].points);
    Box2 const inside = box_of(kiln.shapes[2].points);
    CHECK_NEAR(room.size().x, 700, 1e-9);
    StageAnswer const& dry = half->plan->stages[2];
    CHECK_REL(std::max(inside.size().x, inside.size().y), std::max(dry.width_mm, dry.height_mm), 1e-6);
    CHECK(inside.low.x > 0);
    CHECK(inside.high.y < 700);
}
