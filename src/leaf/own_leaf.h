// A leaf of the maker's own: its outline at true size, from a photograph, from an SVG drawing, or drawn by the program.
//
// The leaf's frame, mm: the base at (0, 0), the tip straight above it on the y axis, seen from the vein side; the same
// frame as a LeafShape's. The base is the end of the stalk where the stalk was kept, else the foot of the blade.
// upright() brings any outline into that frame; files and pieces hold leaves that way.
#pragma once

#include "leaf/leaf_shape.h"

#include <cstdint>
#include <span>

namespace leafwright {

enum class LeafSource { traced, svg, drawn };

// How veins run; they are grown into the outline, see vein_growth.h. lobed: pinnate, a side vein into each lobe.
// drawn: those of the drawing, drawn_veins_mm (see drawn_veins.h).
enum class VeinPattern { pinnate, lobed, palmate, parallel, forking, none, drawn };

struct OwnLeaf {
    std::string id;    // "hazel-lane": names the file in the leaf book, and the leaf within a piece ("own:hazel-lane")
    std::string name;  // as the maker says it
    std::string date;  // when it was gathered, if wanted: 2026-11-25, or any words
    std::string place; // where, if wanted
    LeafSource source = LeafSource::traced;
    double scale_error = 0; // of its lengths, as a share: one standard uncertainty (0.004: 0.4 %)
    double stalk_mm = 0;    // of the stalk that was kept, at the foot of the outline; 0: cut off
    VeinPattern veins = VeinPattern::pinnate;
    std::uint64_t vein_seed = 1;
    std::vector<Vec2> midrib_mm;                   // from the base to the tip; two points are enough
    std::vector<std::vector<Vec2>> drawn_veins_mm; // lines that a drawing has within the leaf, in no order
    Polygon outline_mm; // simple; outer ring counter-clockwise, holes (a bitten leaf) clockwise

    Vec2 base_mm() const { return midrib_mm.empty() ? Vec2{0, 0} : midrib_mm.front(); }
    Vec2 tip_mm() const { return midrib_mm.empty() ? Vec2{0, 1} : midrib_mm.back(); }
    bool operator==(OwnLeaf const&) const = default;
};

inline constexpr std::size_t kMostOwnPoints = 2000; // of one ring
inline constexpr std::size_t kMostOwnHoles = 40;
inline constexpr std::size_t kMostDrawnVeins = 400;
inline constexpr double kLeastOwn_mm = 4; // base to tip
inline constexpr double kMostOwn_mm = 1500;
inline constexpr std::string_view kOwnOutline = "own:"; // LeafKindSpec::outline is own:ID

// The leaf turned and moved so that its base is (0, 0) and its tip straight above; rings turned the right way round,
// coordinates rounded to 0.001 mm, doubled points dropped. A leaf that is upright already stays as it is, bit for bit.
OwnLeaf upright(OwnLeaf leaf);
// The other hand, left to right.
OwnLeaf mirrored(OwnLeaf leaf);
// From the base line to the outline's highest point, of an upright leaf: what LeafKindSpec::length_mm means.
double length_mm(OwnLeaf const& leaf);

// What no range can tell: enough points, a simple outline, holes inside it and apart, base and tip at the leaf.
// Problem "leaf.outline" or "leaf.midrib"; `where` is the key within the leaf. Cost: about 5 ms at 2,000 points.
MaybeProblem check_own_leaf(OwnLeaf const& leaf);

// The leaf as pieces use it, at true size: at most about 260 points (the outline is kept as true as that allows, holes
// kept), veins grown. The same leaf gives the same shape, bit for bit. The leaf must have passed check_own_leaf().
LeafShape shape_from(OwnLeaf const& leaf);
// The same at the kind's length and thickness. Problem "range".
Outcome<LeafPattern> pattern_from(OwnLeaf const& leaf, LeafKindSpec const& spec);
// Any kind: of the drawer, or of these own leaves. Problem "leaf.unknown".
Outcome<LeafPattern> resolve_leaf_kind(LeafKindSpec const& spec, std::span<OwnLeaf const> own);

// "Hazel, the lane" -> "hazel-the-lane"; never empty, at most 48 bytes, none of `taken`.
std::string leaf_id_of(std::string_view name, std::span<std::string const> taken = {});

} // namespace leafwright
