// The botanical form of a leaf kind, as it stands in assets/leaves/NAME.json. Lengths are shares of the leaf's length
// unless a name says otherwise; angles are full angles as botany counts them (base above 180: heart-shaped).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace leafwright {

enum class BladePlan { blade, lobed, palmate, fan };
enum class ToothStyle { none, serrate, round, spiny, wavy };
enum class VeinPlan { pinnate, palmate, parallel, dichotomous };
enum class VeinEnd { margin, arch };

struct BaseForm {
    double angle_deg = 90;  // below 90 wedge, 180 cut square, above 180 cordate
    double fullness = 0.4;  // how far the margin keeps that direction
    double oblique_deg = 0; // one half opens wider by that, the other less, as in limes and elms
};

struct ApexForm {
    double angle_deg = 60; // below 45 acuminate, above 90 obtuse, above 180 notched
    double fullness = 0.4;
    double tip = 0; // length of an abrupt point on a rounded end
};

struct LobeForm {
    // Palmate: from the middle lobe outward, one side. Lobed: unused but for the depth.
    std::vector<double> angles_deg;
    std::vector<double> reach;
    std::vector<double> depth; // of each sinus, share of the way from lobe tips to the rib roots
    int count = 0;             // all lobes of the leaf, the terminal one included
    double roundness = 0.7;    // of the sinuses: 0 a sharp cut, 1 round
    double tip_deg = 90;       // full angle at the lobe tips, 180 round
    double fullness = 0.4;
};

struct ToothForm {
    ToothStyle style = ToothStyle::none;
    int count = 0;         // main teeth on each side (palmate and lobed: on each flank of a lobe)
    bool at_veins = false; // one main tooth at the end of each side vein and basal branch
    int secondary = 0;     // small teeth on each main tooth
    double depth = 0.35;   // of the spacing
    double lean = 0.7;     // 0.5 square to the edge (dentate), near 1 leaning to the tip
    double from = 0.1;     // share of the margin, base to tip
    double to = 0.95;
};

struct VeinForm {
    VeinPlan plan = VeinPlan::pinnate;
    VeinEnd end = VeinEnd::margin;
    int count = 8;         // side veins on each side (fan: ends of the forking veins, all)
    double angle_deg = 45; // with the midrib
    double curve_deg = 10; // turns that much toward the tip on its way
    double from = 0.02;    // of the lowest and the highest root on the midrib
    double to = 0.95;
    double edge_from = 0.15; // where on the margin, base to tip, the lowest and the highest side vein arrive
    double edge_to = 0.92;
    double alternate = 0.5; // 0 opposite, 1 alternate
    int basal = 0;          // outer branches of the lowest side vein, to the edge below it
    int forks = 0;          // 1: each side vein forks once near its root
    int fine = 3;           // cross veins between neighbours
    double midrib = 0.04;   // root width, share of the geometric mean of length and width
};

struct LeafForm {
    std::string label;
    double usual_length_mm = 75;
    double usual_thickness_mm = 5;
    BladePlan plan = BladePlan::blade;
    double length_to_width = 1.5;
    double widest = 0.4;       // height of the widest place
    double shoulder_low = 0.5; // how long the margin runs beside the midrib below and above it
    double shoulder_high = 0.4;
    double cleft = 0; // fan: depth of the cut in the middle
    BaseForm base;
    ApexForm apex;
    LobeForm lobes;
    ToothForm teeth;
    VeinForm veins;
    std::uint64_t seed = 1;
    double unevenness = 0.3; // 0 stamped, 1 wild
    double bow = 0.012;      // sideways sweep of the midrib
    int points = 110;        // of the outline, at most
};

// Text of a form file. The files are our own: a fault in one is an assertion, and a test reads them all.
LeafForm leaf_form_of(std::string_view json_text);

} // namespace leafwright
