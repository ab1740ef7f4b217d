// What a maker can do to a piece. Each command is a pure function Piece -> Piece; undo is the history of pieces.
#pragma once

#include "base/once_made.h"
#include "piece/piece.h"

#include <variant>

namespace leafwright {

// One command per act at the bench. Ids that do not exist are passed over.
struct SetFormer {
    FormerSpec former;
};
struct SetSlab {
    SlabSpec slab;
};
struct SetBody {
    BodySpec body;
};
struct SetTiles {
    TileSet tiles;
};
struct SetHanging {
    HangingSpec hanging;
};
struct SetExtra {
    ExtraClaySpec extra;
};
struct SetDrying {
    DryingSpec drying;
};
struct SetFinish {
    FinishSpec finish;
};
struct SetKiln {
    KilnSpec kiln;
};
struct SetCost {
    CostSpec cost;
};
struct SetCutting {
    CuttingSpec cutting;
};
// Offcuts are reckoned by a layout from now on (see CuttingSpec); a share of 0: by the usual density again.
struct UseNest {
    double share = 0;
    double cut_mm2 = 0;
};
struct PinCut {
    CutPin pin;
}; // adds it, or moves the one of that cut
struct UnpinCut {
    std::string cut;
}; // "": all of them
struct SetRows {
    RowRules rows;
};
struct SetSeed {
    std::uint64_t seed = 1;
};
struct SetName {
    std::string name;
};
struct SetFirings {
    std::vector<FiringSpec> firing;
};
struct SetLeafKind {
    LeafKindSpec kind;
}; // adds it, or changes the one of that id
struct RemoveLeafKind {
    std::string id;
}; // and its leaves, and its name in the rules
// A leaf of the maker's own and a kind of it at its true length; see own_leaves.h.
struct AddOwnLeaf {
    OwnLeaf leaf;
    double thickness_mm = 5;
};
struct SetOwnLeaf {
    OwnLeaf leaf;
    std::string what = "Change leaf"; // for the undo list
};                                    // in place of the one of that id
struct RenameOwnLeaf {
    std::string id;
    std::string name;
};
struct RemoveOwnLeaf {
    std::string id;
}; // and its kinds with their leaves
struct AddLeaves {
    std::vector<LeafPlacement> leaves;
}; // on top; ids are given anew, see next_leaf_id
struct SetLeaves {
    std::vector<LeafPlacement> leaves;
}; // those of the same id are replaced in place
struct ReplaceAllLeaves {
    std::vector<LeafPlacement> leaves;
};
// A new arrangement and the seed that it came from, as one act.
struct SetArrangement {
    std::vector<LeafPlacement> leaves;
    std::uint64_t seed = 1;
};
// One row as it is to be, see row_adjust.h: its leaves take the places of the old ones in the laying order, what is
// over comes after the last of them. New leaves have id 0; ids must not be those of other rows. `what`: for the undo
// list. `kind`: the row's rule takes that kind alone from now on; its other rows keep theirs. Empty: as it was.
struct SetRow {
    int row = 1;
    std::vector<LeafPlacement> leaves;
    std::string what = "Change";
    std::string kind = {};
};
struct RemoveLeaves {
    std::vector<int> ids;
};
enum class OrderChange { over_one, under_one, to_top, to_bottom };
// `past`: over_one and under_one go just beyond this leaf, such as the next one in contact; 0: by one place in the
// order.
struct ReorderLeaves {
    std::vector<int> ids;
    OrderChange change = OrderChange::over_one;
    int past = 0;
};
struct CopyLeaves {
    std::vector<int> ids;
    double by_azimuth_deg = 0;
    double by_from_crown_mm = 10;
};
struct MirrorLeaves {
    std::vector<int> ids;
}; // adds mirror images across the upright axis
struct AddFeature {
    Feature feature;
};
struct SetFeature {
    int index = 0;
    Feature feature;
};
struct RemoveFeature {
    int index = 0;
};

using AnyCommand =
    std::variant<SetFormer, SetSlab, SetBody, SetTiles, SetHanging, SetExtra, SetRows, SetSeed, SetName, SetFirings,
                 SetDrying, SetFinish, SetKiln, SetCost, SetCutting, UseNest, PinCut, UnpinCut, SetLeafKind,
                 RemoveLeafKind, AddOwnLeaf, SetOwnLeaf, RenameOwnLeaf, RemoveOwnLeaf, AddLeaves, SetLeaves,
                 ReplaceAllLeaves, SetArrangement, SetRow, RemoveLeaves, ReorderLeaves, CopyLeaves, MirrorLeaves,
                 AddFeature, SetFeature, RemoveFeature>;
using Command = OnceMade<AnyCommand>; // made in members.cpp

// What the command did, for the undo list: "Move leaf", "Change former".
std::string label(Command const& command);

// Leaves keep to the limits of the file (scale 0.3 to 3, ...): values outside are brought to the nearest limit.
Piece apply(Piece const& piece, Command const& command);

int next_leaf_id(Piece const& piece);
// The mirror image across the upright axis through the crown.
LeafPlacement mirror_image(LeafPlacement const& leaf);

} // namespace leafwright
