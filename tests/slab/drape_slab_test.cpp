// The draped slab as the planner asks for it: the band, the figures, cuts, sheets too small, awkward formers.
#include "drape_samples.h"
#include "near.h"

#include <algorithm>

using namespace leafwright;

namespace {

SlabAnswer drape(FormerSpec const& former, SlabSpec const& spec = {}, DrapeOptions const& options = {}) {
    return *drape_slab(*Former::make(former), spec, options);
}

bool is_upright(SlabMap const& map) {
    return std::all_of(map.triangles.begin(), map.triangles.end(), [&](auto const& t) {
        auto const at = [&](std::size_t i) { return map.points[static_cast<std::size_t>(t[i])].flat_mm; };
        return cross(at(1) - at(0), at(2) - at(0)) > 0;
    });
}

FormerSpec free_former() {
    FormerSpec spec;
    spec.outline.kind = OutlineKind::free;
    spec.profile.crown_mm = 80;
    for (int i = 0; i < 24; ++i) {
        double const a = kTwoPi * i / 24, r = 150 + 30 * std::cos(3 * a) + 20 * std::sin(5 * a);
        spec.outline.points_mm.push_back({r * std::cos(a), r * std::sin(a)});
    }
    return spec;
}

SlabSpec with_cuts(std::vector<SlabCut> cuts) {
    SlabSpec spec;
    spec.cuts = std::move(cuts);
    return spec;
}

} // namespace

TEST_CASE("clay is neither made nor lost between flat and laid") {
    // Volume constancy of the incompressible sheet (Hill, Mathematical Theory of Plasticity, 1950): t = t0/(l1 l2).
    for (double crown : {60.0, 140.0}) {
        SlabAnswer const answer = drape(sample::oval_spec(crown));
        double clay = 0, laid = 0;
        for (auto const& t : answer.map->triangles) {
            auto const p = [&](std::size_t i) { return answer.map->points[static_cast<std::size_t>(t[i])]; };
            double const area = 0.5 * glm::length(glm::cross(p(1).laid_mm - p(0).laid_mm, p(2).laid_mm - p(0).laid_mm));
            clay += area * (p(0).thickness_mm + p(1).thickness_mm + p(2).thickness_mm) / 3;
            laid += area;
        }
        CHECK_REL(laid, answer.draped_mm2, 1e-3);
        CHECK_REL(clay, answer.shell_mm3, 2e-3);
        CHECK_REL(answer.thickness_mm.mean * answer.draped_mm2, answer.shell_mm3, 1e-12);
        CHECK_REL(answer.volume_mm3, answer.shell_mm3 + answer.trimmed_mm3, 1e-12);
        CHECK(answer.thickness_mm.least < answer.thickness_mm.mean);
        CHECK(answer.thickness_mm.mean < answer.thickness_mm.most);
    }
}

TEST_CASE("a slab that grips keeps its meridians: hoops sin t over t, thickness t over sin t") {
    // Geodesic polar coordinates (do Carmo); at 60 degrees a 10 mm slab is 12.09199576156 mm thick at the rim.
    SlabSpec spec;
    spec.thickness_mm = 10;
    spec.grip = 1;
    SlabAnswer const answer = drape(sample::cap_spec(250, radians(60)), spec);
    CHECK_REL(answer.thickness_mm.most, 12.09199576156, 5e-3);
    CHECK_REL(answer.stretch_least, 0.826993343133, 5e-3);
    CHECK_NEAR(answer.stretch_most, 1, 2e-3);
    double const s = 255 * radians(60);
    CHECK_REL(answer.sticking_mm2, kPi * s * s, 1e-6);
    CHECK_REL(answer.shell_mm3, 10 * kPi * s * s, 1e-4);
    for (SlabMapPoint const& p : answer.map->points) CHECK_NEAR(glm::length(p.flat_mm), p.spot.from_crown_mm, 1e-9);
}

TEST_CASE("the outline to cut holds both edges of the band, and the trim") {
    SlabSpec spec;
    spec.trim_allowance_mm = 12;
    for (double grip : {0.0, 0.4, 1.0}) {
        spec.grip = grip;
        SlabAnswer const answer = drape(sample::oval_spec(120), spec);
        CHECK(answer.sliding_mm2 < answer.sticking_mm2);
        CHECK(answer.sticking_mm2 < answer.flat_mm2);
        CHECK(answer.shell_mm3 >= answer.sliding_mm2 * spec.thickness_mm * (1 - 1e-9));
        CHECK(answer.shell_mm3 <= answer.sticking_mm2 * spec.thickness_mm * (1 + 1e-4));
        for (Ring const* edge : {&answer.sliding_mm, &answer.sticking_mm})
            CHECK(std::all_of(edge->begin(), edge->end(), [&](Vec2 const& p) {
                return contains(answer.outline_mm, p * (1 + 11 / glm::length(p)));
            }));
        CHECK_REL(answer.bounds_mm.x, bounds(answer.sticking_mm).size().x + 24, 1e-3);
    }
}

TEST_CASE("surplus and puckers are those of the model's study of an oval 120 mm high") {
    // Figures of the feasibility study of the same membrane on its own meshes: outline 241.7 x 206.1 mm, surplus 232 mm
    // beyond 5 %, 49 % of the area puckered; hoop strain there, principal strain here.
    SlabSpec spec;
    spec.thickness_mm = 3; // the study had no offset; the least slab comes nearest
    SlabAnswer const answer = drape(sample::oval_spec(120), spec);
    CHECK_REL(answer.surplus_rim_mm, 232, 0.08);
    CHECK_REL(answer.pucker_mm2 / answer.draped_mm2, 0.49, 0.05);
    CHECK(drape(sample::oval_spec(20)).surplus_rim_mm < 5);
}

TEST_CASE("a slab drawn beyond its limit is told, and where") {
    SlabSpec spec;
    spec.stretch_limit = 0.05;
    SlabAnswer const torn = drape(sample::oval_spec(180), spec);
    CHECK(torn.tears);
    CHECK(torn.stretch_most > 1.05);
    CHECK(torn.most_stretched.from_crown_mm > 0);
    spec.stretch_limit = 0.15;
    CHECK_FALSE(drape(sample::oval_spec(180), spec).tears);
}

TEST_CASE("a sheet too narrow leaves two segments bare") {
    // Circular segment: r^2 acos(d/r) - d sqrt(r^2 - d^2).
    FormerSpec flat;
    flat.outline = {OutlineKind::round, 400, 400, 0.5, 2, {}};
    flat.profile = {.kind = ProfileKind::saucer, .crown_mm = 4};
    SlabSpec spec;
    spec.sheet_width_mm = 300;
    SlabAnswer const answer = drape(flat, spec);
    double const r = std::sqrt(answer.sliding_mm2 / kPi), d = 150;
    CHECK(answer.too_wide);
    CHECK_REL(answer.uncovered_mm2, 2 * (r * r * std::acos(d / r) - d * std::sqrt(r * r - d * d)), 5e-3);
    CHECK_REL(answer.uncovered_mm, r - d, 1e-3);
    CHECK(drape(flat).uncovered_mm2 == 0);
}

TEST_CASE("cuts open into notches and take the pleats out") {
    SlabAnswer const plain = drape(sample::oval_spec(120));
    REQUIRE_FALSE(plain.proposed_cuts.empty());
    SlabAnswer const cut = drape(sample::oval_spec(120), with_cuts(plain.proposed_cuts));
    CHECK(cut.settled);
    CHECK(is_upright(*cut.map));
    CHECK(cut.pucker_mm2 < 0.5 * plain.pucker_mm2);
    CHECK(cut.surplus_rim_mm < 0.5 * plain.surplus_rim_mm);
    CHECK(cut.rms_stretch < plain.rms_stretch);
    CHECK(cut.proposed_cuts.empty());
    REQUIRE(cut.cuts.size() == plain.proposed_cuts.size());
    double notches = 0;
    for (SlabCutAnswer const& c : cut.cuts) {
        CHECK(c.opening_mm > 10);
        CHECK(signed_area(c.notch_mm) > 0);
        notches += c.opening_mm;
        double const along = std::remainder(degrees(std::atan2(c.tip_mm.y, c.tip_mm.x)) - c.cut.azimuth_deg, 360.0);
        CHECK_NEAR(along, 0, 3);
    }
    CHECK(notches > plain.surplus_rim_mm); // cuts take out what puckered, and what was packed beside it
    CHECK(is_simple(cut.sliding_mm));
}

TEST_CASE("proposed cuts are alike where the former is, and flatter formers need none") {
    CHECK(drape(sample::oval_spec(40)).proposed_cuts.empty());
    CHECK(drape(sample::oval_spec(40)).ways.empty());
    for (double crown : {110.0, 180.0}) {
        FormerSpec const spec = sample::oval_spec(crown);
        std::vector<SlabCut> const cuts = propose_cuts(*Former::make(spec), {});
        REQUIRE(cuts.size() >= 4);
        CHECK(mirrors_of(spec, cuts) == Mirrors::both);
        CHECK_FALSE(check_slab(with_cuts(cuts)));
    }
    FormerSpec egg = sample::oval_spec(130);
    egg.outline.kind = OutlineKind::egg;
    egg.outline.upper_share = 0.4;
    CHECK(mirrors_of(egg, propose_cuts(*Former::make(egg), {})) == Mirrors::upright);
}

TEST_CASE("a deep former is clothed more truly by cuts or halves, at the price of clay") {
    SlabAnswer const answer = drape(sample::oval_spec(180));
    REQUIRE(answer.ways.size() == 3);
    SlabWay const &one = answer.ways[0], &cut = answer.ways[1], &halves = answer.ways[2];
    CHECK(one.kind == SlabWay::Kind::one_slab);
    CHECK(cut.kind == SlabWay::Kind::with_cuts);
    CHECK(halves.kind == SlabWay::Kind::two_halves);
    CHECK_REL(one.rms_stretch, answer.rms_stretch, 0.02);
    CHECK(cut.rms_stretch < 0.5 * one.rms_stretch);
    CHECK(halves.rms_stretch < 0.5 * one.rms_stretch);
    CHECK(one.waste_mm2 < cut.waste_mm2);
    CHECK(cut.pucker_mm2 < one.pucker_mm2);
}

TEST_CASE("cuts on mirrors and beside them give what the whole slab gives") {
    DrapeOptions whole;
    whole.triangles = 5400;
    DrapeOptions part = whole;
    whole.use_mirrors = false;
    whole.tolerance = part.tolerance = 1e-12;
    std::vector<SlabCut> const cuts{{0, 70}, {180, 70}, {60, 50}, {120, 50}, {-60, 50}, {-120, 50}};
    SlabAnswer const a = drape(sample::oval_spec(120), with_cuts(cuts), whole);
    SlabAnswer const b = drape(sample::oval_spec(120), with_cuts(cuts), part);
    CHECK_REL(a.sliding_mm2, b.sliding_mm2, 1e-6);
    CHECK_REL(a.rms_stretch, b.rms_stretch, 1e-4);
    for (std::size_t i = 0; i < cuts.size(); ++i) {
        CHECK_NEAR(a.cuts[i].opening_mm, b.cuts[i].opening_mm, 1e-2);
        CHECK_NEAR(glm::distance(a.cuts[i].tip_mm, b.cuts[i].tip_mm), 0, 2e-2);
    }
    CHECK_NEAR(a.cuts[0].opening_mm, a.cuts[1].opening_mm, 1e-2);
}

TEST_CASE("awkward formers come to rest with no triangle turned over, or say why not") {
    std::vector<FormerSpec> formers;
    for (double crown : {3.0, 5.0, 300.0}) formers.push_back(sample::oval_spec(crown));
    FormerSpec spec = sample::oval_spec(70);
    spec.profile.fullness = 8; // steep rim, flat top
    formers.push_back(spec);
    spec.outline.kind = OutlineKind::rounded;
    spec.outline.squareness = 8;
    formers.push_back(spec);
    spec = sample::oval_spec(90);
    spec.outline.kind = OutlineKind::egg;
    spec.outline.upper_share = 0.25;
    formers.push_back(spec);
    spec = sample::oval_spec(80);
    spec.profile.kind = ProfileKind::full;
    spec.profile.fullness = 4;
    formers.push_back(spec);
    spec = sample::oval_spec(500); // a tube
    spec.outline.width_mm = 80, spec.outline.height_mm = 100;
    formers.push_back(spec);
    spec = sample::oval_spec(60);
    spec.outline.width_mm = 100, spec.outline.height_mm = 600;
    formers.push_back(spec);
    formers.push_back(free_former());
    DrapeOptions options;
    options.triangles = 5400;
    options.propose = false;
    for (FormerSpec const& former : formers) {
        SlabAnswer const answer = drape(former, {}, options);
        CAPTURE(former.profile.crown_mm);
        CHECK(answer.settled == answer.why_not.empty());
        CHECK(answer.settled);
        CHECK(is_upright(*answer.map));
        CHECK(std::isfinite(answer.rms_stretch));
        CHECK(answer.flat_mm2 > answer.sliding_mm2);
    }
}

TEST_CASE("an opening cut first leaves less slab, and lets the rest move") {
    DrapeOptions options;
    options.triangles = 5400;
    options.propose = false;
    SlabAnswer const whole = drape(sample::oval_spec(90), {}, options);
    std::vector<Spot> ring;
    for (int i = 0; i < 60; ++i) ring.push_back({kTwoPi * i / 60, 50});
    options.openings = {ring};
    SlabAnswer const open = drape(sample::oval_spec(90), {}, options);
    CHECK(open.settled);
    CHECK(is_upright(*open.map));
    CHECK(open.draped_mm2 < whole.draped_mm2 - 0.9 * kPi * 2500);
    CHECK(open.rms_stretch != whole.rms_stretch);
    CHECK_NEAR(glm::length(centroid(open.sliding_mm)), 0, 0.1);
}

TEST_CASE("the fine answer does not depend on what was asked before") {
    DrapeEngine engine;
    Task task;
    Former const oval = *Former::make(sample::oval_spec(100)), deep = *Former::make(sample::oval_spec(160));
    DrapeOptions options;
    options.triangles = 5400;
    SlabAnswer const fresh = *engine.drape(oval, {}, options, task);
    (void)engine.drape(deep, with_cuts({{0, 80}, {180, 80}}), options, task);
    (void)engine.preview(deep, {});
    SlabAnswer const again = *engine.drape(oval, {}, options, task);
    CHECK(again.sliding_mm == fresh.sliding_mm);
    CHECK(again.rms_stretch == fresh.rms_stretch);
    CHECK(again.steps == fresh.steps);
    CHECK(task.progress() == 1);
}

TEST_CASE("a preview follows the slider near the fine answer") {
    DrapeEngine engine;
    for (double crown = 80; crown <= 100; crown += 4) {
        Former const former = *Former::make(sample::oval_spec(crown));
        SlabAnswer const rough = *engine.preview(former, {}), fine = *drape_slab(former, {});
        CHECK(rough.settled);
        CHECK_REL(rough.sliding_mm2, fine.sliding_mm2, 5e-3);
        CHECK_REL(rough.stretch_most, fine.stretch_most, 5e-3);
    }
}

TEST_CASE("a drape that is cancelled gives no half answer") {
    Task task;
    task.cancel();
    auto const answer = DrapeEngine().drape(*Former::make(sample::oval_spec(90)), {}, {}, task);
    REQUIRE_FALSE(answer);
    CHECK(answer.problem().code == "cancelled");
}

TEST_CASE("grip, limit and cuts out of range are refused by name") {
    SlabSpec spec;
    spec.grip = 1.1;
    CHECK(check_slab(spec)->where == "slab.grip");
    spec = {};
    spec.stretch_limit = 0;
    CHECK(check_slab(spec)->where == "slab.stretch_limit");
    CHECK(check_slab(with_cuts({{0, 4}}))->where == "slab.cuts[0].length_mm");
    CHECK(check_slab(with_cuts({{0, 60}, {3, 60}}))->code == "slab.cuts");
    CHECK(check_slab(with_cuts({{359, 60}, {1, 60}}))->where == "slab.cuts[1]");
    CHECK_FALSE(check_slab(with_cuts({{0, 60}, {5, 60}})));
    CHECK(check_slab(with_cuts(std::vector<SlabCut>(25)))->code == "slab.cuts");
}
