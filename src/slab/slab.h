// The slab that goes over the former: what to cut from the flat, and what it is like once laid.
#pragma once

#include "former/surface.h"

namespace leafwright {

// A dart: a straight cut from the rim towards the crown, opened by the former or closed by a seam.
struct SlabCut {
    double azimuth_deg = 0; // as the piece hangs: 0 right, 90 up
    double length_mm = 60;  // along the meridian from the rim
    bool operator==(SlabCut const&) const = default;
};

struct SlabSpec {
    double thickness_mm = 8;       // 3 to 25
    double trim_allowance_mm = 10; // left beyond the rim all round, trimmed off on the former; 0 to 60
    double sheet_width_mm = 450;   // the widest sheet the maker can roll, 100 to 1500
    double stretch_limit = 0.15; // the longest it may be drawn before it tears, share; 0.01 to 1; a default, no source
    double grip = 0;             // 0: slides freely on the former, 1: sticks where it first touches
    std::vector<SlabCut> cuts;   // at most 24, at least 5 degrees apart
    bool operator==(SlabSpec const&) const = default;
};

struct SlabThickness {
    double rolled = 0;
    double least = 0;
    double mean = 0;
    double most = 0;
};

struct SlabAnswer {
    Ring outline_mm;        // the flat outline to cut, trim allowance included, as the piece hangs
    double flat_mm2 = 0;    // its area
    Vec2 bounds_mm{0, 0};   // its width and height
    double volume_mm3 = 0;  // clay of the outline as cut
    double draped_mm2 = 0;  // middle surface inside the rim
    double shell_mm3 = 0;   // clay that stays after trimming at the rim
    double trimmed_mm3 = 0; // clay trimmed off: volume less shell
    SlabThickness thickness_mm;
    double stretch_least = 1; // principal stretches on the laid slab
    double stretch_most = 1;
    double pucker_mm2 = 0; // laid area whose hoop strain is below -5 %
    MaybeProblem too_wide; // refusal "slab.too-wide": the outline fits through sheet_width_mm in no direction
};

// Unrolls along the meridians of the middle surface (offset thickness/2): lengths along them are kept, round them the
// clay is pushed together (sphere: hoop stretch sin t / t, checks by do Carmo's geodesic polar coordinates).
// thickness = rolled / (product of stretches). Problem: "range".
Outcome<SlabAnswer> unroll_slab(Former const& former, SlabSpec const& spec);

} // namespace leafwright
