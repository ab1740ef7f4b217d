// Filling rows of leaves from the edge inward, by the maker's row rules, until no clay is bare.
#pragma once

#include "base/task.h"
#include "rows/feature.h"
#include "rows/placement.h"

#include <cstdint>

namespace leafwright {

struct RowRule {
    int row = 1;                    // 1 is the outer row; the last rule serves for all further rows
    std::vector<std::string> kinds; // taken in turn along the row
    double side_lap = 0.25;         // share of a leaf's width that its neighbour in the row covers, 0 to 0.8
    double head_lap = 0.35;         // share of a leaf's length that the next row inward covers, 0 to 0.8
    double overhang_mm = 12;        // how far the tips of row 1 reach beyond the rim, -50 to 80
    double turn_spread_deg = 6;     // leaves turn at random within this, either way, 0 to 45
    double size_spread = 0.1;       // sizes vary at random within this share, either way, 0 to 0.5
    // The row's lap: share of its leaves' area that later leaves cover. The innermost row keeps no least lap.
    double least_lap = 0.1;      // 0 to 0.6
    double most_lap = 0.8;       // 0.2 to 1
    double least_exposed = 0.15; // share of each single leaf that stays to be seen, 0 to 0.6
    bool operator==(RowRule const&) const = default;
};

struct RowRules {
    std::vector<RowRule> rules;
    bool mirror = true; // left and right are mirror images
    // 0 calm: neither turned nor varied, kinds strictly in turn; 0.5 as the rules say; 1 lively: twice as much turn and
    // variety, kinds mixed by chance, leaves flipped by chance.
    double liveliness = 0.5;
    bool operator==(RowRules const&) const = default;
};

struct LayRequest {
    ClaySurface const* surface = nullptr; // the slab's outer face
    std::span<LeafPattern const> patterns;
    RowRules rules;
    std::span<Feature const> features;
    std::span<LeafPlacement const> pinned; // stay as they are, ids kept
    std::uint64_t seed = 1;
};

struct LayResult {
    std::vector<LeafPlacement> leaves; // in laying order, pinned ones among them by row
    double bare_mm2 = 0;               // of the clad zone; 0 when the rules can be met
    int rows = 0;
    std::vector<Problem> remarks; // which rule could not be met, in a sentence; empty when all are
};

// Rows from the edge inward; then bare spots are closed by moving neighbours first and by adding leaves last; then
// leaves that cover nothing of their own are taken out. Problems: "rows.no-rules", "leaf.unknown", "cancelled". The
// same request gives the same result. Cost: about 0.5 s for 120 leaves.
Outcome<LayResult> lay_rows(LayRequest const& request, Task& task);

} // namespace leafwright
