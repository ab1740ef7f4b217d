#include "piece/plan.h"

#include <algorithm>

namespace leafwright {

LeafPattern const* Plan::pattern_of(LeafPlacement const& leaf) const {
    for (auto const& pattern : patterns)
        if (pattern->spec.id == leaf.kind) return pattern.get();
    return nullptr;
}

OverlapOfLeaf const* Plan::overlap_of(int leaf_id) const {
    auto const& all = leaves.overlap.leaves;
    auto const found = std::find_if(all.begin(), all.end(), [&](auto const& leaf) { return leaf.id == leaf_id; });
    return found == all.end() ? nullptr : &*found;
}

LeafRelief const* Plan::relief_of(int leaf_id) const {
    auto const found = std::find_if(stack->leaves.begin(), stack->leaves.end(),
                                    [&](auto const& relief) { return relief->id == leaf_id; });
    return found == stack->leaves.end() ? nullptr : found->get();
}

} // namespace leafwright
