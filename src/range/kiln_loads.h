// Which pieces go into the kiln together: lying on shelves by their true outlines, shelves stacked, in as few loads as
// can be found.
//
// Filling: the kiln's room less its clearance on every side. The first pieces lie on the kiln's own floor shelf; the
// next shelf stands on posts, higher than the tallest piece below it by post_gap_mm. A piece that fits lying lies; one
// that fits only standing stands, and takes its width by its depth of the shelf.
#pragma once

#include "base/polygon.h"
#include "firing/firing.h"
#include "range/range_spec.h"

namespace leafwright {

// One kind of piece as it is when it goes in; equal copies.
struct LoadPiece {
    std::string name;
    Ring outline_mm; // lying, simple; anywhere
    PieceSize size;
    int copies = 1;
    double mass_g = 0;
    int firing = 0; // 0: bone dry; 1 and more: fired before
    std::string firing_name;
    double top_degC = 1000;
    double hours_up = 12;
    double hours_down = 28;
    double kWh = 0;                          // the whole kiln, with this piece alone
    double ware_kWh = 0;                     // of it in the piece
    std::vector<FiringSegment> own_segments; // the maker's own schedule; empty: proposed, a slower one does no harm
};

struct ShelfPlace {
    int kind = 0; // index into the pieces
    bool standing = false;
    Polygon outline_mm; // where it lies: from the room's left front corner, clearance taken off
};
struct KilnShelf {
    double base_mm = 0;   // its upper side above the lowest one's
    double height_mm = 0; // of the tallest piece on it
    std::vector<ShelfPlace> places;
};
struct KilnLoad {
    int firing = 0;
    std::string firing_name;
    std::vector<KilnShelf> shelves; // from the floor up
    std::vector<int> of_kind;       // copies, by piece
    double top_degC = 0;            // the highest of its pieces
    double hours_up = 0;            // the slowest
    double hours_down = 0;
    double kWh = 0;
    double mass_g = 0;
    double used_height_mm = 0;
    double filled = 0; // share of the shelves' area that pieces cover
    int hottest = 0;   // pieces that set the top and the pace
    int slowest = 0;
};
struct KilnMisfit {
    int kind = 0;
    std::string why;  // a sentence without full stop
    std::string hint; // likewise
};
struct LoadsAnswer {
    std::vector<KilnLoad> loads;
    int least = 0;        // no filling can do with fewer
    std::string least_by; // why: a sentence without full stop
    // The same if no more goes side by side on a shelf than the nesting found room for; 0: not looked into.
    int least_by_shelves = 0;
    bool all_tried = false; // every way was tried (a shelf that the nesting could not fill counts as too full)
    std::vector<KilnMisfit> misfits;
    double floor_mm2 = 0; // of one shelf, clearance taken off
    double room_height_mm = 0;
};

struct LoadOptions {
    std::uint64_t seed = 1;
    int nest_rounds = 4;    // of search for each set of pieces on a shelf
    int most_nodes = 20000; // of the search over fillings
    int most_nestings = 60;
};
// All pieces must belong to one firing (`firing` equal). Same input, same answer. Cost: nothing to speak of where one
// piece fills a shelf; else some 0.1 s for each set of pieces that might share one.
LoadsAnswer fill_kiln(KilnSpec const& kiln, ShelfSpec const& shelves, std::vector<LoadPiece> const& pieces,
                      LoadOptions const& options = {});

// Energy of a load: the lining's by the hottest and slowest, heat in all its pieces; the meter's figure where the kiln
// has one.
double load_kWh(KilnSpec const& kiln, std::vector<LoadPiece> const& pieces, std::vector<int> const& of_kind);

} // namespace leafwright
