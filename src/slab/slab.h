// The slab that goes over the former: what to cut from the flat, and what it is like once laid.
#pragma once

#include "former/surface.h"

#include <array>
#include <cstdint>

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
    std::vector<SlabCut> cuts = {}; // at most 24, at least 5 degrees apart
    bool operator==(SlabSpec const&) const = default;
};

struct SlabThickness {
    double rolled = 0;
    double least = 0;
    double mean = 0;
    double most = 0;
};

// One vertex of the slab, flat and laid, and what the clay goes through there (at the slab's grip).
struct SlabMapPoint {
    Vec2 flat_mm{0, 0};    // in the flat, crown at the origin, as the piece hangs
    Vec3 laid_mm{0, 0, 0}; // on the former: the slab's middle surface
    Spot spot;             // the same, by azimuth and length along the meridian of the middle surface
    double rim_share = 0;  // that length by the whole meridian's: the same place on any face of the slab
    double thickness_mm = 0;
    double stretch_1 = 1, stretch_2 = 1; // principal, flat to laid, the first the larger
    Vec2 along_1{1, 0};                  // unit, in the flat: the direction that is stretched by stretch_1
    double pucker = 0;                   // log strain of compression beyond what packs evenly; above 0 the clay pleats
};

struct SlabMap {
    std::vector<SlabMapPoint> points;
    std::vector<std::array<std::int32_t, 3>> triangles; // counter-clockwise, seen from outside
};

struct SlabCutAnswer {
    SlabCut cut;
    Vec2 tip_mm{0, 0};     // in the flat; round it, tips tear
    Ring notch_mm;         // the wedge that falls out of the flat outline: tip, one edge out, the other back
    double opening_mm = 0; // its width at the rim
};

// One way to clothe the former, roughly reckoned for comparison (a mesh of 5000 triangles).
struct SlabWay {
    enum class Kind { one_slab, with_cuts, two_halves } kind = Kind::one_slab;
    std::vector<SlabCut> cuts;
    double rms_stretch = 0; // root mean square of principal stretch - 1: how true the slab stays
    double pucker_mm2 = 0;
    double surplus_rim_mm = 0;
    double flat_mm2 = 0;  // clay inside the rim, flat
    double waste_mm2 = 0; // of the rectangles it is cut from: what is not that, trim included
};

struct SlabAnswer {
    Ring outline_mm;        // the flat outline to cut, as the piece hangs: the larger of sliding and sticking, and trim
    double flat_mm2 = 0;    // its area
    Vec2 bounds_mm{0, 0};   // its width and height
    double volume_mm3 = 0;  // clay of the outline as cut
    double draped_mm2 = 0;  // middle surface inside the rim
    double shell_mm3 = 0;   // clay that stays after trimming at the rim, notches out
    double trimmed_mm3 = 0; // clay trimmed off: volume less shell
    SlabThickness thickness_mm;
    double stretch_least = 1; // principal stretches on the laid slab, notch tips left out
    double stretch_most = 1;
    double pucker_mm2 = 0; // laid area pushed together by more than 5 % (log strain)
    MaybeProblem too_wide; // refusal "slab.too-wide": the outline fits through sheet_width_mm in no direction

    // The rim in the flat is a band: between a slab that slides freely and one that sticks where it first touches.
    Ring sliding_mm, sticking_mm; // without trim; sliding with notches
    double sliding_mm2 = 0, sticking_mm2 = 0;
    double rms_stretch = 0;          // of principal stretch - 1, over the laid area
    double surplus_rim_mm = 0;       // integral round the rim of the compression beyond 5 %: what darts would take out
    bool tears = false;              // stretch_most is beyond stretch_limit
    Spot most_stretched;             // on the middle surface
    double uncovered_mm2 = 0;        // laid area that a sheet of sheet_width_mm, laid straight and centred, leaves bare
    double uncovered_mm = 0;         // how far it falls short of the rim on each side, flat
    std::vector<SlabCutAnswer> cuts; // as slab.cuts
    std::vector<SlabCut> proposed_cuts; // empty when the slab puckers no more than clay takes, or more cuts do not help
    std::vector<SlabWay>
        ways; // one slab, slab with cuts, two halves; empty when the slab puckers no more than clay takes
    std::shared_ptr<SlabMap const> map; // none from unroll_slab
    bool settled = true;                // false: why_not says what is doubtful about the figures
    std::string why_not;
    int steps = 0; // Newton steps over all meshes
};

// Unrolls along the meridians of the middle surface (offset thickness/2): lengths along them are kept, round them the
// clay is pushed together (sphere: hoop stretch sin t / t, checks by do Carmo's geodesic polar coordinates).
// thickness = rolled / (product of stretches). This is the slab that sticks where it first touches: the outer edge of
// the band of drape.h, and much quicker. Cuts and grip are not read. Problem: "range".
Outcome<SlabAnswer> unroll_slab(Former const& former, SlabSpec const& spec);

// Problems "range", "slab.cuts" (too many, or too near to each other).
MaybeProblem check_slab(SlabSpec const& spec);

} // namespace leafwright
