// What a piece does with leaves of the maker's own: they stand in it whole, so that its file needs no other.
#pragma once

#include "piece/piece.h"

namespace leafwright {

// The leaf that "own:ID" names; null when it is another outline, or not there.
OwnLeaf const* own_leaf_in(Piece const& piece, std::string_view outline);

// The leaf and a kind of it at its true length. An id that is taken by another is given anew; a leaf that the piece has
// already gets no second kind. Nothing changes when the leaf is not in order or the piece is full.
void add_own_leaf(Piece& piece, OwnLeaf leaf, double thickness_mm);
// In place of the one of that id; its kinds keep their length.
void set_own_leaf(Piece& piece, OwnLeaf leaf);
void rename_own_leaf(Piece& piece, std::string const& id, std::string const& name);

// Ids are unique, outlines in order.
MaybeProblem check_own_leaves(Piece const& piece);

} // namespace leafwright
