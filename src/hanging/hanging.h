// The piece on the wall: weight and centre of gravity as fired, lugs or holes, wire, lean, and where the lugs would let
// it hang true. For a piece that could hurt someone in falling this is a help in thinking, not a proof: see the
// cautions.
#pragma once

#include "base/figure.h"
#include "hanging/bulk.h"
#include "hanging/statics.h"
#include "hanging/wire.h"

namespace leafwright {

struct HangingSpec {
    std::string kind = "lugs";   // lugs, holes
    double above_centre_mm = 60; // plastic size, as the other lengths of the piece
    double half_span_mm = 90;
    std::string wire = "wire:copper-1.0";
    double wire_rise_mm = 60; // the hook above the lugs, wire tight, on the wall; 5 to 600
    double hook_off_mm = 8;   // the hook from the wall; 0 to 60
    double breaking_N = 0;    // printed on the wire's packet; 0: by its material and diameter
    // Strength of a joint made by hand, over that of pressed tiles of the same absorption; 0.005 to 1. An estimate with
    // a wide range, no source: a proof load tells more.
    Figure joint_share{0.1, 0.03, 0.3, FigureFrom::by_default};
    bool operator==(HangingSpec const&) const = default;
};

// Two balls of clay joined behind make each lug. Sizes are plastic.
inline constexpr double kLugBall_mm = 30;
inline constexpr double kLugRoot_mm = 28;  // where it is joined, across; common practice, no source
inline constexpr double kLugReach_mm = 15; // of the wire behind the slab
// Least bending strength that ISO 13006 asks of pressed tiles of the group with that absorption: 35, 30, 22, 18, 12
// N/mm2 (18 from memory).
double tile_strength_N_mm2(double absorption);
// Pull at the root of a lug, N/mm2, from bending and shear together: a round cantilever, 32 F L/(pi d^3) and 4/3 of the
// mean shear, as if both were greatest in one place (the safe side); main stress s/2 + sqrt((s/2)^2 + t^2).
double lug_root_stress_N_mm2(double force_N, double reach_mm, double root_mm);
inline constexpr double kLugFactor = 5;
inline constexpr double kEdgeThicknesses = 2; // holes from the edge
inline constexpr double kLeastAngle_deg = 30; // of a wire's leg; rigging guidance
inline constexpr double kHeavy_kg = 10;       // from here on the cautions ask for qualified advice; a choice of ours

struct HangingFinding {
    std::string code; // "hanging.wire", "hanging.angle", "hanging.lean", "hanging.edge", "hanging.lug", "hanging.side"
    std::string text;
    std::string hint;
};

struct HangingAnswer {
    Figure mass_g;           // as it hangs
    Vec3 centre_mm{0, 0, 0}; // x right, y up, z off the wall; as fired
    HangingRig rig;          // as fired, for the drawing
    HangingState state;
    double factor = 0; // the wire's breaking load over its tension
    double breaking_N = 0;
    std::optional<Wire> advised_wire;           // of the same material
    double lug_shear_N_mm2 = 0;                 // at its peak, 4/3 of the mean of a round root
    double lug_stress_N_mm2 = 0;                // pull at the root, bending and shear together
    double lug_factor = 0;                      // what the joint bears over that; 0: no lugs
    Figure lug_range;                           // the same with the range of the joint
    double lug_root_needed_mm = 0;              // across, plastic, for a factor of 5
    double edge_mm = 0;                         // of a hole or lug from the rim along the clay, plastic
    std::optional<double> true_above_centre_mm; // plastic; where it would hang flush, nearest to what is asked for
    double side_tilt_deg =
        0; // by a centre of gravity off the middle, the wire held on the hook; right side down positive
    std::vector<Vec2> outer_section; // x off the wall, y up, through the middle from foot to top, as fired
    std::vector<Vec2> inner_section;
    std::vector<HangingFinding> findings;
    std::vector<std::string> cautions;
};

// Where the lugs' middles are in the chart (right, left); on the inner side of the slab.
std::vector<Vec2> lug_charts(ClaySurface const& face, HangingSpec const& spec);

// `size_factor` fired over plastic length. Problem "wire.unknown"; "hanging.outside" when a lug lies beyond the rim.
Outcome<HangingAnswer> hang_piece(ClayMap const& clay, ClaySurface const& face, HangingSpec const& spec,
                                  Figure const& mass_g, double size_factor, Figure const& joint_N_mm2);

} // namespace leafwright
