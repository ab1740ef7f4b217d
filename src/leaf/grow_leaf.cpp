#include "leaf/grow_leaf.h"

#include "base/units.h"
#include "leaf/veins.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

struct Half {
    Line edge; // stalk end to tip, teeth and all
    std::vector<Vein> veins;
};

std::vector<double> even_places(ToothForm const& form, double length, double unevenness, Random& random) {
    std::vector<double> places;
    places.reserve(static_cast<std::size_t>(form.count));
    double const pitch = length * (form.to - form.from) / form.count;
    for (int i = 0; i < form.count; ++i)
        places.push_back(form.from * length + pitch * (i + 0.5 + 0.35 * unevenness * random.between(-1, 1)));
    return places;
}

// Main teeth at the ends of the side veins, and some below the lowest.
std::vector<double> vein_places(LeafForm const& form, std::vector<SideVein> const& side_veins) {
    std::vector<double> places;
    places.reserve(static_cast<std::size_t>(form.veins.basal) + side_veins.size());
    for (int i = 0; i < form.veins.basal; ++i) places.push_back(basal_edge(form, side_veins, i));
    for (SideVein const& vein : side_veins) places.push_back(vein.edge);
    return places;
}

std::vector<Tooth> teeth_of(LeafForm const& form, Track const& track, std::vector<SideVein> const& side_veins,
                            Random& random) {
    if (form.teeth.style == ToothStyle::none) return {};
    if (form.plan == BladePlan::palmate || form.plan == BladePlan::lobed) return teeth_on_flanks(track, form.teeth);
    std::vector<double> const places = form.teeth.at_veins
                                           ? vein_places(form, side_veins)
                                           : even_places(form.teeth, track.length(), form.unevenness, random);
    return teeth_at(places, form.teeth, track);
}

std::vector<SideVein> lobed_side_veins(SmoothHalf const& smooth) {
    std::vector<SideVein> veins;
    for (std::size_t i = 0; i + 1 < smooth.ribs.size(); ++i) {
        Rib const& rib = smooth.ribs[i];
        Vec2 const middle = 0.5 * (rib.root + rib.tip) - Vec2(0, 0.02);
        veins.push_back({{rib.root, middle, rib.tip}, smooth.track.nearest(rib.tip)});
    }
    return veins;
}

// One half as if it were the right one. `side` 0 right, 1 left: the roots of the left veins are shifted.
Half grow_half(LeafForm form, int side, double midrib_width) {
    form.base.angle_deg += (side == 0 ? -1 : 1) * form.base.oblique_deg;
    Random const root(form.seed);
    Random random = root.split(static_cast<std::uint64_t>(side) + 1);
    SmoothHalf const smooth = smooth_half(form, random);
    std::vector<SideVein> side_veins;
    if (form.veins.plan == VeinPlan::pinnate)
        side_veins = form.plan == BladePlan::lobed
                         ? lobed_side_veins(smooth)
                         : pinnate_side_veins(form, smooth.track, 0.5 * side * form.veins.alternate, random);
    std::vector<Tooth> teeth = teeth_of(form, smooth.track, side_veins, random);
    Line const toothed = with_teeth(smooth.track, form.teeth, teeth, random, form.unevenness);
    HalfLeaf const half{form, smooth.track, smooth.ribs, teeth};
    return {thinned(toothed, form.points / 2 + 1), half_veins(half, side_veins, midrib_width, random)};
}

void flip(Half& half) {
    for (Vec2& p : half.edge) p.x = -p.x;
    for (Vein& vein : half.veins)
        for (Vec2& p : vein.line_mm) p.x = -p.x;
}

Ring joined(Line const& right, Line const& left) {
    Ring ring;
    auto add = [&](Vec2 const& p) {
        if (ring.empty() || glm::length(p - ring.back()) > 1e-4) ring.push_back(p);
    };
    for (Vec2 const& p : right) add(p);
    for (std::size_t i = left.size(); i-- > 1;) add(left[i]);
    while (glm::length(ring.back() - ring.front()) < 1e-4) ring.pop_back();
    return ring;
}

template <class Map> void apply(LeafShape& leaf, Map const& map) {
    for (Vec2& p : leaf.outline_mm.outer) p = map(p);
    for (Vein& vein : leaf.veins)
        for (Vec2& p : vein.line_mm) p = map(p);
}

// Sweeps the midrib sideways, then fits length and width exactly.
void fit(LeafShape& leaf, LeafForm const& form) {
    apply(leaf, [&](Vec2 const& p) { return Vec2(p.x + form.bow * std::sin(kPi * p.y), p.y); });
    Box2 const box = bounds(leaf.outline_mm.outer);
    Vec2 const factor{1 / (form.length_to_width * box.size().x), 1 / box.high.y};
    apply(leaf, [&](Vec2 const& p) { return p * factor; });
    leaf.length_mm = 1;
    leaf.width_mm = 1 / form.length_to_width;
}

// Veins end where the edge is: drops what the teeth's notches cut off. Ribs start on the edge, at the stalk.
void trim_veins(LeafShape& leaf) {
    Ring const& ring = leaf.outline_mm.outer;
    std::vector<Vein> kept;
    for (Vein& vein : leaf.veins) {
        Line& line = vein.line_mm;
        std::size_t inside = vein.order == 1 ? 1 : 0;
        while (inside < line.size() && contains(ring, line[inside])) ++inside;
        line.resize(inside);
        if (line.size() >= 2) kept.push_back(std::move(vein));
    }
    leaf.veins = std::move(kept);
}

Vein midrib_of(Vec2 const& tip, double width) {
    Line line;
    for (int i = 0; i <= 12; ++i) line.push_back((0.985 * i / 12) * tip);
    return {line, width, width * std::cbrt(kFlowLeftAtTip), 1};
}

} // namespace

LeafShape grown_leaf(LeafForm const& form) {
    double const width = form.veins.midrib * std::sqrt(1 / form.length_to_width);
    Half right = grow_half(form, 0, width);
    Half left = grow_half(form, 1, width);
    flip(left);
    LeafShape leaf;
    leaf.outline_mm.outer = joined(right.edge, left.edge);
    if (form.veins.plan != VeinPlan::dichotomous) leaf.veins.push_back(midrib_of(right.edge.back(), width));
    for (Half* half : {&right, &left})
        for (Vein& vein : half->veins) leaf.veins.push_back(std::move(vein));
    fit(leaf, form);
    trim_veins(leaf);
    return leaf;
}

} // namespace leafwright
