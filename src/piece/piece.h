// The document: what the maker wants, as plain values. Everything else is computed from it (see plan.h).
#pragma once

#include "body/body.h"
#include "body/tiles.h"
#include "drying/drying.h"
#include "finish/finish.h"
#include "firing/firing.h"
#include "hanging/hanging.h"
#include "leaf/own_leaf.h"
#include "piece/cost.h"
#include "piece/cutting_spec.h"
#include "rows/feature.h"
#include "rows/lay_rows.h"
#include "slab/slab.h"

namespace leafwright {

// Small things that are weighed rather than modelled.
struct ExtraClaySpec {
    double slip_g_per_m2 = 600;   // slip for scored joints, of leaf area; a default, common practice, no source
    double cutting_density = 0.6; // share of the rolled sheet that becomes leaves, until a cutting sheet is nested
    bool operator==(ExtraClaySpec const&) const = default;
};

struct Piece {
    // Made in members.cpp alone: copying all this is much code, and every file that handles a piece would hold it.
    Piece();
    Piece(Piece const& other);
    Piece(Piece&& other) noexcept;
    Piece& operator=(Piece const& other);
    Piece& operator=(Piece&& other) noexcept;
    ~Piece();
    bool operator==(Piece const& other) const;

    std::string name = "New piece";
    std::uint64_t seed = 1;
    FormerSpec former;
    SlabSpec slab;
    std::vector<OwnLeaf> own_leaves;      // the maker's own that leaf_kinds name as "own:ID"; upright, ids unique
    std::vector<LeafKindSpec> leaf_kinds; // ids unique
    RowRules rows;
    std::vector<LeafPlacement> leaves; // in laying order: later over earlier; ids unique
    std::vector<Feature> features;
    BodySpec body;
    TileSet tiles; // measured by the maker; its clay and name are not used
    HangingSpec hanging;
    DryingSpec drying;
    std::vector<FiringSpec> firing;
    FinishSpec finish;
    KilnSpec kiln;
    CostSpec cost;
    CuttingSpec cutting;
    ExtraClaySpec extra;
    std::string kept_json; // members of the file that this version keeps but does not read ("former.scan")
};

// An oval of 300 x 400 mm with three leaf kinds, their rules and no leaves: what "New" gives.
Piece new_piece();

// The demo pieces of assets/demo/, by name: "hare", "sun", "owl".
std::vector<std::string> demo_names();
Outcome<Piece> demo_piece(std::string_view name);

} // namespace leafwright
