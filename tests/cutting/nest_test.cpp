#include "cutting/nest.h"

#include "near.h"
#include "nest_jobs.h"
#include "nest_twin.h"

#include <algorithm>
#include <chrono>
#include <numeric>

using namespace leafwright;

namespace {

NestResult nested(NestJob const& job, int rounds, std::uint64_t seed = 1, int threads = 2) {
    NestOptions options;
    options.rounds = rounds;
    options.seed = seed;
    options.threads = threads;
    Outcome<NestResult> const result = nest(job, options);
    REQUIRE_MESSAGE(result.ok(), (result.ok() ? std::string() : result.problem().sentence()));
    return *result;
}

void check_sound(NestJob const& job, NestResult const& result) {
    std::vector<std::string> const faults = nest_faults(job, result);
    CHECK_MESSAGE(faults.empty(), (faults.empty() ? std::string() : faults.front()));
    TwinVerdict const verdict = geos_verdict(job, result);
    double const sheet = job.sheets.width_mm * (job.sheets.length_mm > 0 ? job.sheets.length_mm : result.length_mm);
    CHECK(verdict.overlap_mm2 <= 1e-9 * sheet);
    CHECK(verdict.outside_mm2 <= 1e-9 * sheet);
    if (job.gap_mm > 0) CHECK(verdict.distance_mm >= job.gap_mm - 1e-6);
    CHECK_REL(result.area_mm2, verdict.area_mm2, 1e-9);
    CHECK(result.density <= 1 + 1e-9);
}

std::vector<double> const kQuarters{0, 90, 180, 270};

// Cuts a rectangle by straight cuts from edge to edge.
void cut_up(Random& random, double width, double height, int depth, NestJob& job) {
    bool const upright = width > height;
    double const side = upright ? width : height;
    if (depth == 0 || side < 30) {
        job.shapes.push_back(
            shape_of(random.unit() < 0.5 ? rectangle(width, height) : rectangle(height, width), 1, kQuarters));
        return;
    }
    double const at = std::round(side * random.between(0.3, 0.7));
    cut_up(random, upright ? at : width, upright ? height : at, depth - 1, job);
    cut_up(random, upright ? side - at : width, upright ? height : side - at, depth - 1, job);
}

// As few rounds as it takes, up to a bound.
double filled(NestJob const& job, int rounds) {
    NestResult const result = nested(job, rounds);
    check_sound(job, result);
    return result.density;
}

} // namespace

TEST_CASE("Rectangles that tile a strip are packed to the last of it") {
    NestJob bricks; // twelve alike
    bricks.sheets.width_mm = 120;
    bricks.shapes.push_back(shape_of(rectangle(60, 40), 12, kQuarters));
    CHECK_NEAR(filled(bricks, 30), 1, 1e-9);

    NestJob pinwheel; // not to be had by straight cuts from edge to edge: four round a fifth
    pinwheel.sheets.width_mm = 90;
    pinwheel.shapes.push_back(shape_of(rectangle(60, 30), 4, kQuarters));
    pinwheel.shapes.push_back(shape_of(rectangle(30, 30), 1));
    CHECK_NEAR(filled(pinwheel, 30), 1, 1e-9);

    NestJob squares; // the smallest tiling of a rectangle by unlike squares, 33 x 32 (Z. Moron 1925)
    squares.sheets.width_mm = 32;
    for (double side : {1, 4, 7, 8, 9, 10, 14, 15, 18}) squares.shapes.push_back(shape_of(rectangle(side, side), 1));
    CHECK_NEAR(filled(squares, 60), 1, 1e-9);

    for (std::uint64_t seed : {3, 4}) {
        NestJob cuts;
        cuts.sheets.width_mm = 100;
        Random random(seed);
        cut_up(random, 140, 100, 3, cuts);
        CAPTURE(seed);
        CHECK_NEAR(filled(cuts, 60), 1, 1e-9);
    }
}

TEST_CASE("Sheets that pieces fill exactly take every one of them, with gaps and without") {
    NestJob job; // two sheets of six, two columns of three or the like
    job.sheets = {150, 200, 2};
    job.shapes.push_back(shape_of(rectangle(100, 50), 12, kQuarters));
    NestOptions options;
    options.rounds = 20;
    NestResult result = *nest(job, options);
    CHECK(result.unplaced.empty());
    CHECK_NEAR(result.density, 1, 1e-9);
    CHECK(nest_faults(job, result).empty());

    job.gap_mm = 2, job.edge_gap_mm = 5; // between the edges 140 = 2 x 69 + 2, and 138 = 3 x 134/3 + 2 x 2
    job.sheets = {148, 150, 2};
    job.shapes = {shape_of(rectangle(69, 134 / 3.0), 12, kQuarters)};
    result = *nest(job, options);
    CHECK(result.unplaced.empty());
    CHECK(nest_faults(job, result).empty());
}

TEST_CASE("The same seed gives the same layout on any number of threads") {
    NestJob const job = leaves_job(14);
    NestResult const one = nested(job, 3, 7, 1);
    for (int threads : {2, 4}) {
        NestResult const other = nested(job, 3, 7, threads);
        CHECK(other.placements == one.placements);
        CHECK(other.samples == one.samples);
    }
    CHECK_FALSE(nested(job, 3, 8, 2).placements == one.placements);
}

TEST_CASE("Leaves keep their gap, on their side of the edge, and the search shortens the first layout") {
    NestJob const job = leaves_job(24);
    Outcome<NestResult> const first = first_nest(job);
    REQUIRE(first.ok());
    check_sound(job, *first);
    NestResult const better = nested(job, 6);
    check_sound(job, better);
    CHECK(better.length_mm < first->length_mm);
}

TEST_CASE("Small pieces lie in the holes of large ones, and do not when that is not wanted") {
    NestJob job;
    Polygon frame = rectangle(100, 100);
    frame.holes.push_back({{10, 10}, {10, 90}, {90, 90}, {90, 10}});
    job.shapes = {shape_of(frame, 1), shape_of(rectangle(70, 70), 1)};
    job.sheets.width_mm = 100;
    job.gap_mm = 1;
    NestResult const inside = nested(job, 5);
    check_sound(job, inside);
    CHECK_NEAR(inside.length_mm, 100, 1e-6);
    job.in_holes = false;
    NestResult const beside = nested(job, 5);
    check_sound(job, beside);
    CHECK_NEAR(beside.length_mm, 171, 1e-5);
}

TEST_CASE("A piece of the other hand is turned over where that saves length") {
    NestJob job; // the second fits the first's slant only when mirrored and turned by half: 100 + 60, else 100 + 100
    Polygon const right{{{0, 0}, {100, 0}, {60, 30}, {0, 30}}, {}};
    Polygon const left{{{0, 0}, {0, 30}, {-60, 30}, {-100, 0}}, {}};
    job.sheets.width_mm = 30;
    job.shapes = {shape_of(right, 1), shape_of(left, 1, {180})};
    CHECK_NEAR(nested(job, 5).length_mm, 200, 1e-6);
    job.shapes[1].either_hand = true;
    NestResult const turned = nested(job, 5);
    check_sound(job, turned);
    CHECK_NEAR(turned.length_mm, 160, 1e-6);
    CHECK(turned.placements[1].pose.mirrored);
}

TEST_CASE("Pinned pieces stay, the rest lies round them") {
    NestJob job;
    job.sheets.width_mm = 100;
    NestShape square = shape_of(rectangle(30, 30), 6, kQuarters);
    square.pinned = {{0, 30, false, {60, 40}}, {0, 0, false, {0, 0}}};
    job.shapes = {square};
    job.gap_mm = 2;
    NestResult const result = nested(job, 5);
    check_sound(job, result);
    CHECK(result.placements[0].pose == square.pinned[0]);
    CHECK_NEAR(glm::length(result.placements[1].pose.at_mm), 0, 1e-9);
    job.shapes[0].pinned[1].at_mm = {55, 45};
    Outcome<NestResult> const clash = nest(job);
    REQUIRE_FALSE(clash.ok());
    CHECK(clash.problem().code == "nest.pinned");
    job.shapes[0].pinned[1].at_mm = {0, 75};
    Outcome<NestResult> const outside = nest(job);
    REQUIRE_FALSE(outside.ok());
    CHECK(outside.problem().code == "nest.pinned");
}

TEST_CASE("Sheets are filled one after another, and what finds no room is told") {
    NestJob job;
    job.sheets = {101, 101, 0};
    job.shapes = {shape_of(rectangle(50, 40), 9, kQuarters)};
    NestResult const result = nested(job, 10);
    check_sound(job, result);
    CHECK(result.used_mm.size() == 3); // four to a sheet: 50 x 40 twice by twice; the ninth alone
    CHECK(result.unplaced.empty());
    job.sheets.at_most = 2;
    NestResult const two = nested(job, 5);
    check_sound(job, two);
    CHECK(two.used_mm.size() == 2);
    CHECK(two.placements.size() + two.unplaced.size() == 9);
    CHECK(two.unplaced.size() == 1);
}

TEST_CASE("Bad outlines and numbers are answered by one sentence") {
    NestJob job;
    job.sheets.width_mm = 100;
    auto const code_of = [&](Polygon outline) {
        job.shapes = {shape_of(std::move(outline), 1)};
        Outcome<NestResult> const result = first_nest(job);
        if (result.ok()) return std::string();
        CHECK(result.problem().sentence().find('\n') == std::string::npos);
        return result.problem().code;
    };
    CHECK(code_of({{{0, 0}, {50, 50}, {50, 0}, {0, 50}}, {}}) == "nest.outline"); // a bow tie
    CHECK(code_of({{{0, 0}, {50, 50}, {100, 100}}, {}}) == "nest.outline");       // no area
    CHECK(code_of({{{0, 0}, {50, 0}}, {}}) == "nest.outline");
    CHECK(code_of({{{0, 0}, {std::nan(""), 0}, {0, 50}}, {}}) == "nest.outline");
    CHECK(code_of(rectangle(50, 101)) == "nest.too-wide");
    CHECK(code_of({{{0, 0}, {0, 0}, {50, 0}, {50, 0}, {50, 50}, {0, 50}, {0, 0}}, {}}).empty()); // doubled points
    job.shapes = {shape_of(rectangle(50, 50), -1)};
    CHECK(first_nest(job).problem().code == "range");
    job.shapes = {shape_of(rectangle(50, 50), 1)};
    job.sheets.width_mm = -5;
    CHECK(first_nest(job).problem().code == "range");
}

TEST_CASE("An outline of 100,000 points is laid, and checked as it was given") {
    NestJob job;
    job.sheets.width_mm = 200;
    job.shapes = {shape_of(leaf_outline(120, 80, 100000), 3, {0, 180})};
    job.gap_mm = 1;
    NestResult const result = nested(job, 1);
    CHECK(nest_faults(job, result).empty());
    CHECK(result.placements.size() == 3);
}

TEST_CASE("A layout can be improved further from where it stands, and work can be called off") {
    NestJob const job = leaves_job(12);
    NestResult const begun = nested(job, 2);
    NestOptions options;
    options.rounds = 2;
    options.seed = 9;
    options.start = begun.placements;
    Outcome<NestResult> const further = nest(job, options);
    REQUIRE(further.ok());
    check_sound(job, *further);
    CHECK(further->length_mm <= begun.length_mm + 1e-9);

    Task task;
    int better = 0;
    double shortest = 1e300;
    options.rounds = 1000000;
    Outcome<NestResult> const stopped = nest(job, options, &task, [&](NestResult const& r) {
        CHECK(nest_faults(job, r).empty());
        CHECK(r.length_mm <= shortest + 1e-9);
        shortest = r.length_mm;
        if (++better >= 2) task.cancel();
    });
    REQUIRE(stopped.ok());
    CHECK(nest_faults(job, *stopped).empty());
}

TEST_CASE("Pieces that lie in the way of one put down by hand part from there, and the rest stays near") {
    NestJob job;
    job.shapes.push_back(shape_of(leaf_outline(40, 22, 24), 14, {0, 90, 180, 270}));
    job.sheets = {100, 0, 0};
    job.gap_mm = 1;
    NestOptions options;
    options.rounds = 12;
    NestResult const before = *nest(job, options);
    NestPose moved = before.placements.front().pose;
    moved.at_mm.x = std::max(21.0, moved.at_mm.x - 3); // a little off, into its neighbours
    job.shapes[0].pinned = {moved};
    options.start = before.placements;
    options.start[0].pose = moved;
    options.rounds = 2;
    NestResult held = before;
    held.placements = options.start;
    REQUIRE_FALSE(nest_faults(job, held).empty());
    auto const stayed = [&](NestResult const& after) {
        return std::count_if(after.placements.begin(), after.placements.end(), [&](NestPlacement const& p) {
            NestPose const& was = before.placements[static_cast<std::size_t>(p.copy)].pose;
            return glm::length(p.pose.at_mm - was.at_mm) < 10;
        });
    };
    NestResult const after = *nest(job, options);
    CHECK(nest_faults(job, after).empty());
    CHECK(glm::length(after.placements.front().pose.at_mm - moved.at_mm) < 1e-9);
    options.start.clear();
    NestResult const anew = *nest(job, options);
    CHECK(stayed(after) > stayed(anew));
}

TEST_CASE("The check finds what is wrong with a layout") {
    NestJob job;
    job.sheets.width_mm = 100;
    job.shapes = {shape_of(rectangle(40, 40), 2)};
    NestResult result;
    result.used_mm = {80};
    result.length_mm = 80;
    result.placements = {{0, 0, {0, 0, false, {0, 0}}}, {0, 1, {0, 0, false, {40, 0}}}};
    CHECK(nest_faults(job, result).empty());
    result.placements[1].pose.at_mm.x = 39.999;
    CHECK(nest_faults(job, result).size() == 1); // they overlap
    result.placements[1].pose.at_mm = {40, 61};
    CHECK(nest_faults(job, result).size() == 1); // leaves the sheet
    result.placements[1].pose = {0, 90, false, {80, 0}};
    CHECK(nest_faults(job, result).size() == 1); // turned
    result.placements.pop_back();
    CHECK(nest_faults(job, result).size() == 1); // one is missing
}
