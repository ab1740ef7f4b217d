// What the search works on: each shape about its own centre, in each turn and hand, as convex parts.
#pragma once

#include "cutting/nest.h"

namespace leafwright {

// A turn and a hand as a linear map. Quarter turns are exact.
struct TurnMap {
    double cosine = 1, sine = 0;
    bool mirrored = false;

    TurnMap(double turn_deg, bool mirror);
    Vec2 operator()(Vec2 p) const {
        if (mirrored) p.x = -p.x;
        return {cosine * p.x - sine * p.y, sine * p.x + cosine * p.y};
    }
};

struct ShapeModel {
    Polygon given;           // cleaned
    Vec2 centre{0};          // of its box: the point that the search moves
    std::vector<Ring> parts; // convex, about the centre
    Ring hull;               // of the given outline, about the centre
    Ring coarse;             // the hull with few points, a little larger, about the centre
    double area_mm2 = 0;
    double hull_mm2 = 0;
    double diameter_mm = 0; // of the hull
    bool any_turn = false;
};

// A shape in one turn and hand.
struct TurnedShape {
    int shape = 0;
    double turn_deg = 0;
    bool mirrored = false;
    Vec2 origin{0};          // of the given outline, seen from the centre
    Box2 box;                // of the given outline, about the centre
    std::vector<Ring> parts; // about the centre
};

struct NestPiece {
    int shape = 0;
    int copy = 0;
    int pinned = -1; // its TurnedShape when it stays where it is
    Vec2 pinned_at{0};
};

// The whole job, checked and made ready.
struct NestModel {
    NestSheets sheets;
    double gap_mm = 0, edge_gap_mm = 0;
    std::vector<ShapeModel> shapes;
    std::vector<TurnedShape> turned;        // all that may be used; for any turn: a first choice of them
    std::vector<std::vector<int>> turns_of; // by shape: indices into `turned`; pinned ones not among them
    std::vector<NestPiece> pieces;          // by shape, then by copy
    double total_mm2 = 0;
    double scale_mm = 0; // of the coordinates: for tolerances
};

// With its coarse hull as the only part.
TurnedShape coarse_shape(ShapeModel const& model, TurnedShape const& turned);

TurnedShape turned_shape(ShapeModel const& model, int shape, double turn_deg, bool mirrored);

// The Problems of nest(), but for "nest.pinned" by overlap.
Outcome<NestModel> nest_model(NestJob const& job);

// Sheets stand in a row along x: where sheet number `sheet` begins.
double sheet_start(NestModel const& model, int sheet);

// How far the centre of a turned shape may lie within a sheet of this length; low > high when it has no room.
Box2 room_of(NestModel const& model, TurnedShape const& turned, double length_mm);

} // namespace leafwright
