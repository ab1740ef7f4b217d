// Every outline with every profile, at sizes that strain the surface.
#include "base/units.h"
#include "formers.h"
#include "near.h"

#include <cmath>

using namespace leafwright;

namespace {

struct Awkward {
    char const* why;
    double width, height, crown, fullness, squareness, upper_share;
};

constexpr Awkward kAwkward[] = {
    {"an everyday piece", 300, 400, 90, 2.2, 3, 0.45}, {"hardly raised at all", 300, 400, 5, 2, 2.5, 0.5},
    {"deeper than wide", 200, 260, 500, 2, 2, 0.5},    {"square in plan and section", 300, 300, 80, 8, 8, 0.2},
    {"pointed crown", 300, 400, 90, 1.5, 4, 0.8},      {"the smallest", 40, 40, 18, 2, 2.4, 0.5},
    {"the largest", 1200, 1200, 300, 2.5, 5, 0.3},     {"four times as high as wide", 100, 400, 25, 2, 2, 0.5},
};

std::vector<Vec2> lobed(double width, double height) {
    std::vector<Vec2> points;
    for (int i = 0; i < 16; ++i) {
        double const t = kTwoPi * i / 16, r = 0.45 + 0.05 * std::cos(4 * t);
        points.push_back({r * width * std::cos(t), r * height * std::sin(t)});
    }
    return points;
}

FormerSpec spec_of(Awkward const& a, OutlineKind outline, ProfileKind profile) {
    FormerSpec spec = oval_dome_spec(a.width, a.height, a.crown);
    spec.outline.kind = outline;
    spec.outline.squareness = a.squareness;
    spec.outline.upper_share = a.upper_share;
    if (outline == OutlineKind::free) spec.outline.points_mm = lobed(std::max(a.width, 50.0), std::max(a.height, 50.0));
    spec.profile.fullness = a.fullness;
    if (profile == ProfileKind::tape) {
        FormerMeasures const dome = Former::make(spec)->measures();
        spec.profile.tape_across_mm = dome.tape_across_mm;
        spec.profile.tape_along_mm = 1.002 * dome.tape_along_mm;
    }
    spec.profile.kind = profile;
    if (profile == ProfileKind::saucer) spec.profile.crown_mm = std::min(a.crown, 0.15 * std::min(a.width, a.height));
    return spec;
}

int count_unsound(ClaySurface const& surface) {
    int unsound = 0;
    Ring disc;
    for (int i = 0; i < 24; ++i) disc.push_back(8.0 * Vec2(std::cos(kTwoPi * i / 24), std::sin(kTwoPi * i / 24)));
    std::vector<LaidPoint> laid(disc.size());
    for (double azimuth = 0; azimuth < 6.28; azimuth += 0.19)
        for (double share : {0.0, 0.01, 0.4, 0.8, 1.0, 1.1}) {
            surface.lay({azimuth, share * surface.rim_from_crown_mm(azimuth)}, azimuth, disc, laid);
            Ring ring;
            for (LaidPoint const& p : laid) {
                bool const sound = is_finite(p.chart) && is_finite(p.position) && is_finite(p.normal) &&
                                   std::abs(glm::length(p.normal) - 1) < 1e-9;
                unsound += !sound;
                ring.push_back(p.chart);
            }
            double const share_kept = signed_area(ring) / signed_area(disc);
            unsound += !(share_kept > 0.5 && share_kept < 2);
        }
    return unsound;
}

} // namespace

TEST_CASE("every outline with every profile gives a sound surface, however awkward") {
    int built = 0;
    for (Awkward const& a : kAwkward)
        for (OutlineKind outline :
             {OutlineKind::round, OutlineKind::oval, OutlineKind::egg, OutlineKind::rounded, OutlineKind::free})
            for (ProfileKind profile : {ProfileKind::dome, ProfileKind::saucer, ProfileKind::full, ProfileKind::tape}) {
                // Each pair of outline and profile at the everyday size; a third of them at each strained size.
                bool const everyday = &a == kAwkward;
                auto const turn = (&a - kAwkward) + static_cast<int>(outline) + static_cast<int>(profile);
                if (!everyday && turn % 3 != 0) continue;
                FormerSpec const spec = spec_of(a, outline, profile);
                Outcome<Former> const former = Former::make(spec);
                INFO(std::string(a.why), ", outline ", static_cast<int>(outline), ", profile ",
                     static_cast<int>(profile));
                REQUIRE_MESSAGE(former.ok(), (former.ok() ? "" : former.problem().sentence()));
                FormerMeasures const m = former->measures();
                CHECK(m.surface_mm2 > m.plan_mm2);
                CHECK(m.volume_mm3 > 0.3 * m.plan_mm2 * spec.profile.crown_mm);
                CHECK(m.volume_mm3 < m.plan_mm2 * spec.profile.crown_mm);
                ClaySurface const surface = ClaySurface::make(*former, {.offset_mm = 8});
                CHECK(surface.area_mm2() > m.surface_mm2);
                CHECK(count_unsound(surface) == 0);
                ++built;
            }
    CHECK(built > 60);
}

TEST_CASE("a hollow of the outline narrower than the slab is bridged") {
    FormerSpec spec = oval_dome_spec(300, 300, 80);
    spec.outline.kind = OutlineKind::free;
    for (int i = 0; i < 40; ++i) {
        double const t = kTwoPi * i / 40, notch = i == 10 ? 18 : 0;
        spec.outline.points_mm.push_back((150 - notch) * Vec2(std::cos(t), std::sin(t)));
    }
    Outcome<Former> const former = Former::make(spec);
    REQUIRE(former);
    double before = former->measures().surface_mm2;
    for (double offset : {4.0, 8.0, 15.0, 25.0}) {
        ClaySurface const surface = ClaySurface::make(*former, {.offset_mm = offset});
        CHECK(surface.area_mm2() > before);
        before = surface.area_mm2();
        CHECK(count_unsound(surface) == 0);
    }
}

TEST_CASE("the surface is the same, bit for bit, each time it is made") {
    Former const former = oval_dome(300, 400, 120);
    ClaySurface const one = ClaySurface::make(former, {.offset_mm = 8}),
                      two = ClaySurface::make(former, {.offset_mm = 8});
    CHECK(one.area_mm2() == two.area_mm2());
    Ring local;
    for (int i = 0; i < 50; ++i) local.push_back({i * 0.7 - 17, i * 1.1 - 30});
    std::vector<LaidPoint> a(50), b(50);
    one.lay({1, 120}, 0.3, local, a);
    two.lay({1, 120}, 0.3, local, b);
    for (std::size_t i = 0; i < 50; ++i) CHECK((a[i].chart == b[i].chart && a[i].position == b[i].position));
}
