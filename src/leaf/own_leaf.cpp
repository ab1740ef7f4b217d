#include "leaf/own_leaf.h"

#include "leaf/clay_leaf.h"
#include "leaf/drawn_veins.h"
#include "leaf/ring_thinning.h"
#include "leaf/vein_growth.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr double kGrain_mm = 0.001;
constexpr std::size_t kLaidPoints = 260;
constexpr std::size_t kLaidHolePoints = 60;

double on_grain(double value) { return std::round(value / kGrain_mm) * kGrain_mm + 0.0; }

void tidy_ring(Ring& ring, bool counter) {
    for (Vec2& p : ring) p = {on_grain(p.x), on_grain(p.y)};
    ring.erase(std::unique(ring.begin(), ring.end()), ring.end());
    while (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
    if ((signed_area(ring) > 0) != counter) std::reverse(ring.begin(), ring.end());
}

template <class Work> void each_point(OwnLeaf& leaf, Work work) {
    for (Vec2& p : leaf.outline_mm.outer) work(p);
    for (Ring& hole : leaf.outline_mm.holes)
        for (Vec2& p : hole) work(p);
    for (Vec2& p : leaf.midrib_mm) work(p);
    for (std::vector<Vec2>& line : leaf.drawn_veins_mm)
        for (Vec2& p : line) work(p);
}

void mirror_ring(Ring& ring) {
    for (Vec2& p : ring) p.x = -p.x;
    if (ring.size() > 1) std::reverse(ring.begin() + 1, ring.end());
}

Problem outline_problem(std::string where, std::string what, std::string hint) {
    return {"leaf.outline", std::move(where), std::move(what), std::move(hint)};
}

MaybeProblem check_ring(Ring const& ring, std::string const& where) {
    if (ring.size() < 3)
        return outline_problem(where, fmt::format("holds {} points; a ring needs at least 3", ring.size()),
                               "Trace or draw the leaf again");
    if (std::abs(signed_area(ring)) < 1e-3)
        return outline_problem(where, "encloses no area", "Trace or draw the leaf again");
    if (!is_simple(ring)) return outline_problem(where, "crosses itself", "Part the outline where it crosses");
    return {};
}

MaybeProblem check_hole(Polygon const& outline, std::size_t index) {
    Ring const& hole = outline.holes[index];
    std::string const where = fmt::format("holes[{}]", index);
    if (MaybeProblem problem = check_ring(hole, where)) return problem;
    if (rings_cross(outline.outer, hole) || !contains(outline.outer, hole.front()))
        return outline_problem(where, "does not lie within the outline", "Leave it out, or cut it as a bay");
    for (std::size_t k = 0; k < index; ++k)
        if (rings_cross(outline.holes[k], hole) || contains(outline.holes[k], hole.front()) ||
            contains(hole, outline.holes[k].front()))
            return outline_problem(where, fmt::format("meets hole {}", k), "Make one hole of the two");
    return {};
}

MaybeProblem check_midrib(OwnLeaf const& leaf) {
    auto const fault = [](std::string what) {
        return Problem{"leaf.midrib", "midrib_mm", std::move(what), "Show the base and the tip of the leaf again"};
    };
    if (leaf.midrib_mm.size() < 2) return fault("needs at least the base and the tip");
    double const long_mm = glm::length(leaf.tip_mm() - leaf.base_mm());
    if (!(long_mm >= kLeastOwn_mm && long_mm <= kMostOwn_mm))
        return fault(
            fmt::format("is {:.3g} mm from base to tip; the range is {} to {} mm", long_mm, kLeastOwn_mm, kMostOwn_mm));
    Box2 box = bounds(leaf.outline_mm.outer);
    Vec2 const slack = 0.1 * box.size() + Vec2{1, 1};
    box = {box.low - slack, box.high + slack};
    for (Vec2 const& p : leaf.midrib_mm)
        if (!box.contains(p)) return fault("leaves the leaf");
    return {};
}

Problem no_such_leaf(std::string_view id) {
    return {"leaf.unknown", "outline", fmt::format("no leaf of the piece's own is called '{}'", id),
            "Add the leaf to the piece's own_leaves, or choose another outline"};
}

MaybeProblem check_size(char const* key, double value, double low, double high) {
    if (value >= low && value <= high) return {};
    return Problem{"range", key, fmt::format("is {} mm; the range is {} to {} mm", value, low, high),
                   "Give a number within the range"};
}

} // namespace

OwnLeaf upright(OwnLeaf leaf) {
    Vec2 const base = leaf.base_mm();
    Vec2 const axis = leaf.tip_mm() - base;
    bool const stands = base == Vec2{0, 0} && axis.x == 0 && axis.y > 0;
    double const long_mm = glm::length(axis);
    if (!stands && long_mm > 0) {
        Vec2 const up = axis / long_mm;
        each_point(leaf, [&](Vec2& p) { p = {cross(p - base, up), glm::dot(p - base, up)}; });
        leaf.midrib_mm.back() = {0, long_mm};
    }
    for (Vec2& p : leaf.midrib_mm) p = {on_grain(p.x), on_grain(p.y)};
    for (std::vector<Vec2>& line : leaf.drawn_veins_mm)
        for (Vec2& p : line) p = {on_grain(p.x), on_grain(p.y)};
    tidy_ring(leaf.outline_mm.outer, true);
    for (Ring& hole : leaf.outline_mm.holes) tidy_ring(hole, false);
    return leaf;
}

OwnLeaf mirrored(OwnLeaf leaf) {
    mirror_ring(leaf.outline_mm.outer);
    for (Ring& hole : leaf.outline_mm.holes) mirror_ring(hole);
    for (Vec2& p : leaf.midrib_mm) p.x = -p.x + 0.0;
    for (std::vector<Vec2>& line : leaf.drawn_veins_mm)
        for (Vec2& p : line) p.x = -p.x + 0.0;
    return leaf;
}

double length_mm(OwnLeaf const& leaf) {
    if (leaf.outline_mm.outer.empty()) return 0;
    return bounds(leaf.outline_mm.outer).high.y;
}

MaybeProblem check_own_leaf(OwnLeaf const& leaf) {
    if (MaybeProblem problem = check_ring(leaf.outline_mm.outer, "outline_mm")) return problem;
    for (std::size_t i = 0; i < leaf.outline_mm.holes.size(); ++i)
        if (MaybeProblem problem = check_hole(leaf.outline_mm, i)) return problem;
    return check_midrib(leaf);
}

LeafShape shape_from(OwnLeaf const& given) {
    OwnLeaf const leaf = upright(given);
    LeafShape shape;
    shape.outline_mm = thinned_polygon(leaf.outline_mm, kLaidPoints, kLaidHolePoints);
    Box2 const box = bounds(shape.outline_mm.outer);
    shape.length_mm = box.high.y;
    shape.width_mm = box.size().x;
    shape.veins = leaf.veins == VeinPattern::drawn
                      ? drawn_veins(shape.outline_mm, leaf.midrib_mm, leaf.drawn_veins_mm)
                      : grown_veins(shape.outline_mm, leaf.midrib_mm, leaf.stalk_mm, leaf.veins, leaf.vein_seed);
    return shape;
}

Outcome<LeafPattern> pattern_from(OwnLeaf const& leaf, LeafKindSpec const& spec) {
    if (MaybeProblem problem = check_size("length_mm", spec.length_mm, 15, 400)) return *problem;
    if (MaybeProblem problem = check_size("thickness_mm", spec.thickness_mm, 2, 20)) return *problem;
    LeafShape const shape = shape_from(leaf);
    LeafPattern pattern{spec, scaled(shape, spec.length_mm / shape.length_mm)};
    pattern.shape.length_mm = spec.length_mm;
    pattern.fine = fine_spots(pattern.shape.outline_mm, spec.thickness_mm);
    return pattern;
}

Outcome<LeafPattern> resolve_leaf_kind(LeafKindSpec const& spec, std::span<OwnLeaf const> own) {
    if (!spec.outline.starts_with(kOwnOutline)) return resolve_leaf_kind(spec);
    std::string_view const id = std::string_view(spec.outline).substr(kOwnOutline.size());
    auto const found = std::ranges::find(own, id, &OwnLeaf::id);
    if (found == own.end()) return no_such_leaf(id);
    return pattern_from(*found, spec);
}

std::string leaf_id_of(std::string_view name, std::span<std::string const> taken) {
    constexpr std::size_t kMost = 44;
    std::string id;
    for (char const c : name) {
        auto const byte = static_cast<unsigned char>(c);
        bool const kept = byte >= 128 || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
        if (c >= 'A' && c <= 'Z')
            id += static_cast<char>(c - 'A' + 'a');
        else if (kept)
            id += c;
        else if (!id.empty() && id.back() != '-')
            id += '-';
    }
    if (id.size() > kMost) {
        id.resize(kMost);
        while (!id.empty() && (static_cast<unsigned char>(id.back()) & 0xC0) == 0x80) id.pop_back();
        if (!id.empty() && static_cast<unsigned char>(id.back()) >= 0xC0) id.pop_back(); // no half character
    }
    while (!id.empty() && id.back() == '-') id.pop_back();
    if (id.empty()) id = "leaf";
    std::string const stem = id;
    for (int n = 2; std::ranges::find(taken, id) != taken.end(); ++n) id = fmt::format("{}-{}", stem, n);
    return id;
}

} // namespace leafwright
