// The veins of one half of a leaf, drawn at length 1 (see margin.h). Widths share out the flow as Murray found for
// vessels: the cubes of the branches' widths make up the cube of what feeds them (PNAS 12 (1926) 207).
#pragma once

#include "leaf/leaf_shape.h"
#include "leaf/margin.h"

namespace leafwright {

// A side vein before it has a width: its way from the rib to the edge.
struct SideVein {
    Line path;
    double edge = 0; // place on the margin where it would arrive
};

// Side veins of a blade with a midrib, lowest first. `shift` moves the roots, as a share of their spacing.
std::vector<SideVein> pinnate_side_veins(LeafForm const& form, Track const& track, double shift, Random& random);

// Where on the margin the basal branch number i arrives, lowest first.
double basal_edge(LeafForm const& form, std::vector<SideVein> const& side_veins, int i);

struct HalfLeaf {
    LeafForm const& form;
    Track const& track;
    std::vector<Rib> const& ribs;
    std::vector<Tooth> const& teeth;
};

// All veins of this half but the midrib; `side_veins` as above, empty for other plans than pinnate.
// midrib_width: of its root, at length 1.
std::vector<Vein> half_veins(HalfLeaf const& half, std::vector<SideVein> const& side_veins, double midrib_width,
                             Random& random);

// Each plan's own part of it.
std::vector<Vein> pinnate_veins(HalfLeaf const& half, std::vector<SideVein> side_veins, double midrib_width,
                                Random& random);
std::vector<Vein> palmate_veins(HalfLeaf const& half, double midrib_width, Random& random);
std::vector<Vein> parallel_veins(HalfLeaf const& half, double midrib_width);
std::vector<Vein> dichotomous_veins(HalfLeaf const& half, double midrib_width, Random& random);

// Share of a rib's flow that is left at its end; the cube root of it is the ratio of its end widths.
inline constexpr double kFlowLeftAtTip = 0.012;
inline constexpr double kFlowLeftInSide = 0.04;
// Shares of a rib's flow that the branches drawn bring in, and of a side vein's that its cross veins do.
inline constexpr double kFlowToBranches = 0.75;
inline constexpr double kFlowToCrossVeins = 0.35;

double line_length(Line const& line);
Vec2 along_line(Line const& line, double share);
// Cross veins between two neighbours, rooted on the first one.
void add_cross_veins(Line const& from, double from_width, Line const& to, int count, Line const& edge, Random& random,
                     std::vector<Vein>& veins);
// A way that leaves `root` at a heading (degrees from straight up, to the right), turns by turn_deg over `span`, and
// stops at the edge.
Line march(Vec2 const& root, double heading_deg, double turn_deg, double span, Line const& edge);

} // namespace leafwright
