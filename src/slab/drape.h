// The slab truly draped: where every part of the flat sheet comes to lie on the former, what it is stretched and pushed
// together, and where cuts help. A membrane model (see membrane.h): the sheet keeps its volume, slides freely on the
// former (grip 0) or sticks where it first touches (grip 1), and pleats where it is pushed together by more than 5 %.
//
// Both ends are honest bounds, not one truth: how much a slab slides is the maker's hand. Hence the band in SlabAnswer.
#pragma once

#include "base/task.h"
#include "slab/membrane.h"
#include "slab/slab.h"

namespace leafwright {

struct DrapeOptions {
    int triangles = 20000;   // 1300, 5000, 20000 or 80000 in the whole slab: the nearest nested mesh is taken
    double tolerance = 1e-6; // relative change of energy at which the solution stands
    bool use_mirrors = true; // solve but the part that is alike on both sides
    bool propose = true;     // fill proposed_cuts and ways
    DrapeLaw law;
    std::vector<std::vector<Spot>> openings; // cut before the slab is laid: rings on the middle surface
};

// Keeps what depends on the meshes' joints alone, so that answers come quickly while a slider moves.
class DrapeEngine {
public:
    DrapeEngine();
    ~DrapeEngine();
    DrapeEngine(DrapeEngine&&) noexcept;
    DrapeEngine& operator=(DrapeEngine&&) noexcept;

    // The same answer whatever was asked before. At 20000 triangles the outline is within 0.05 mm of the model's on
    // domes; a former of a few mm, all of whose turn is at the rim, is told less finely (0.5 mm). Cost on one core:
    // meridians 40 ms, solution 20, 40 or 90 ms where all four quarters, both sides or nothing is alike, proposals 35,
    // 70 or 120 ms. Problems: those of check_slab; "cancelled" when the task was.
    Outcome<SlabAnswer> drape(Former const& former, SlabSpec const& spec, DrapeOptions const& options, Task& task);
    // For every frame of a moving slider: the coarsest mesh, begun where the last preview ended. Nothing is proposed.
    // On formers of 30 mm and more its sliding area is within 0.2 % of the fine one. Cost: 6 ms, meridians included.
    Outcome<SlabAnswer> preview(Former const& former, SlabSpec const& spec);

private:
    struct Memory;
    std::unique_ptr<Memory> memory_;
};

// With a new engine.
Outcome<SlabAnswer> drape_slab(Former const& former, SlabSpec const& spec, DrapeOptions const& options = {});

// Share of the laid area that may pucker before cuts are proposed; a default, no source.
inline constexpr double kPuckerTaken = 0.2;

// Darts that bring the puckered share below kPuckerTaken with the fewest cuts, 4 to 12, each from where pleats begin;
// or that come nearest to it. Alike on both sides where the former is. Empty when the slab puckers no more than that.
std::vector<SlabCut> propose_cuts(Former const& former, SlabSpec const& spec);

// One slab, the slab with these cuts (when there are any), and two halves joined along the crown's line that keeps them
// truer. On the mesh of 5000 triangles.
std::vector<SlabWay> compare_ways(Former const& former, SlabSpec const& spec, std::vector<SlabCut> const& cuts);

} // namespace leafwright
