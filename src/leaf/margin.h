// The margin of one half of a leaf, drawn at length 1: from the stalk end (0, 0) up the right side (x > 0) to the tip.
#pragma once

#include "base/polygon.h"
#include "base/random.h"
#include "leaf/leaf_form.h"

namespace leafwright {

using Line = std::vector<Vec2>;

// A cubic with its two handles (Bezier).
struct Bend {
    Vec2 from;
    Vec2 from_handle;
    Vec2 to_handle;
    Vec2 to;
};

// A margin by its length along the edge.
struct Track {
    Line points;
    std::vector<double> along;     // length up to each point
    std::vector<double> bend_ends; // length up to the end of each bend
    double length() const { return along.back(); }
    Vec2 at(double s) const;
    Vec2 forward(double s) const; // unit
    Vec2 outward(double s) const; // unit, away from the blade
    // Length along the edge of its point nearest to p.
    double nearest(Vec2 const& p) const;
};

Track track_of(std::vector<Bend> const& bends);

// Where the ribs of the lobes run in this half, from the base to the tip; the last one is the midrib.
struct Rib {
    Vec2 root;
    Vec2 tip;
};

struct SmoothHalf {
    Track track;
    std::vector<Rib> ribs; // of lobed and palmate leaves
};

// The margin without teeth.
SmoothHalf smooth_half(LeafForm const& form, Random& random);

// One tooth between its two feet on the margin.
struct Tooth {
    double before = 0;
    double apex = 0;
    double after = 0;
    double height = 0;
    int secondary = 0; // small teeth on its long flank
    Vec2 tip{0, 0};    // set by with_teeth()
};

// Teeth at those places of the edge (serrate), sorted; the spacing sets their size.
std::vector<Tooth> teeth_at(std::vector<double> const& places, ToothForm const& form, Track const& track);
// Teeth that lean to the tip of each lobe.
std::vector<Tooth> teeth_on_flanks(Track const& track, ToothForm const& form);

// The margin with its teeth, waves or spines; fills in the teeth's tips.
Line with_teeth(Track const& track, ToothForm const& form, std::vector<Tooth>& teeth, Random& random,
                double unevenness);

// At most `count` points, those that matter most (Douglas-Peucker by bisection of its tolerance).
Line thinned(Line const& line, int count);

} // namespace leafwright
