// The margin without teeth: one chain of bends for each plan of blade.
#include "base/units.h"
#include "leaf/margin.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

// Unit vector at an angle from "straight up", toward the right.
Vec2 heading(double angle_deg) { return {std::sin(radians(angle_deg)), std::cos(radians(angle_deg))}; }

// From the shoulder to a rounded end that carries a short abrupt point.
void add_pointed_end(LeafForm const& form, Vec2 const& shoulder, std::vector<Bend>& bends) {
    double const half = form.apex.angle_deg / 2;
    double const upper = 1 - shoulder.y;
    Vec2 const inward{-std::sin(radians(half)), std::cos(radians(half))};
    Vec2 const neck{0.42 * form.apex.tip, 1 - form.apex.tip};
    bends.push_back(
        {shoulder, shoulder + Vec2(0, form.shoulder_high * upper), neck - form.apex.fullness * upper * inward, neck});
    bends.push_back(
        {neck, neck + 0.4 * form.apex.tip * inward, {0.1 * form.apex.tip, 1 - 0.5 * form.apex.tip}, {0, 1}});
}

std::vector<Bend> blade_bends(LeafForm const& form, double width_factor) {
    Vec2 const shoulder{0.5 * width_factor / form.length_to_width, form.widest};
    Vec2 const base_handle = form.base.fullness * glm::length(shoulder) * heading(form.base.angle_deg / 2);
    std::vector<Bend> bends{{{0, 0}, base_handle, shoulder - Vec2(0, form.shoulder_low * form.widest), shoulder}};
    if (form.apex.tip > 0) {
        add_pointed_end(form, shoulder, bends);
        return bends;
    }
    double const upper = 1 - form.widest;
    Vec2 const apex_dir = heading(180 - form.apex.angle_deg / 2);
    bends.push_back({shoulder,
                     shoulder + Vec2(0, form.shoulder_high * upper),
                     Vec2(0, 1) + form.apex.fullness * upper * apex_dir,
                     {0, 1}});
    return bends;
}

struct Sinus {
    Vec2 at;
    Vec2 tangent; // along the edge, base to tip
};

Sinus sinus_between(Rib const& lower, Rib const& upper, double depth) {
    Vec2 const roots = 0.5 * (lower.root + upper.root);
    Vec2 const tips = 0.5 * (lower.tip + upper.tip);
    Vec2 const at = tips + depth * (roots - tips);
    Vec2 const outward = glm::normalize(at - roots);
    return {at, {-outward.y, outward.x}};
}

Vec2 mixed(Vec2 const& a, Vec2 const& b, double share_of_a) {
    return glm::normalize(share_of_a * a + (1 - share_of_a) * glm::normalize(b));
}

// The handle of a lobe's tip toward the flank on that side (-1 the side of the base, 1 the side of the leaf's tip).
Vec2 tip_handle(LobeForm const& form, Rib const& rib, double side, double reach) {
    Vec2 const along = glm::normalize(rib.tip - rib.root);
    Vec2 const aside = side * Vec2(-along.y, along.x);
    double const half = radians(form.tip_deg / 2);
    return rib.tip + form.fullness * reach * (-std::cos(half) * along + std::sin(half) * aside);
}

// From the stalk round every lobe of this half; the last flank ends at the leaf's tip.
std::vector<Bend> lobe_bends(LeafForm const& form, std::vector<Rib> const& ribs) {
    LobeForm const& lobes = form.lobes;
    std::vector<Bend> bends;
    Vec2 const first = ribs.front().tip;
    Vec2 const base_handle = form.base.fullness * glm::length(first) * heading(form.base.angle_deg / 2);
    bends.push_back({{0, 0}, base_handle, tip_handle(lobes, ribs.front(), -1, 0.7 * glm::length(first)), first});
    for (std::size_t i = 0; i + 1 < ribs.size(); ++i) {
        double const depth = lobes.depth[std::min(i, lobes.depth.size() - 1)];
        Sinus const sinus = sinus_between(ribs[i], ribs[i + 1], depth);
        double const down = glm::length(sinus.at - ribs[i].tip);
        double const up = glm::length(sinus.at - ribs[i + 1].tip);
        double const hold = 0.15 + 0.25 * lobes.roundness;
        Vec2 const arriving = mixed(sinus.tangent, sinus.at - ribs[i].tip, lobes.roundness);
        Vec2 const leaving = mixed(sinus.tangent, ribs[i + 1].tip - sinus.at, lobes.roundness);
        bends.push_back(
            {ribs[i].tip, tip_handle(lobes, ribs[i], 1, down), sinus.at - hold * down * arriving, sinus.at});
        bends.push_back(
            {sinus.at, sinus.at + hold * up * leaving, tip_handle(lobes, ribs[i + 1], -1, up), ribs[i + 1].tip});
    }
    return bends;
}

std::vector<Rib> palmate_ribs(LobeForm const& lobes, Random& random, double unevenness) {
    std::vector<Rib> ribs;
    for (std::size_t i = lobes.angles_deg.size(); i-- > 0;) {
        double const turn = i == 0 ? 0 : 6 * unevenness * random.between(-1, 1);
        double const reach = i == 0 ? 1 : lobes.reach[i] * (1 + 0.08 * unevenness * random.between(-1, 1));
        ribs.push_back({{0, 0}, reach * heading(lobes.angles_deg[i] + turn)});
    }
    return ribs;
}

// Side ribs of a pinnately lobed leaf run to the envelope that the blade would have.
std::vector<Rib> pinnate_ribs(LeafForm const& form, Track const& envelope, Random& random) {
    int const per_side = (form.lobes.count - 1) / 2;
    std::vector<Rib> ribs;
    for (int i = 0; i < per_side; ++i) {
        double const step = (form.veins.to - form.veins.from) / per_side;
        double const root = form.veins.from + step * (i + 0.25 * form.unevenness * random.between(-1, 1));
        double const angle = form.veins.angle_deg * (1.08 - 0.2 * i / per_side);
        Vec2 const ray = heading(angle);
        double s = 0;
        while (s < envelope.length() && cross(ray, envelope.at(s) - Vec2(0, root)) < 0) s += 0.004;
        ribs.push_back({{0, root}, envelope.at(s)});
    }
    ribs.push_back({{0, form.veins.to}, {0, 1}});
    return ribs;
}

// A wedge that opens to a broad wavy edge with a cleft in the middle.
std::vector<Bend> fan_bends(LeafForm const& form, double width_factor) {
    double const half = form.base.angle_deg / 2;
    Vec2 const corner = 0.9 * width_factor * heading(half);
    Vec2 const lip{0.09, 0.965};
    Vec2 const floor{0, 1 - form.cleft};
    Vec2 const brow = 1.0 * heading(0.55 * half);
    Vec2 const along_brow = heading(0.55 * half - 90);
    Vec2 const turn = corner + 0.06 * heading(half - 35);
    return {{{0, 0}, 0.35 * heading(0.62 * half), corner - 0.3 * heading(half + 6), corner},
            {corner, corner + 0.05 * heading(half), turn - 0.03 * heading(half - 80), turn},
            {turn, turn + 0.12 * heading(half - 88), brow - 0.16 * along_brow, brow},
            {brow, brow + 0.2 * along_brow, lip + Vec2(0.05, 0.03), lip},
            {lip, lip - Vec2(0.04, 0.03), floor + Vec2(0.012, 0.1), floor}};
}

} // namespace

SmoothHalf smooth_half(LeafForm const& form, Random& random) {
    double const width_factor = 1 + 0.07 * form.unevenness * random.between(-1, 1);
    if (form.plan == BladePlan::fan) return {track_of(fan_bends(form, width_factor)), {}};
    if (form.plan == BladePlan::palmate) {
        std::vector<Rib> ribs = palmate_ribs(form.lobes, random, form.unevenness);
        return {track_of(lobe_bends(form, ribs)), ribs};
    }
    Track blade = track_of(blade_bends(form, width_factor));
    if (form.plan == BladePlan::blade) return {std::move(blade), {}};
    std::vector<Rib> ribs = pinnate_ribs(form, blade, random);
    return {track_of(lobe_bends(form, ribs)), ribs};
}

} // namespace leafwright
