// What becomes of the leaves that are ticked on the tracing page.
#include "bench/trace_page.h"
#include "piece/leaf_book.h"

namespace leafwright {

Outcome<std::vector<OwnLeaf>> ticked_leaves(TracePage const& page) {
    std::vector<OwnLeaf> leaves;
    std::vector<std::string> ids;
    if (!page.scale) return leaves;
    for (TracedEntry const& entry : page.leaves) {
        if (!entry.taken || entry.leaf.cut_by_edge) continue;
        OwnLeaf leaf = own_leaf_of(entry.leaf, *page.scale, page.options.keep_stalk);
        leaf.name = entry.name.empty() ? std::string("Leaf") : entry.name;
        leaf.id = leaf_id_of(leaf.name, ids);
        ids.push_back(leaf.id);
        if (auto const problem = check_own_leaf(leaf)) return *problem;
        leaves.push_back(std::move(leaf));
    }
    return leaves;
}

MaybeProblem keep_in_book(std::filesystem::path const& folder, std::vector<OwnLeaf>& leaves) {
    for (OwnLeaf& leaf : leaves) {
        Outcome<OwnLeaf> kept = add_to_book(folder, leaf);
        if (!kept) return kept.problem();
        leaf = std::move(*kept);
    }
    return std::nullopt;
}

} // namespace leafwright
