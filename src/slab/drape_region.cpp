#include "slab/drape_region.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kSameAngle_deg = 0.02;
constexpr double kSameLength_mm = 0.05;
constexpr double kNearSpoke = kPi / 8; // a spoke this near to a cut is left to it
constexpr double kDeepestCut = 0.05;   // a cut ends short of the crown by this share of the meridian

double apart_deg(double a, double b) { return std::abs(std::remainder(a - b, 360.0)); }

bool alike(std::span<SlabCut const> cuts, auto const& mirrored) {
    return std::all_of(cuts.begin(), cuts.end(), [&](SlabCut const& cut) {
        return std::any_of(cuts.begin(), cuts.end(), [&](SlabCut const& other) {
            return apart_deg(mirrored(cut.azimuth_deg), other.azimuth_deg) < kSameAngle_deg &&
                   std::abs(cut.length_mm - other.length_mm) < kSameLength_mm;
        });
    });
}

double span_of(Mirrors mirrors) {
    return mirrors == Mirrors::both ? kPi / 2 : (mirrors == Mirrors::upright ? kPi : kTwoPi);
}

void put_spoke(std::vector<Spoke>& spokes, Spoke const& spoke, double near) {
    for (Spoke& old : spokes)
        if (std::abs(old.azimuth_rad - spoke.azimuth_rad) < near) {
            old.tip_share = std::min(old.tip_share, spoke.tip_share);
            return;
        }
    spokes.push_back(spoke);
}

std::vector<Spoke> part_spokes(MeridianTable const& middle, double span, std::span<SlabCut const> cuts) {
    constexpr double kFrom = -kPi / 2;
    double const same = radians(kSameAngle_deg);
    std::vector<Spoke> spokes;
    int const quarters = static_cast<int>(std::lround(span / (kPi / 2)));
    for (int i = 0; i <= quarters; ++i) spokes.push_back({kFrom + i * kPi / 2, 1});
    for (SlabCut const& cut : cuts) {
        double around = radians(cut.azimuth_deg) - kFrom;
        around -= kTwoPi * std::floor(around / kTwoPi + 1e-9);
        if (around > span + same) continue;
        double const azimuth = kFrom + std::max(0.0, around), rim = middle.rim_mm(azimuth);
        put_spoke(spokes, {azimuth, std::clamp(1 - cut.length_mm / rim, kDeepestCut, 1.0)}, same);
    }
    if (span == kTwoPi) spokes[static_cast<std::size_t>(quarters)].tip_share = spokes[0].tip_share;
    for (int i = 0; i < quarters; ++i) put_spoke(spokes, {kFrom + (i + 0.5) * kPi / 2, 1}, kNearSpoke);
    std::sort(spokes.begin(), spokes.end(),
              [](Spoke const& a, Spoke const& b) { return a.azimuth_rad < b.azimuth_rad; });
    return spokes;
}

// Spokes of the mirror image about the last one, in ascending order, that one left out.
void append_image(std::vector<Spoke>& spokes) {
    double const line = spokes.back().azimuth_rad;
    for (std::size_t i = spokes.size() - 1; i-- > 0;)
        spokes.push_back({2 * line - spokes[i].azimuth_rad, spokes[i].tip_share});
}

struct Image { // of the part, in turn round the piece
    Vec2 sign;
};

std::vector<Image> images_of(Mirrors mirrors) {
    if (mirrors == Mirrors::both) return {{{1, 1}}, {{1, -1}}, {{-1, -1}}, {{-1, 1}}};
    if (mirrors == Mirrors::upright) return {{{1, 1}}, {{-1, 1}}};
    return {{{1, 1}}};
}

} // namespace

Mirrors mirrors_of(FormerSpec const& former, std::span<SlabCut const> cuts) {
    OutlineKind const kind = former.outline.kind;
    if (kind == OutlineKind::free || !alike(cuts, [](double a) { return 180 - a; })) return Mirrors::none;
    if (kind == OutlineKind::egg || !alike(cuts, [](double a) { return -a; })) return Mirrors::upright;
    return Mirrors::both;
}

DrapeDomain drape_domain(MeridianTable const& middle, Mirrors mirrors, std::span<SlabCut const> cuts) {
    DrapeDomain domain;
    domain.mirrors = mirrors;
    domain.part.spokes = domain.whole.spokes = part_spokes(middle, span_of(mirrors), cuts);
    if (mirrors != Mirrors::none) domain.part.first = domain.part.last = DrapeEnd::mirror;
    if (mirrors != Mirrors::none) append_image(domain.whole.spokes);
    if (mirrors == Mirrors::both) append_image(domain.whole.spokes);
    return domain;
}

DrapeRegion half_region(double azimuth_rad, bool mirrored) {
    DrapeRegion region;
    region.first = DrapeEnd::free;
    region.last = mirrored ? DrapeEnd::mirror : DrapeEnd::free;
    for (int i = 0; i <= (mirrored ? 2 : 4); ++i) region.spokes.push_back({azimuth_rad + i * kPi / 4, 1});
    return region;
}

std::vector<Vec2> mirror_out(DrapeMesh const& whole, DrapeMesh const& part, Mirrors mirrors, std::span<Vec2 const> at) {
    std::vector<Image> const images = images_of(mirrors);
    std::vector<Vec2> out(whole.azimuth.size(), at[0]);
    int const turns = static_cast<int>(images.size());
    auto const place = [&](int ring, int column, DrapeMesh::Side side) {
        int const wide = part.sectors() * ring;
        bool const lower = side == DrapeMesh::Side::lower;
        int const image = (column + (lower ? -1 : 0) + turns * wide) / wide % turns;
        int const inside = (column - image * wide + turns * wide) % (turns * wide);
        bool const flipped = image % 2 == 1;
        auto const other = lower != flipped ? DrapeMesh::Side::lower : DrapeMesh::Side::upper;
        int const from = part.vertex(ring, flipped ? wide - inside : inside, other);
        out[static_cast<std::size_t>(whole.vertex(ring, column, side))] =
            images[static_cast<std::size_t>(image)].sign * at[static_cast<std::size_t>(from)];
    };
    for (int ring = 1; ring <= whole.rings; ++ring)
        for (int column = 0; column < whole.sectors() * ring; ++column) {
            if (column % ring == 0) place(ring, column, DrapeMesh::Side::lower);
            place(ring, column, DrapeMesh::Side::upper);
        }
    return out;
}

} // namespace leafwright
