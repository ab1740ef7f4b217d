#include "piece/fields.h"
#include "piece/own_leaves.h"
#include "piece/piece_json.h"

#include <algorithm>
#include <fmt/format.h>
#include <unordered_set>

namespace leafwright {

namespace {

std::string at(char const* list, std::size_t index, char const* key) {
    return std::string(list) + '[' + std::to_string(index) + "]." + key;
}

MaybeProblem check_kind_ids(Piece const& piece) {
    std::unordered_set<std::string_view> seen;
    for (std::size_t i = 0; i < piece.leaf_kinds.size(); ++i) {
        std::string const& id = piece.leaf_kinds[i].id;
        if (!seen.insert(id).second)
            return Problem{"id.twice", at("leaf_kinds", i, "id"),
                           fmt::format("{} is the id of two leaf kinds", quoted_word(id)), "Give each its own id"};
    }
    return {};
}

MaybeProblem check_outlines(Piece const& piece) {
    std::vector<DrawerEntry> const drawer = drawer_entries();
    std::vector<std::string_view> names;
    names.reserve(drawer.size());
    for (DrawerEntry const& entry : drawer) names.push_back(entry.name);
    for (std::size_t i = 0; i < piece.leaf_kinds.size(); ++i) {
        std::string_view const outline = piece.leaf_kinds[i].outline;
        std::string_view const name = outline.starts_with("drawer:") ? outline.substr(7) : std::string_view{};
        if (std::find(names.begin(), names.end(), name) != names.end() || own_leaf_in(piece, outline)) continue;
        if (outline.starts_with(kOwnOutline))
            return Problem{"leaf.unknown", at("leaf_kinds", i, "outline"),
                           fmt::format("{} is not among the piece's own leaves", quoted_word(outline)),
                           "Add it to own_leaves, or name a leaf of the drawer"};
        std::string const near = nearest_word(name, names);
        return Problem{"leaf.unknown", at("leaf_kinds", i, "outline"),
                       fmt::format("{} is not in the leaf drawer", quoted_word(outline)),
                       near.empty() ? "The drawer holds " + listed(names)
                                    : fmt::format("Did you mean \"drawer:{}\"", near)};
    }
    return {};
}

Problem no_such_kind(std::string where, std::string const& kind, std::unordered_set<std::string_view> const& kinds) {
    std::vector<std::string_view> names(kinds.begin(), kinds.end());
    std::sort(names.begin(), names.end());
    std::string const near = nearest_word(kind, names);
    return {"leaf.unknown", std::move(where),
            fmt::format("{} is not among the leaf kinds of this piece", quoted_word(kind)),
            near.empty() ? "Add it to leaf_kinds, or use one of: " + plain_word(listed(names))
                         : "Did you mean " + quoted_word(near)};
}

MaybeProblem check_rules(Piece const& piece, std::unordered_set<std::string_view> const& kinds) {
    int last_row = 0;
    for (std::size_t i = 0; i < piece.rows.rules.size(); ++i) {
        RowRule const& rule = piece.rows.rules[i];
        if (rule.row <= last_row)
            return Problem{"rows.order", at("rows.rules", i, "row"),
                           "is " + std::to_string(rule.row) + " after row " + std::to_string(last_row),
                           "Give the rules in the order of their rows, one each"};
        last_row = rule.row;
        if (rule.kinds.empty())
            return Problem{"range", at("rows.rules", i, "kinds"), "is empty", "Name at least one leaf kind"};
        for (std::size_t k = 0; k < rule.kinds.size(); ++k)
            if (!kinds.contains(rule.kinds[k]))
                return no_such_kind(at("rows.rules", i, "kinds") + '[' + std::to_string(k) + ']', rule.kinds[k], kinds);
    }
    return {};
}

MaybeProblem check_leaves(Piece const& piece, std::unordered_set<std::string_view> const& kinds) {
    std::unordered_set<int> ids;
    for (std::size_t i = 0; i < piece.leaves.size(); ++i) {
        LeafPlacement const& leaf = piece.leaves[i];
        if (!ids.insert(leaf.id).second)
            return Problem{"id.twice", at("leaves", i, "id"), std::to_string(leaf.id) + " is the id of two leaves",
                           "Give each leaf its own id"};
        if (!kinds.contains(leaf.kind)) return no_such_kind(at("leaves", i, "kind"), leaf.kind, kinds);
    }
    return {};
}

MaybeProblem check_covers(DryingSpec const& drying) {
    for (std::size_t i = 1; i < drying.covers.size(); ++i)
        if (drying.covers[i].from_day < drying.covers[i - 1].from_day)
            return Problem{"drying.order", at("drying.covers", i, "from_day"), "lies before the cover above it",
                           "Give the covers in the order of their days"};
    return {};
}

} // namespace

MaybeProblem check_values(Piece const& piece) {
    if (MaybeProblem problem = check_ranges(piece)) return problem;
    if (MaybeProblem problem = check_slab(piece.slab)) return problem;
    if (MaybeProblem problem = check_kind_ids(piece)) return problem;
    if (MaybeProblem problem = check_covers(piece.drying)) return problem;
    std::unordered_set<std::string_view> kinds;
    for (LeafKindSpec const& kind : piece.leaf_kinds) kinds.insert(kind.id);
    if (MaybeProblem problem = check_rules(piece, kinds)) return problem;
    return check_leaves(piece, kinds);
}

MaybeProblem check_piece(Piece const& piece) {
    if (MaybeProblem problem = check_values(piece)) return problem;
    if (MaybeProblem problem = check_own_leaves(piece)) return problem;
    return check_outlines(piece);
}

} // namespace leafwright
