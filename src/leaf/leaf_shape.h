// A leaf as an outline with veins, mm: stalk end at (0, 0), tip at (0, length), seen from the vein side.
// The outline's highest point is at y = length; a notched or cleft leaf (alder, ginkgo) ends lower on the midrib, and
// the lobes of a heart-shaped one reach below y = 0.
#pragma once

#include "base/outcome.h"
#include "base/polygon.h"

#include <string>
#include <string_view>
#include <vector>

namespace leafwright {

struct Vein {
    std::vector<Vec2> line_mm; // from its root outward
    double root_width_mm = 1;  // narrows evenly to end_width_mm
    double end_width_mm = 0.3;
    int order = 1; // 1 midrib (or the main ribs of a palmate leaf), 2 side veins, 3 finer
    bool operator==(Vein const&) const = default;
};

struct LeafShape {
    Polygon outline_mm; // simple, counter-clockwise, about 60 to 200 points
    double length_mm = 0;
    double width_mm = 0;
    std::vector<Vein> veins;
    bool operator==(LeafShape const&) const = default;
};

// Scaled about the stalk end; mirrored left to right (stays counter-clockwise).
LeafShape scaled(LeafShape const& shape, double factor);
LeafShape mirrored(LeafShape const& shape);

// A kind as the piece names it, resolved: which outline, how thick its clay is.
struct LeafKindSpec {
    std::string id;                          // "hornbeam"
    std::string outline = "drawer:hornbeam"; // drawer:NAME
    double length_mm = 75;                   // 15 to 400
    double thickness_mm = 5;                 // 2 to 20
    bool operator==(LeafKindSpec const&) const = default;
};

// A place of a leaf that is narrower than its clay is thick; see clay_leaf.h.
struct FineSpot {
    Vec2 at_mm{0, 0};
    double width_mm = 0; // at its widest
    double reach_mm = 0; // how far it goes beyond what holds
    bool neck = false;   // parts of the leaf hang on it
    bool operator==(FineSpot const&) const = default;
};

struct LeafPattern {
    LeafKindSpec spec;
    LeafShape shape;
    std::vector<FineSpot> fine = {}; // of the maker's own leaves, at that thickness
};

// The drawer: our own kinds, by botanical form (assets/leaves/*.json).
struct DrawerEntry {
    std::string name;  // "hornbeam"
    std::string label; // "Hornbeam"
    double usual_length_mm = 75;
    double usual_thickness_mm = 5;
};
std::vector<DrawerEntry> drawer_entries();

// The drawer's leaf of that name at that length. Problem "leaf.unknown" lists the names; "range" for the length.
// Cost: 0.1 to 1.5 ms. The same name gives the same leaf, scaled, bit for bit.
Outcome<LeafShape> draw_leaf(std::string_view drawer_name, double length_mm);
Outcome<LeafPattern> resolve_leaf_kind(LeafKindSpec const& spec);

} // namespace leafwright
