// Leaves traced from a photograph or a scan: outlines at true size.
//
// Pixels: (0, 0) is the middle of the upper left pixel of the photo as read (turned upright), x right, y down. Where a
// photo was shrunk while it was read, these are pixels of the shrunk one; lengths that the maker gives in pixels
// (bar_px, dpi) are those of the file.
#pragma once

#include "base/polygon.h"
#include "base/task.h"
#include "leaf/own_leaf.h"
#include "leaf/photo.h"

#include <array>
#include <optional>

namespace leafwright {

enum class KnownSheet { a4, a5, letter };
struct PaperSides {
    double short_mm = 210;
    double long_mm = 297;
};
PaperSides sides_of(KnownSheet paper); // ISO 216; 8.5 x 11 in.

// What the true size is taken from.
enum class ScaleFrom {
    paper, // a whole sheet lies under the leaves, all four corners in the picture: tilt is taken out
    bar,   // a length in the picture is known; the camera looked straight down
    dpi,   // a scan, at dots per inch that the maker confirms
};

struct TraceScale {
    ScaleFrom from = ScaleFrom::paper;
    KnownSheet paper = KnownSheet::a4;
    std::optional<std::array<Vec2, 4>> corners_px; // set by hand, in any order
    double bar_mm = 0;
    double bar_px = 0; // its length in the picture, or
    std::optional<std::array<Vec2, 2>> bar_ends_px;
    double dpi = 0;
};

struct CutLine {
    Vec2 from_px{0, 0};
    Vec2 to_px{0, 0};
    bool operator==(CutLine const&) const = default;
};

struct TraceOptions {
    TraceScale scale;
    bool keep_stalk = false;
    bool close_holes = false;
    double tolerance_mm = 0.15; // 0.05 to 1: how far the outline may lie from the edge as seen
    double least_leaf_mm2 = 40; // smaller things are dust
    double least_hole_mm2 = 3;  // smaller holes are glints
    std::vector<CutLine> cuts;  // part leaves that touch
};

// A plane map of the picture to the paper (row by row), and back. mm run as the pixels do: y down.
struct PhotoScale {
    std::array<double, 9> mm_of_px{};
    std::array<double, 9> px_of_mm{};
    double error = 0;                              // expected error of a length, one standard deviation, as a share
    std::string error_from;                        // where most of it comes from, in words
    double tilt_deg = 0;                           // of the paper to the picture, when it is known
    std::optional<std::array<Vec2, 4>> corners_px; // of the paper, in order round the sheet
    Vec2 mm(Vec2 const& px) const;
    Vec2 px(Vec2 const& mm) const;
    double px_per_mm(Vec2 const& at_px) const;
};

struct TracedLeaf {
    // The leaf's frame, as OwnLeaf's: the base at (0, 0), the tip straight above.
    Polygon outline_mm;
    std::vector<Vec2> midrib_mm; // from the base to the tip
    double length_mm = 0;        // base to tip, the stalk left out
    double width_mm = 0;         // square to that, the stalk left out
    double area_mm2 = 0;         // of the outline: holes off; with the stalk when it was kept
    double perimeter_mm = 0;     // of the outer edge
    double stalk_mm = 0;         // as found; whether it belongs to the outline is an option
    double edge_mm = 0;          // width of the edge in the picture (blur), 10 to 90 %
    // The same in the picture.
    Polygon outline_px;
    std::vector<Vec2> midrib_px;
    Vec2 base_px{0, 0};
    Vec2 tip_px{0, 0};
    Vec2 stalk_end_px{0, 0}; // the base when no stalk was found
    // What makes it doubtful.
    bool cut_by_edge = false;    // it reaches the edge of the paper or the picture: a part is missing
    bool several = false;        // narrow necks part it: leaves that touch, or one that is much divided
    bool faint = false;          // hardly any colour: a shadow beside it looks the same
    bool glared = false;         // light mirrored by the leaf hides a stretch of its edge
    bool straight_edged = false; // a rectangle, or grey: a ruler, a label, a coin rather than a leaf
    bool looks_sound() const { return !cut_by_edge && !straight_edged; }
};

struct TraceStage {
    std::string name;
    double ms = 0;
};

struct Trace {
    PhotoScale scale;
    std::vector<TracedLeaf> leaves; // in reading order; doubtful ones too
    std::vector<Problem> remarks;   // what the maker should know; none is a refusal
    std::vector<TraceStage> stages;
};

// Where the scale comes from, without tracing: for the maker to see and set right.
// Problem "trace.paper" (none found, a corner outside the picture, of another shape), "range".
Outcome<PhotoScale> photo_scale(Photo const& photo, TraceScale const& scale);

// Finds the leaves and follows their edges to parts of a pixel: shading, colour cast and coloured paper are taken out
// by the paper seen beside the leaves, shadows are told from leaves by their want of colour.
// Accuracy: see tests/leaf/trace_test.cpp. Cost: about 60 ns a pixel. Same photo, same trace.
// Problem "trace.paper", "trace.none", "trace.blurred", "trace.cut" (every leaf is cut by the edge), "trace.cancelled",
// "range".
Outcome<Trace> trace_photo(Photo const& photo, TraceOptions const& options, Task& task);

// The leaf with its base and tip set by hand, in the picture: turned anew and measured anew.
TracedLeaf with_ends(TracedLeaf leaf, PhotoScale const& scale, Vec2 const& base_px, Vec2 const& tip_px);

// For the leaf book. id and name are the caller's.
OwnLeaf own_leaf_of(TracedLeaf const& leaf, PhotoScale const& scale, bool keep_stalk);

} // namespace leafwright
