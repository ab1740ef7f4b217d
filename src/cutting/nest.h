// Nesting: irregular shapes laid on rolled sheets so that as little as possible is rolled.
// A sheet lies with its length along x, from 0, and its width along y, 0 to width_mm. Every answer is checked before it
// is given: no overlap, the gaps kept, all within the sheet.
#pragma once

#include "base/outcome.h"
#include "base/polygon.h"
#include "base/task.h"

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

namespace leafwright {

// Where a shape lies: mirrored first (x becomes -x), then turned counter-clockwise about the origin of its own outline,
// then moved by at_mm; on sheet number `sheet`, counted from 0. Coordinates are the sheet's own.
struct NestPose {
    int sheet = 0;
    double turn_deg = 0;
    bool mirrored = false;
    Vec2 at_mm{0};
    bool operator==(NestPose const&) const = default;
};

struct NestShape {
    std::string name; // how a Problem calls it; "shape 3" when empty
    Polygon outline;  // mm; anywhere, rings either way round; holes may take other pieces
    int copies = 1;   // 0 to 10000
    // The turns that are allowed, counter-clockwise, and how much each may be off either way. 180 or more: any turn.
    std::vector<double> turns_deg{0.0};
    double turn_play_deg = 0;
    bool either_hand = false; // may be mirrored
    // The first copies lie here and stay; not bound to the allowed turns. At most `copies`.
    std::vector<NestPose> pinned;
};

// A strip of open length, or sheets of one size.
struct NestSheets {
    double width_mm = 0;
    double length_mm = 0; // 0: one strip, as long as it takes
    int at_most = 0;      // sheets; 0: as many as needed. A strip is one sheet.
};

struct NestJob {
    std::vector<NestShape> shapes;
    NestSheets sheets;
    double gap_mm = 0;      // between pieces, and between a piece and the rim of the hole that it lies in
    double edge_gap_mm = 0; // to the sheet's edges, its two ends included
    bool in_holes = true;   // pieces may lie inside others' holes
};

struct NestPlacement {
    int shape = 0; // index into NestJob::shapes
    int copy = 0;  // 0 .. copies-1; the pinned ones come first
    NestPose pose;
    bool operator==(NestPlacement const&) const = default;
};

// A layout: complete but for `unplaced`.
struct NestResult {
    std::vector<NestPlacement> placements; // by shape, then by copy
    std::vector<double> used_mm;           // a sheet each: from its start to the farthest piece, edge gap included
    double length_mm = 0;                  // the sum of used_mm
    double area_mm2 = 0;                   // of the placed outlines, holes taken off
    double density = 0;                    // area_mm2 over width * length_mm, 0 to 1
    std::vector<NestPlacement> unplaced;   // found no room: more sheets than at_most would be needed (pose is void)
    std::int64_t samples = 0;              // positions that were tried
    int rounds = 0;                        // of improvement, that were carried out
    double seconds = 0;
};

struct NestOptions {
    std::uint64_t seed = 1;
    double seconds = 10; // time to improve; 0: the first layout only. Cuts rounds, and so the answer, short.
    int rounds = 0;      // more than 0: exactly so many, `seconds` is not looked at: the answer is repeatable
    int threads = 2;     // 1 to 64; never changes what a round does
    // A layout to improve, not looked at unless it is complete. One that is not valid, as when a piece was put down
    // among others, is where the search begins: the pieces that lie in each other's way part from there.
    std::vector<NestPlacement> start;
};

// Called with each better layout, valid every one, beginning with the first. From a thread of the nesting's own or the
// caller's, one call at a time. Copy and return soon.
using NestImproved = std::function<void(NestResult const&)>;

// Lays all pieces and improves the layout until the time or the rounds are over, or until it cannot be better (a strip
// filled to the last of its area), or `task` is cancelled; then the best so far is the answer. The aim: fewest sheets,
// then the shortest use of the last one.
// Accuracy: pieces overlap by less than 1e-9 of the sheet's area in all; gaps hold to 1e-6 mm.
// Cost: the first layout of 100 leaves of 100 points takes some tenths of a second.
// Problems: "range" (a number out of its range, named), "nest.outline" (self-crossing, without area, not finite),
// "nest.too-wide" (a piece fits no sheet in any allowed turn), "nest.pinned" (pinned pieces overlap or leave the
// sheet). Doubled points are dropped. Outlines of any number of points are accepted: the search may work on one that
// is simplified outward, the check is always made on the one that was given.
Outcome<NestResult> nest(NestJob const& job, NestOptions const& options = {}, Task* task = nullptr,
                         NestImproved const& improved = {});

// The first layout alone, made piece by piece without search. The same Problems.
Outcome<NestResult> first_nest(NestJob const& job);

// The outline of a shape as it lies, holes included, in the sheet's coordinates.
Polygon posed(Polygon const& outline, NestPose const& pose);

// What a layout breaks, told in one sentence each; empty when it is sound. Independent of the search: reckoned in
// double precision on the given outlines, to the accuracies that nest() promises. O(n log n) in the edges of pieces
// that lie close.
std::vector<std::string> nest_faults(NestJob const& job, NestResult const& result);

} // namespace leafwright
