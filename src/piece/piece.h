// The document: what the maker wants, as plain values. Everything else is computed from it (see plan.h).
#pragma once

#include "body/body.h"
#include "rows/feature.h"
#include "rows/lay_rows.h"
#include "slab/slab.h"

namespace leafwright {

struct HangingSpec {
    std::string kind = "lugs"; // lugs, holes
    double above_centre_mm = 60;
    double half_span_mm = 90;
    std::string wire = "wire:copper-1.0";
    bool operator==(HangingSpec const&) const = default;
};

struct FiringSpec {
    std::string name = "first";
    double top_degC = 1000; // 600 to 1350
    bool operator==(FiringSpec const&) const = default;
};

// Small things that are weighed rather than modelled.
struct ExtraClaySpec {
    double slip_g_per_m2 = 600;  // slip for scored joints, of leaf area; a default, common practice, no source
    double cutting_density = 0.6; // share of the rolled sheet that becomes leaves, until a cutting sheet is nested
    bool operator==(ExtraClaySpec const&) const = default;
};

struct Piece {
    std::string name = "New piece";
    std::uint64_t seed = 1;
    FormerSpec former;
    SlabSpec slab;
    std::vector<LeafKindSpec> leaf_kinds; // ids unique
    RowRules rows;
    std::vector<LeafPlacement> leaves; // in laying order: later over earlier; ids unique
    std::vector<Feature> features;
    BodySpec body;
    HangingSpec hanging;
    std::vector<FiringSpec> firing;
    ExtraClaySpec extra;
    std::string kept_json; // members of the file that this version keeps but does not read ("drying", "kiln", ...)
    bool operator==(Piece const&) const = default;
};

// An oval of 300 x 400 mm with three leaf kinds, their rules and no leaves: what "New" gives.
Piece new_piece();

// The demo pieces of assets/demo/, by name: "hare", "sun", "owl".
std::vector<std::string> demo_names();
Outcome<Piece> demo_piece(std::string_view name);

} // namespace leafwright
