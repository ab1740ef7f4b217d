#include "slab/slab_ways.h"

#include "base/units.h"
#include "slab/drape.h"
#include "slab/drape_ladder.h"
#include "slab/drape_region.h"
#include "slab/drape_survey.h"
#include "slab/flat_outline.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr int kCoarse = 1350, kFair = 5400; // triangles
constexpr int kRays = 360;
constexpr double kLongestCut_mm = 600; // as files hold

struct Solved {
    DrapeMesh mesh; // whole
    std::vector<Vec2> flat;
    DrapeSurvey survey;
};

Solved solve_whole(MeridianTable const& middle, FormerSpec const& former, std::vector<SlabCut> const& cuts,
                   int triangles) {
    DrapeDomain const domain = drape_domain(middle, mirrors_of(former, cuts), cuts);
    LadderOptions options;
    options.rings = rings_for(domain.whole, triangles);
    Task task;
    LadderResult const part = DrapeLadder().solve(middle, domain.part, options, task);
    Solved solved{make_drape_mesh(middle, domain.whole, options.rings), {}, {}};
    solved.flat = mirror_out(solved.mesh, part.mesh, domain.mirrors, part.solve.flat);
    solved.survey = survey_drape(solved.mesh, Membrane(solved.mesh, options.law), solved.flat, 1);
    return solved;
}

// Where pleats begin on each ray (share of the meridian, 1: nowhere) and how much they take up, from the map's points.
struct PleatProfile {
    std::vector<double> begin = std::vector<double>(kRays, 1.0), weight = std::vector<double>(kRays, 0.0);
};

PleatProfile pleats_of(DrapeSurvey const& survey) {
    PleatProfile profile;
    for (SlabMapPoint const& p : survey.map.points) {
        if (p.pucker <= 0) continue;
        long const ray = std::lround(p.spot.azimuth_rad * (kRays / kTwoPi)) + kRays;
        auto const i = static_cast<std::size_t>(ray % kRays);
        profile.begin[i] = std::min(profile.begin[i], p.rim_share);
        profile.weight[i] += p.pucker * p.spot.from_crown_mm;
    }
    return profile;
}

// Alike on both sides, as the former is: what differs is the mesh's doing.
void even_out(PleatProfile& profile, Mirrors mirrors) {
    auto const fold = [&](auto const& image) {
        PleatProfile const old = profile;
        for (int i = 0; i < kRays; ++i) {
            auto const a = static_cast<std::size_t>(i), b = static_cast<std::size_t>((image(i) + 2 * kRays) % kRays);
            profile.begin[a] = std::min(old.begin[a], old.begin[b]);
            profile.weight[a] = old.weight[a] + old.weight[b];
        }
    };
    if (mirrors != Mirrors::none) fold([](int i) { return kRays / 2 - i; });
    if (mirrors == Mirrors::both) fold([](int i) { return -i; });
}

// Azimuths that share the surplus evenly, the first half a share on from the bottom.
std::vector<double> even_azimuths(PleatProfile const& profile, int count) {
    std::vector<double> running{0};
    constexpr int kBottom = 3 * kRays / 4;
    double const total = [&] {
        double sum = 0;
        for (double w : profile.weight) sum += w;
        return sum;
    }();
    // Half evenly round, half by the pleats: no side goes without.
    for (int i = 0; i < kRays; ++i) {
        double const w = 0.5 * (profile.weight[static_cast<std::size_t>((kBottom + i) % kRays)] +
                                profile.weight[static_cast<std::size_t>((kBottom + i + 1) % kRays)]);
        running.push_back(running.back() + 0.5 * w / total + 0.5 / kRays);
    }
    std::vector<double> azimuths;
    for (int n = 0; n < count; ++n) {
        double const share = (n + 0.5) / count;
        auto const i =
            static_cast<std::size_t>(std::lower_bound(running.begin() + 1, running.end() - 1, share) - running.begin());
        double const part = (share - running[i - 1]) / (running[i] - running[i - 1]);
        azimuths.push_back(-90 + (static_cast<double>(i) - 1 + part) * 360.0 / kRays);
    }
    return azimuths;
}

// Mirror images made exact: files hold what is written, and likeness saves three quarters of the work.
void make_alike(std::vector<double>& azimuths, Mirrors mirrors) {
    auto const rounded = [](double a) { return std::round(10 * a) / 10; };
    auto const n = azimuths.size();
    for (double& a : azimuths) a = rounded(a);
    if (mirrors == Mirrors::none) return;
    for (std::size_t i = 0; i < n / 2; ++i) azimuths[n - 1 - i] = 180 - azimuths[i];
    if (n % 2 == 1) azimuths[n / 2] = 90;
    if (mirrors != Mirrors::both) return;
    for (std::size_t i = 0; i < n / 4; ++i) azimuths[n / 2 - 1 - i] = -azimuths[i];
    if (n / 2 % 2 == 1) azimuths[n / 4] = 0;
    for (std::size_t i = 0; i < n / 2; ++i) azimuths[n - 1 - i] = 180 - azimuths[i];
}

std::vector<SlabCut> cuts_at(MeridianTable const& middle, PleatProfile const& profile, int count, double deeper,
                             Mirrors mirrors) {
    std::vector<double> azimuths = even_azimuths(profile, count);
    make_alike(azimuths, mirrors);
    std::vector<SlabCut> cuts;
    for (double azimuth : azimuths) {
        double begin = 1;
        long const ray = std::lround(azimuth * kRays / 360.0) + 2 * kRays;
        for (long k = -6; k <= 6; ++k)
            begin = std::min(begin, profile.begin[static_cast<std::size_t>((ray + k) % kRays)]);
        double const share = std::max(0.25, deeper * begin);
        if (begin >= 1) continue;
        cuts.push_back({std::remainder(azimuth, 360.0),
                        std::min(kLongestCut_mm, std::round((1 - share) * middle.rim_mm(radians(azimuth))))});
    }
    return cuts;
}

double pucker_share(DrapeSurvey const& survey) { return survey.pucker_mm2 / survey.laid_mm2; }

double rectangle_mm2(Ring const& outline) {
    Vec2 const size = bounds(outline).size();
    return size.x * size.y;
}

SlabWay way_of(Solved const& solved, SlabSpec const& spec, std::vector<SlabCut> const& cuts) {
    SlabWay way;
    way.kind = cuts.empty() ? SlabWay::Kind::one_slab : SlabWay::Kind::with_cuts;
    way.cuts = cuts;
    way.rms_stretch = solved.survey.rms_stretch;
    way.pucker_mm2 = solved.survey.pucker_mm2;
    way.surplus_rim_mm = solved.survey.surplus_rim_mm;
    way.flat_mm2 = solved.survey.flat_mm2;
    Ring const rim = rim_without_notches(solved.mesh, solved.flat);
    way.waste_mm2 = rectangle_mm2(outline_to_cut(rim, rim, spec.trim_allowance_mm)) - way.flat_mm2;
    return way;
}

// One half, or half of it beside its mirror; `copies` of it make the piece, each pair or one from one rectangle.
void add_half(MeridianTable const& middle, SlabSpec const& spec, double line, bool mirrored, double copies,
              SlabWay& way) {
    LadderOptions options;
    DrapeRegion const region = half_region(line, mirrored);
    options.rings = rings_for(drape_domain(middle, Mirrors::none, {}).whole, kFair);
    Task task;
    LadderResult const part = DrapeLadder().solve(middle, region, options, task);
    DrapeSurvey const survey = survey_drape(part.mesh, Membrane(part.mesh, options.law), part.solve.flat, 1);
    way.rms_stretch += copies * survey.laid_mm2 * survey.rms_stretch * survey.rms_stretch;
    way.pucker_mm2 += copies * survey.pucker_mm2;
    way.surplus_rim_mm += copies * survey.surplus_rim_mm;
    way.flat_mm2 += copies * survey.flat_mm2;
    // The cut edge and the rim both get the trim allowance.
    Vec2 const along(std::cos(line), std::sin(line)), across(-along.y, along.x);
    Box2 box;
    for (Vec2 const& p : part.solve.flat) {
        box.add({glm::dot(p, along), glm::dot(p, across)});
        if (mirrored) box.add({-glm::dot(p, along), glm::dot(p, across)});
    }
    Vec2 const size = box.size() + 2 * spec.trim_allowance_mm;
    way.waste_mm2 += (mirrored ? 0.5 : 1.0) * copies * size.x * size.y;
}

SlabWay halves_along(MeridianTable const& middle, FormerSpec const& former, SlabSpec const& spec, double line) {
    SlabWay way;
    way.kind = SlabWay::Kind::two_halves;
    bool const upright = std::abs(std::cos(line)) < 0.5;
    Mirrors const mirrors = mirrors_of(former, {});
    if (mirrors == Mirrors::both)
        add_half(middle, spec, line, true, 4, way);
    else if (mirrors == Mirrors::upright && upright)
        add_half(middle, spec, line, false, 2, way);
    else
        for (double side : {0.0, kPi}) {
            bool const mirrored = mirrors == Mirrors::upright;
            add_half(middle, spec, line + side, mirrored, mirrored ? 2 : 1, way);
        }
    way.rms_stretch = std::sqrt(way.rms_stretch / middle.area_mm2());
    way.waste_mm2 -= way.flat_mm2;
    return way;
}

} // namespace

std::vector<SlabCut> propose_cuts_on(MeridianTable const& middle, FormerSpec const& former) {
    Solved const plain = solve_whole(middle, former, {}, kCoarse);
    double best = pucker_share(plain.survey);
    std::vector<SlabCut> proposed;
    if (best <= kPuckerTaken) return proposed;
    Mirrors const mirrors = mirrors_of(former, {});
    PleatProfile profile = pleats_of(plain.survey);
    even_out(profile, mirrors);
    for (int count : {4, 6, 8, 10, 12})
        for (double deeper : {0.9, 0.7}) {
            std::vector<SlabCut> const cuts = cuts_at(middle, profile, count, deeper, mirrors);
            if (check_slab({.cuts = cuts})) continue;
            double const share = pucker_share(solve_whole(middle, former, cuts, kCoarse).survey);
            if (share < best) best = share, proposed = cuts;
            if (best <= kPuckerTaken) return proposed;
        }
    return proposed;
}

std::vector<SlabWay> compare_ways_on(MeridianTable const& middle, FormerSpec const& former, SlabSpec const& spec,
                                     std::vector<SlabCut> const& cuts) {
    std::vector<SlabWay> ways{way_of(solve_whole(middle, former, {}, kFair), spec, {})};
    if (!cuts.empty()) ways.push_back(way_of(solve_whole(middle, former, cuts, kFair), spec, cuts));
    SlabWay const across = halves_along(middle, former, spec, 0), upright = halves_along(middle, former, spec, kPi / 2);
    ways.push_back(across.rms_stretch <= upright.rms_stretch ? across : upright);
    return ways;
}

} // namespace leafwright
