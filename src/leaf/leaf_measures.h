// What a leaf measures, in botany's words.
#pragma once

#include "leaf/own_leaf.h"

namespace leafwright {

struct LeafMeasures {
    double length_mm = 0; // of the blade: the stalk left out
    double width_mm = 0;
    double area_mm2 = 0; // holes off
    double perimeter_mm = 0;
    double shape_factor = 0; // area over length times width (Montgomery 1911): 1/2 a triangle, pi/4 an ellipse
    double widest_share = 0; // height of the widest place, base to tip
    double apex_deg = 0;     // at the tip, to the margin a quarter of the length below it
    double base_deg = 0;     // at the foot, likewise; above 180 for a heart-shaped one
    double notch_share = 0;  // depth of a notched tip, share of the way to the leaf's middle
    std::string shape;       // "ovate"
    std::string apex;        // "acute"
    std::string base;        // "obtuse"
    std::string size;        // "microphyll"
    std::string margin;      // "serrate"; see leaf_margin.h
    int teeth = 0;
};

LeafMeasures measures(OwnLeaf const& leaf);

// Names by length to width (Systematics Association, Taxon 11 (1962)): between the ratios that it lists the geometric
// mean is the limit. widest_share: middle fifth elliptic, below ovate, above obovate; `oblong`: parallel sides over the
// middle third.
std::string shape_name(double length_to_width, double widest_share, bool oblong);
// Raunkiaer's classes by area, with Webb's notophyll (1959).
std::string size_class(double area_mm2);
std::string apex_name(double angle_deg, double notch_share);
std::string base_name(double angle_deg);

// r = (|cos(m f / 4) / a|^n2 + |sin(m f / 4) / b|^n3)^(-1/n1) (Gielis, Am. J. Bot. 90 (2003) 333).
struct GielisForm {
    double m = 4, a = 1, b = 1, n1 = 2, n2 = 2, n3 = 2;
};
double gielis_radius(GielisForm const& form, double azimuth);
// A drawn leaf of that outline, base at its lowest crossing of the upright axis.
OwnLeaf gielis_leaf(GielisForm const& form, double length_mm, int points = 400);

} // namespace leafwright
