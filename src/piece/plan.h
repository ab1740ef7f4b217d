// Everything that follows from a Piece. Immutable once made; parts are shared between plans when they did not change.
#pragma once

#include "piece/piece.h"
#include "rows/overlap.h"
#include "rows/stack.h"

#include <memory>

namespace leafwright {

struct ClayAnswer {
    Figure slab_g; // as cut from the flat, trim allowance included
    Figure leaves_g;
    Figure features_g;
    Figure lugs_g;
    Figure slip_g;
    Figure offcuts_g; // left between the leaves on their sheets: back into the bucket, but it must be kneaded
    Figure spare_g;
    Figure knead_g; // the sum of all these
    enum class OffcutsBy { usual_share, sheets, sheets_of_before } offcuts_by = OffcutsBy::usual_share;
};

struct Warning {
    std::string code;     // "bare", "slab.too-wide", "overhang", ...
    std::string stage;    // Knead, Roll, Drape, Leaves, Features, Dry, First firing, Finish, Last firing, Hang
    std::string text;     // one sentence
    std::string hint;     // what to do
    bool refusal = false; // the piece cannot be made as asked
};

// A place where clay is bare.
struct BareSpot {
    Spot at; // well inside it
    double area_mm2 = 0;
    Ring ring; // its edge in the chart; holes in it are taken off the area
};

// A place where leaves are piled so high that it dries badly; features are left out, they are thick on purpose.
struct ThickSpot {
    Spot at;                 // its highest cell
    double thickness_mm = 0; // there, slab and leaves
    double area_mm2 = 0;     // above the limit
};

struct LeavesAnswer {
    int count = 0;
    int rows = 0;
    double area_mm2 = 0; // cut leaves, flat
    double volume_mm3 = 0;
    double lap = 0;           // share of all leaf area that is covered by later leaves
    double stack_most_mm = 0; // without the slab
    double bonded_mm2 = 0;    // of all leaves, an estimate: where they lie on slab or leaf without a gap
    double hollow_mm3 = 0;    // under all leaves, an estimate
    OverlapFigures overlap;
    std::vector<BareSpot> bare_spots;   // largest first; specks below 0.1 mm2 are not listed
    std::vector<ThickSpot> thick_spots; // thickest first; specks below 4 mm2 are not listed
};

struct Plan {
    Plan(); // these in members.cpp, as Piece's
    Plan(Plan const& other);
    Plan(Plan&& other) noexcept;
    Plan& operator=(Plan const& other);
    Plan& operator=(Plan&& other) noexcept;
    ~Plan();

    Piece piece; // the very input

    std::shared_ptr<Former const> former;
    FormerMeasures former_measures;
    std::shared_ptr<ClaySurface const> outer_face; // leaves lie on it
    std::shared_ptr<SlabAnswer const> slab;
    std::vector<std::shared_ptr<LeafPattern const>> patterns; // as piece.leaf_kinds
    std::vector<std::shared_ptr<LaidLeaf const>> laid;        // as piece.leaves
    std::vector<LaidFeature> features;                        // as piece.features
    CladZone zone;
    LeavesAnswer leaves;
    std::shared_ptr<StackField const> stack;
    ClayAnswer clay;
    std::vector<StageAnswer> stages; // five
    std::vector<Warning> warnings;   // refusals first
    bool coarse = false;             // the slab is but roughly reckoned, while a slider moves: for no paper and no file

    LeafPattern const* pattern_of(LeafPlacement const& leaf) const;
    OverlapOfLeaf const* overlap_of(int leaf_id) const;
    LeafRelief const* relief_of(int leaf_id) const;
};

} // namespace leafwright
