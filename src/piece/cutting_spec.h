// How the maker rolls and cuts: what the cutting sheets are laid out by. Plain values of the piece.
#pragma once

#include <string>
#include <vector>

namespace leafwright {

enum class Grain { free, along }; // along: tips point along the rolling direction, either way

// A piece that the maker has put down by hand on a cutting sheet.
struct CutPin {
    std::string cut;     // "leaf 12", "slab", "lug 1", "strip 1", "bar 1"
    int sheet = 1;       // among the sheets of its thickness, from 1
    double x_mm = 0;     // where the origin of its own outline lies: along the sheet's length
    double y_mm = 0;     // and across it
    double turn_deg = 0; // counter-clockwise
    bool operator==(CutPin const&) const = default;
};

struct CuttingSpec {
    double mat_width_mm = 0;      // 0: as wide as slab.sheet_width_mm; else no wider than this
    double table_length_mm = 900; // the longest sheet that can be rolled
    double gap_mm = 3;            // between pieces: a knife's breadth, common practice, no source
    double edge_mm = 5;           // kept clear along the ragged edges of a sheet; common practice, no source
    Grain grain = Grain::free;
    double grain_play_deg = 15; // how far a leaf may be off the rolling direction
    int test_bars = 1;          // with a line of 100 mm, to measure shrinkage by
    double seconds = 10;        // how long the sheets are improved
    // The maker's choice to reckon offcuts by a layout: the share, by weight, of the rolled clay that became the piece,
    // and the area that was cut then. 0: by extra.cutting_density.
    double nested_share = 0;
    double nested_cut_mm2 = 0;
    std::vector<CutPin> pins; // one a cut at most
    bool operator==(CuttingSpec const&) const = default;
};

} // namespace leafwright
