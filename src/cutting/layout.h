// Where all pieces lie while they are being nested: in the row of sheets, by their centres.
#pragma once

#include "cutting/nest_shapes.h"

namespace leafwright {

class PairTables;

struct PiecePose {
    int number = kUnplaced; // of the turned shape in the model, or kOwnTurn
    double turn_deg = 0;    // for a turn of its own
    bool mirrored = false;
    Vec2 at{0}; // the centre

    static constexpr int kOwnTurn = -1, kUnplaced = -2;
};

struct Layout {
    std::vector<PiecePose> poses; // by piece
};

// The pose's turned shape: the model's, or made into `scratch`.
TurnedShape const& turned_of(NestModel const& model, int piece, PiecePose const& pose, TurnedShape& scratch);

int sheet_of(NestModel const& model, double x);

// The figures of a layout, the used lengths taken from the outlines as they lie. Pieces on sheets beyond at_most are
// told as unplaced.
NestResult result_of(NestModel const& model, Layout const& layout);
// The other way; only for a complete result.
Layout layout_of(NestModel const& model, std::vector<NestPlacement> const& placements);

// How much is used in all, to compare layouts by: full sheets before the last count whole.
double row_length(NestModel const& model, Layout const& layout);

// Piece by piece, the large ones first, each as far to the start as it goes. All pieces are placed, on as many sheets
// as that takes.
Layout first_layout(NestModel const& model, PairTables const& tables);

// Pieces beyond the sheets that are allowed are laid anew where the others leave room.
Layout filled_up(NestModel const& model, PairTables const& tables, Layout const& layout);

} // namespace leafwright
