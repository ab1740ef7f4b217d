// A leaf of the maker's own as a file (*.leaf.json): leafwright "leaf", version 1, id, name, date, place, source
// "traced|svg|drawn", scale_error, stalk_mm, veins "pinnate|lobed|palmate|parallel|forking|none|drawn", vein_seed,
// midrib_mm [[x, y], ...] from base to tip, outline_mm [[x, y], ...], holes [{points_mm [[x, y], ...]}], drawn_veins
// likewise. The same object stands in a piece's own_leaves. Frame and units: own_leaf.h.
#pragma once

#include "leaf/own_leaf.h"

#include <filesystem>

namespace leafwright {

// The leaf upright and checked. Problems name the key by its JSON path. Limits: as a piece's, 2,000 points a ring, 40
// holes.
Outcome<OwnLeaf> own_leaf_from_json(std::string_view text);
std::string own_leaf_to_json(OwnLeaf const& leaf);

Outcome<OwnLeaf> load_own_leaf(std::filesystem::path const& path);
MaybeProblem save_own_leaf(std::filesystem::path const& path, OwnLeaf const& leaf);

// Ranges, then check_own_leaf().
MaybeProblem check_leaf_values(OwnLeaf const& leaf);

} // namespace leafwright
