#include "piece/planner.h"

#include "piece/commands.h"
#include "piece/piece_json.h"

namespace leafwright {

Outcome<LaidRows> lay_piece(Piece const& piece, Task& task) {
    // The rows are laid on the very surface that the plan measures them on: that of the piece without its loose leaves.
    Piece bare = piece;
    std::erase_if(bare.leaves, [](LeafPlacement const& leaf) { return !leaf.pinned; });
    Planner planner;
    Outcome<std::shared_ptr<Plan const>> plan = planner.plan(bare);
    if (!plan) return plan.problem();

    std::vector<LeafPattern> patterns;
    for (auto const& pattern : (*plan)->patterns) patterns.push_back(*pattern);
    LayRequest request;
    request.surface = (*plan)->outer_face.get();
    request.patterns = patterns;
    request.rules = piece.rows;
    request.features = piece.features;
    request.pinned = bare.leaves;
    request.seed = piece.seed;
    Outcome<LayResult> result = lay_rows(request, task);
    if (!result) return result.problem();
    LaidRows laid{apply(piece, ReplaceAllLeaves{result->leaves}), std::move(*result)};
    return laid;
}

} // namespace leafwright
