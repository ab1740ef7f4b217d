// The cutting sheets of a plan: everything that is cut from rolled clay, nested on as little of it as can be.
// It takes a second or more, so it is asked for apart from the plan, like the second half.
#pragma once

#include "cutting/nest.h"
#include "piece/plan.h"

#include <functional>

namespace leafwright {

enum class CutKind { slab, leaf, lug, strip, bar };

// A line on a piece: cut through (a notch) or only drawn with the needle.
struct CutMark {
    std::vector<Vec2> line_mm;
    bool cut = false;
    bool operator==(CutMark const&) const = default;
};

// One thing to cut, as seen from above: leaves with their veins up, the slab with its outer face up.
struct CutItem {
    CutKind kind = CutKind::leaf;
    int number = 0;    // a leaf's id in the arrangement; others from 1
    std::string name;  // as pins call it: "leaf 12", "slab", "lug 1"
    std::string label; // as it stands on the sheet: "12", "Slab", "Lug 1"
    int row = 0;       // of a leaf
    double thickness_mm = 0;
    Polygon outline_mm; // the slab about its crown, a leaf with its stalk end at the origin, others about their middle
    double area_mm2 = 0;
    std::vector<CutMark> marks;
    std::shared_ptr<LeafPattern const> pattern; // of a leaf, with its size and hand
    double scale = 1;
    bool flipped = false;
    Vec2 number_mm{0, 0}; // where its label stands best, with the room round it
    double number_room_mm = 0;
};
bool operator==(CutItem const& a, CutItem const& b); // patterns by value

// The leaf's own drawing as it is cut: scaled, mirrored when flipped.
LeafShape shape_of(CutItem const& leaf);

// Slab, leaves in laying order, lugs (rounds whose clay makes the balls), the lips of openings as strips, test bars.
// Lugs, strips and bars are as thick as the slab. Strips longer than the sheet come in several.
std::vector<CutItem> cut_items(Plan const& plan);

struct CutPlace {
    int item = 0; // index into CuttingAnswer::items
    NestPose pose;
    bool pinned = false;
};

// Length along x, the rolling direction; width along y.
struct CutSheet {
    int number = 1;   // in the order of making
    int in_group = 1; // among those of its thickness; pins call it so
    double thickness_mm = 0;
    Vec2 size_mm{0, 0};
    double edge_mm = 0; // kept clear along its edges
    std::vector<CutPlace> places;
    double cut_mm2 = 0;
    double rolled_mm2() const { return size_mm.x * size_mm.y; }
};

// Immutable once made.
struct CuttingAnswer {
    std::shared_ptr<Plan const> plan; // of which these are the sheets
    std::shared_ptr<std::vector<CutItem> const> items;
    std::vector<CutSheet> sheets; // in the order of making: those with the slab first, then by row
    std::vector<int> left_out;    // items that fit no sheet
    double rolled_mm2 = 0;
    double cut_mm2 = 0;
    double piece_mm2 = 0; // cut, less the test bars
    double density = 0;   // cut over rolled area
    double share = 0;     // by weight: of the rolled clay, what becomes part of the piece
    Figure rolled_g;
    Figure cut_g;
    Figure offcut_g;       // to reclaim: rolled less cut
    Figure bars_g;         // test bars: cut, but no part of the piece
    ClayAnswer clay;       // as the plan's, with these offcuts (bars among them)
    int beside_slab = 0;   // leaves that are cut from the slab's own offcut
    bool improved = false; // false: the first layout, made without search
    double first_density = 0;
    std::vector<Warning> warnings; // refusals first

    CutItem const& item_of(CutPlace const& place) const { return (*items)[static_cast<std::size_t>(place.item)]; }
};

struct CuttingOptions {
    std::optional<std::uint64_t> seed; // none: the piece's
    double seconds = -1;               // to improve; below 0: as the piece says; 0: the first layout only
    int rounds = 0;                    // more than 0: so many, whatever the time: the answer is repeatable
    int threads = 2;
    // To be improved further, when the same things are cut. When pins alone differ, the rest is laid from where it
    // lies.
    std::shared_ptr<CuttingAnswer const> from;
};

// Called with every better answer, valid each, from a thread of the nesting's own.
using CuttingImproved = std::function<void(std::shared_ptr<CuttingAnswer const> const&)>;

// Best so far when `task` is cancelled. Never fails: what fits no sheet is left out and told in a warning, pins that
// are in each other's way are not kept and told. Cost: the first answer for 100 leaves about a second.
std::shared_ptr<CuttingAnswer const> plan_cutting(std::shared_ptr<Plan const> const& plan,
                                                  CuttingOptions const& options, Task& task,
                                                  CuttingImproved const& improved = {});

// Whether both plans ask for the same layout: same things to cut, same sheets, gaps, grain and pins.
bool same_cutting(Plan const& a, Plan const& b);

// One entry of a piece's pins for a place on a sheet of this answer, moved there.
CutPin pin_of(CuttingAnswer const& answer, CutSheet const& sheet, CutPlace const& place);
// Whether what is pinned keeps its gaps and its sheet when `pin` is added: the first fault in a sentence, or none.
std::optional<std::string> pin_fault(CuttingAnswer const& answer, CutSheet const& sheet, CutPin const& pin);

// What is on a sheet: "slab, 2 lugs, 1 test bar", "61 leaves".
std::string contents_words(CuttingAnswer const& answer, CutSheet const& sheet);

// The object "cutting" of plan.json with every path, alone as a file.
std::string cutting_to_json(CuttingAnswer const& answer);

struct SecondHalf;
// plan.json with the object "cutting", which tells where all pieces lie, but not their paths.
std::string plan_to_json(Plan const& plan, SecondHalf const& second, CuttingAnswer const& cutting);
// The sheets that plan.json tells of: improved by a fixed, small number of rounds, so that the same piece always gives
// the same. A second or two.
std::shared_ptr<CuttingAnswer const> plan_cutting_briefly(std::shared_ptr<Plan const> const& plan, Task& task);

} // namespace leafwright
