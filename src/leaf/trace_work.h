// What the steps of trace_photo() hand to each other. For src/leaf/trace_*.cpp alone: it brings in OpenCV.
//
// Light is linear, 0 to 1. The coarse picture is the photo averaged by `step`; the middle of the coarse pixel (i, j) is
// the photo's pixel (i + 0.5) step - 0.5.
#pragma once

#include "leaf/trace.h"

#include <opencv2/core.hpp>

namespace leafwright {

std::array<float, 256> const& linear_light(); // of an sRGB value (IEC 61966-2-1)

// trace_coarse.cpp
struct Coarse {
    int step = 1;
    cv::Mat3f light;
    double scale() const { return 1.0 / step; }
    Vec2 coarse_of(Vec2 const& px) const { return (px + 0.5) / static_cast<double>(step) - 0.5; }
    Vec2 px_of(Vec2 const& coarse) const { return (coarse + 0.5) * static_cast<double>(step) - 0.5; }
};
Coarse coarse_of(Photo const& photo, int long_side);
inline constexpr int kCoarseSide = 1500;
// The value below which that share lies; 0 of none.
float quantile(std::vector<float> values, double share);
// CIE Lab of light seen against a white of (1, 1, 1).
cv::Mat3f lab_of(cv::Mat3f const& light);

// trace_homography.cpp: maps plane points by nine numbers, row by row.
using Map9 = std::array<double, 9>;
Vec2 mapped(Map9 const& map, Vec2 const& p);
std::optional<Map9> map_of(std::array<Vec2, 4> const& from, std::array<Vec2, 4> const& to);
std::optional<Map9> inverse_of(Map9 const& map);
// How long the sheet is for its width, and how far it is tilted: of its corners, for a camera whose axis meets the
// middle of the picture. Corners in order; the answer is side 0-1 over side 1-2.
struct SheetView {
    double ratio = 1;
    double tilt_deg = 0;
};
SheetView sheet_view(std::array<Vec2, 4> const& corners, double width_px, double height_px);

// trace_paper.cpp and trace_paper_edge.cpp
struct FoundSheet {
    std::array<Vec2, 4> corners_px; // in order round the sheet
    double support = 0;             // 0 to 1: how much of its edges is seen
    double corner_error_px = 0;
    double bow_px = 0; // how far the sides bend
};
// In the coarse picture, to about a coarse pixel. Nothing: no sheet.
std::optional<FoundSheet> find_sheet(Coarse const& coarse, double ratio);
// By its lightness alone, to some coarse pixels; its shape is not looked at.
std::optional<FoundSheet> find_light_sheet(Coarse const& coarse);
// The sides followed in the photo to parts of a pixel. Nothing: the edges are not there.
std::optional<FoundSheet> sharpened(Photo const& photo, FoundSheet const& sheet, double reach_px);

// trace_scale.cpp: photo_scale() for a picture that is coarse already.
Outcome<PhotoScale> scale_seen(Photo const& photo, Coarse const& coarse, TraceScale const& scale);

// trace_area.cpp
struct LeafArea {
    cv::Mat1b mask;                  // 255 where leaves may lie, 0 elsewhere, in the coarse picture
    std::optional<FoundSheet> sheet; // that lies under them though it does not give the scale
};
LeafArea leaf_area(Photo const& photo, Coarse const& coarse, PhotoScale const& scale);

// trace_ground.cpp
struct Ground {
    cv::Mat3f light;    // what the bare paper would look like, everywhere
    double luma = 0;    // its usual lightness, against the brightest of the picture
    double noise_l = 1; // of bare paper in L, a and b (robust standard deviations)
    double noise_ab = 1;
};
// area: 255 where leaves may lie, 0 elsewhere.
Outcome<Ground> ground_of(Coarse const& coarse, cv::Mat1b const& area);

// trace_mask.cpp
struct Part {
    int label = 0;
    cv::Rect box;
    double area_px = 0;
    bool touches_edge = false;
    bool grey = false;  // without colour of its own, beside leaves that have
    bool faint = false; // hardly any colour: a shadow beside it looks the same
};
struct Mask {
    cv::Mat1i labels; // 0: paper
    std::vector<Part> parts;
    cv::Mat1b cut; // 255 where a cut line runs through leaf and just beside it; empty without cuts
    // Against the paper: distance from its colour, how much darker than it (L; negative: lighter). Empty on dark paper.
    cv::Mat1f colour;
    cv::Mat1f dark;
};
Mask leaf_mask(Coarse const& coarse, Ground const& ground, cv::Mat1b const& area, std::vector<CutLine> const& cuts,
               double least_px);

// trace_edge.cpp: the leaves' edges in the photo, as closed lines around 0.5 of "how much leaf".
struct EdgeRings {
    std::vector<Ring> rings; // in the photo's pixels, the longest first; the others are its holes
    double edge_px = 0;      // width of the edge, 10 to 90 %
};
// Local colours of leaf and paper beside every edge, made better in `rounds`; moves the mask with them.
struct Sides {
    cv::Rect box; // of the coarse picture: what the fields below cover
    cv::Mat3f leaf;
    cv::Mat3f paper;
    cv::Mat1f shade; // how much the paper beside the leaf varies by shade alone
};
Sides sides_of(Coarse const& coarse, Ground const& ground, cv::Mat1b const& area, Mask& mask, int rounds);
EdgeRings edge_rings(Photo const& photo, Coarse const& coarse, Sides const& sides, Mask const& mask, Part const& part);

// trace_glare.cpp: light mirrored by the leaf hides its colour. Holes that it makes are taken out of `edge`.
struct Glare {
    double holes_px2 = 0; // of the holes taken out
    double edge_px = 0;   // length of the outer edge beside which the leaf is as pale as paper
};
Glare take_glare_out(Coarse const& coarse, Ground const& ground, Mask const& mask, Part const& part, EdgeRings& edge);

// trace_contour.cpp: closed lines where a field is 0.5 (marching squares), its border counted as 0.
std::vector<Ring> half_lines(cv::Mat1f const& field);

// trace_line.cpp
// Smoothed and thinned so that no point of `ring` is further than `tolerance` away; keeps the area.
Ring fair_ring(Ring const& ring, double tolerance);

// trace_axis.cpp: in mm, y down as in the picture.
struct LeafAxis {
    Vec2 base{0, 0};
    Vec2 tip{0, 0};
    double stalk_mm = 0;
    Vec2 stalk_end{0, 0}; // the base when there is none
    Ring blade;           // the outer ring without its stalk
    Ring whole;           // the outer ring with it
};
LeafAxis leaf_axis(Ring const& outer);
bool has_necks(Ring const& outer);
double rectangle_share(Ring const& outer);

// trace_double.cpp
bool lie_on_each_other(Ring const& outer); // cuts between sharp inward corners leave whole leaves

// trace_midrib.cpp: from base to tip along the vein, where it can be seen; mm.
std::vector<Vec2> midrib_of(Photo const& photo, PhotoScale const& scale, Ring const& outer, Vec2 const& base,
                            Vec2 const& tip);

} // namespace leafwright
