// A small piece for the view's tests: an oval with two rings of leaves, a boss below the middle and a round opening
// above.
#pragma once

#include "piece/planner.h"

namespace leafwright::sample {

inline Piece piece(bool with_opening = true) {
    Piece piece = new_piece();
    piece.leaves.clear();
    piece.features.clear();
    int id = 1;
    for (int ring = 0; ring < 2; ++ring)
        for (int k = 0; k < 10; ++k)
            piece.leaves.push_back({.id = id++,
                                    .kind = piece.leaf_kinds[static_cast<std::size_t>(k) % piece.leaf_kinds.size()].id,
                                    .row = ring + 1,
                                    .azimuth_deg = 36.0 * k + 18 * ring,
                                    .from_crown_mm = 150.0 - 55 * ring,
                                    .turn_deg = 3.0 * k - 12});
    if (with_opening)
        piece.features.push_back({.kind = FeatureKind::opening, .width_mm = 70, .height_mm = 70, .rise_mm = 6});
    return piece;
}

inline std::shared_ptr<Plan const> plan_of(Piece const& piece) {
    Planner planner;
    auto plan = planner.plan(piece);
    return plan ? plan.value() : nullptr;
}

} // namespace leafwright::sample
