#include "slab/slab.h"

#include "base/units.h"
#include "near.h"

#include <cmath>
#include <limits>

using namespace leafwright;

namespace {

// A spherical cap whose middle surface (offset half the slab) is again a sphere's cap up to the same angle.
Former cap(double rim_radius, double rise) {
    FormerSpec spec;
    spec.outline.kind = OutlineKind::round;
    spec.outline.width_mm = 2 * rim_radius;
    spec.profile = {.kind = ProfileKind::saucer, .crown_mm = rise};
    return *Former::make(spec);
}

Former oval(double crown_mm) {
    FormerSpec spec;
    spec.outline.width_mm = 300;
    spec.outline.height_mm = 400;
    spec.profile.crown_mm = crown_mm;
    return *Former::make(spec);
}

} // namespace

TEST_CASE("a slab over a spherical cap is a flat disc whose radius is the arc") {
    // Cap R = (a^2+h^2)/(2h), half angle t, arc s = R t: any mensuration handbook. The middle surface lies 4 mm out.
    double const a = 200, h = 60, big = (a * a + h * h) / (2 * h), t = std::acos(1 - h / big);
    CHECK_NEAR(t, 0.5829135889557, 1e-12);
    double const s = (big + 4) * t;
    SlabAnswer const answer = *unroll_slab(cap(a, h), {.thickness_mm = 8, .trim_allowance_mm = 0});
    CHECK_REL(answer.flat_mm2, kPi * s * s, 1e-6);
    CHECK_REL(answer.draped_mm2, kTwoPi * (big + 4) * (big + 4) * (1 - std::cos(t)), 1e-6);
    CHECK_REL(answer.draped_mm2 / answer.flat_mm2, 0.972003084950, 1e-6); // cap over disc: 2(1 - cos t)/t^2
    CHECK_REL(std::abs(signed_area(answer.outline_mm)), answer.flat_mm2, 1e-12);
    CHECK_REL(answer.bounds_mm.x, 2 * s, 1e-5);
    CHECK_REL(answer.volume_mm3, 8 * kPi * s * s, 1e-6);
    CHECK_NEAR(answer.trimmed_mm3, 0, 1e-6);
}

TEST_CASE("the trim allowance is a band round the disc and is all that is trimmed off") {
    SlabAnswer const bare = *unroll_slab(cap(150, 50), {.thickness_mm = 6, .trim_allowance_mm = 0});
    SlabAnswer const wide = *unroll_slab(cap(150, 50), {.thickness_mm = 6, .trim_allowance_mm = 25});
    double const r = std::sqrt(bare.flat_mm2 / kPi);
    CHECK_REL(wide.flat_mm2, kPi * (r + 25) * (r + 25), 1e-9);
    CHECK_REL(wide.shell_mm3, bare.volume_mm3, 1e-12);
    CHECK_REL(wide.trimmed_mm3, 6 * (wide.flat_mm2 - bare.flat_mm2), 1e-12);
}

TEST_CASE("on a sphere the hoops shrink by sin t over t and the slab thickens by t over sin t") {
    // Geodesic polar coordinates (do Carmo, Differential Geometry); printed values at whole angles.
    struct Row {
        double degrees, hoop, area_ratio;
    };
    for (Row const row : {Row{15, 0.988615929465, 0.994301456264}, Row{30, 0.954929658551, 0.977361455993},
                          Row{45, 0.900316316157, 0.949641203552}, Row{60, 0.826993343133, 0.911890652781},
                          Row{75, 0.737912975587, 0.865121260532}, Row{90, 0.636619772368, 0.810569469139}}) {
        double const big = 250, t = radians(row.degrees);
        Former const former = cap(big * std::sin(t), big * (1 - std::cos(t)));
        SlabAnswer const answer = *unroll_slab(former, {.thickness_mm = 10, .trim_allowance_mm = 10});
        CHECK_REL(answer.stretch_least, row.hoop, 1e-6);
        CHECK_REL(answer.thickness_mm.most, 10 / row.hoop, 1e-6);
        CHECK_REL(answer.thickness_mm.mean, 10 / row.area_ratio, 1e-6);
        CHECK_REL(answer.thickness_mm.least, 10, 1e-9);
        CHECK_REL(answer.stretch_most, 1, 1e-9);
    }
    // 60 degrees: the printed thickness of a 10 mm slab is 12.09199576156.
    Former const former = cap(250 * std::sin(radians(60)), 125);
    CHECK_REL(unroll_slab(former, {.thickness_mm = 10})->thickness_mm.most, 12.09199576156, 1e-6);
}

TEST_CASE("the puckered band of a sphere begins where sin t over t is exp(-0.05)") {
    double low = 0.1, high = 1.5; // the root by bisection
    for (int i = 0; i < 60; ++i) {
        double const t = 0.5 * (low + high);
        (std::log(std::sin(t) / t) > -0.05 ? low : high) = t;
    }
    double const big = 200 + 4;
    SlabAnswer const answer = *unroll_slab(cap(200, 200), {.thickness_mm = 8});
    CHECK_REL(answer.pucker_mm2, kTwoPi * big * big * std::cos(low), 1e-3);
    CHECK(unroll_slab(cap(200, 10), {.thickness_mm = 8})->pucker_mm2 == 0);
}

TEST_CASE("an oval slab keeps its clay and is puckered more the higher the crown") {
    double pucker = -1, thickest = 0;
    for (double crown : {40.0, 80.0, 120.0, 180.0}) {
        SlabAnswer const answer = *unroll_slab(oval(crown), {.thickness_mm = 7, .trim_allowance_mm = 12});
        CHECK(answer.pucker_mm2 > pucker);
        CHECK(answer.thickness_mm.most > thickest);
        CHECK_REL(answer.thickness_mm.mean * answer.draped_mm2 + answer.trimmed_mm3, answer.volume_mm3, 1e-12);
        CHECK(answer.bounds_mm.y > answer.bounds_mm.x);
        CHECK(answer.stretch_least < 1);
        CHECK(answer.stretch_most >= 1);
        pucker = answer.pucker_mm2;
        thickest = answer.thickness_mm.most;
    }
}

TEST_CASE("a slab wider than the sheet in every direction is refused, turned ones included") {
    SlabSpec spec{.thickness_mm = 8, .trim_allowance_mm = 10, .sheet_width_mm = 450};
    SlabAnswer const answer = *unroll_slab(oval(120), spec);
    double const narrowest = answer.bounds_mm.x;
    spec.sheet_width_mm = narrowest - 1;
    SlabAnswer const refused = *unroll_slab(oval(120), spec);
    REQUIRE(refused.too_wide);
    CHECK(refused.too_wide->code == "slab.too-wide");
    CHECK(refused.too_wide->kind == ProblemKind::refusal);
    CHECK(refused.too_wide->where == "slab.sheet_width_mm");
    spec.sheet_width_mm = narrowest + 1;
    CHECK_FALSE(unroll_slab(oval(120), spec)->too_wide);

    // A slender free outline that leans at 45 degrees goes through its own narrow way.
    FormerSpec leaning;
    leaning.outline.kind = OutlineKind::free;
    for (int i = 0; i < 24; ++i) {
        double const angle = kTwoPi * i / 24, x = 250 * std::cos(angle), y = 100 * std::sin(angle);
        leaning.outline.points_mm.push_back({(x - y) * std::sqrt(0.5), (x + y) * std::sqrt(0.5)});
    }
    leaning.profile.crown_mm = 40;
    SlabAnswer const slender =
        *unroll_slab(*Former::make(leaning), {.thickness_mm = 5, .trim_allowance_mm = 0, .sheet_width_mm = 300});
    CHECK(slender.bounds_mm.x > 350);
    CHECK_FALSE(slender.too_wide);
}

TEST_CASE("numbers out of range are refused by name") {
    Former const former = oval(90);
    double const nan = std::numeric_limits<double>::quiet_NaN();
    for (double bad : {2.0, 26.0, nan})
        CHECK(unroll_slab(former, {.thickness_mm = bad}).problem().where == "slab.thickness_mm");
    for (double bad : {-1.0, 61.0, nan})
        CHECK(unroll_slab(former, {.trim_allowance_mm = bad}).problem().where == "slab.trim_allowance_mm");
    for (double bad : {99.0, 1501.0, nan})
        CHECK(unroll_slab(former, {.sheet_width_mm = bad}).problem().where == "slab.sheet_width_mm");
    CHECK(unroll_slab(former, {.thickness_mm = nan}).problem().code == "range");
}
