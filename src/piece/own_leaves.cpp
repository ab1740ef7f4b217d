// What a piece does with leaves of the maker's own.
#include "piece/own_leaves.h"

#include "piece/fields.h"
#include "piece/leaf_file.h"
#include "piece/piece_json.h"

#include <algorithm>

namespace leafwright {

namespace {

std::string outline_of(std::string const& id) { return std::string(kOwnOutline) + id; }

// A kind of this leaf, at its true size as far as kinds go.
LeafKindSpec kind_of(OwnLeaf const& leaf, double thickness_mm) {
    LeafKindSpec kind{leaf.id, outline_of(leaf.id), length_mm(leaf), thickness_mm};
    hold_in_range(kind);
    return kind;
}

std::vector<std::string> taken_ids(Piece const& piece) {
    std::vector<std::string> taken;
    for (LeafKindSpec const& kind : piece.leaf_kinds) taken.push_back(kind.id);
    for (OwnLeaf const& leaf : piece.own_leaves) taken.push_back(leaf.id);
    return taken;
}

} // namespace

OwnLeaf const* own_leaf_in(Piece const& piece, std::string_view outline) {
    if (!outline.starts_with(kOwnOutline)) return nullptr;
    auto const found = std::ranges::find(piece.own_leaves, outline.substr(kOwnOutline.size()), &OwnLeaf::id);
    return found == piece.own_leaves.end() ? nullptr : &*found;
}

void add_own_leaf(Piece& piece, OwnLeaf leaf, double thickness_mm) {
    leaf = upright(std::move(leaf));
    if (leaf.id.empty()) leaf.id = leaf_id_of(leaf.name);
    if (check_leaf_values(leaf)) return;
    auto const same = std::ranges::find(piece.own_leaves, leaf);
    bool const has_kind =
        std::ranges::find(piece.leaf_kinds, outline_of(leaf.id), &LeafKindSpec::outline) != piece.leaf_kinds.end();
    if (same != piece.own_leaves.end() && has_kind) return;
    if (piece.leaf_kinds.size() >= kMostKinds) return;
    if (same == piece.own_leaves.end()) {
        if (piece.own_leaves.size() >= kMostOwnLeaves) return;
        std::vector<std::string> const taken = taken_ids(piece);
        if (std::ranges::find(taken, leaf.id) != taken.end()) leaf.id = leaf_id_of(leaf.id, taken);
        piece.own_leaves.push_back(leaf);
    }
    LeafKindSpec kind = kind_of(leaf, thickness_mm);
    if (std::ranges::find(piece.leaf_kinds, kind.id, &LeafKindSpec::id) != piece.leaf_kinds.end())
        kind.id = leaf_id_of(kind.id, taken_ids(piece));
    piece.leaf_kinds.push_back(std::move(kind));
}

void set_own_leaf(Piece& piece, OwnLeaf leaf) {
    leaf = upright(std::move(leaf));
    auto const old = std::ranges::find(piece.own_leaves, leaf.id, &OwnLeaf::id);
    if (old != piece.own_leaves.end() && !check_leaf_values(leaf)) *old = std::move(leaf);
}

void rename_own_leaf(Piece& piece, std::string const& id, std::string const& name) {
    auto const leaf = std::ranges::find(piece.own_leaves, id, &OwnLeaf::id);
    if (leaf == piece.own_leaves.end()) return;
    leaf->name = name;
    hold_in_range(*leaf);
}

MaybeProblem check_own_leaves(Piece const& piece) {
    for (std::size_t i = 0; i < piece.own_leaves.size(); ++i) {
        OwnLeaf const& leaf = piece.own_leaves[i];
        std::string const at = "own_leaves[" + std::to_string(i) + "].";
        if (std::count_if(piece.own_leaves.begin(), piece.own_leaves.begin() + static_cast<std::ptrdiff_t>(i),
                          [&](OwnLeaf const& other) { return other.id == leaf.id; }) > 0)
            return Problem{"id.twice", at + "id", quoted_word(leaf.id) + " is the id of two leaves",
                           "Give each its own id"};
        if (MaybeProblem problem = check_own_leaf(leaf)) {
            problem->where = at + problem->where;
            return problem;
        }
    }
    return {};
}

MaybeProblem check_leaf_values(OwnLeaf const& leaf) {
    if (MaybeProblem problem = check_ranges(leaf)) return problem;
    return check_own_leaf(leaf);
}

Outcome<OwnLeaf> load_own_leaf(std::filesystem::path const& path) {
    Outcome<std::string> const text = read_file(path);
    if (!text) return text.problem();
    return own_leaf_from_json(*text);
}

MaybeProblem save_own_leaf(std::filesystem::path const& path, OwnLeaf const& leaf) {
    return write_file(path, own_leaf_to_json(leaf));
}

} // namespace leafwright
