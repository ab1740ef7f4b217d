// Acts on one row, and what follows when a hand lays or moves a leaf.
#include "bench/desk.h"

#include "base/units.h"
#include "rows/row_adjust.h"
#include "rows/row_guide.h"

#include <algorithm>

namespace leafwright {
namespace {

constexpr double kSnap_mm = 6;

// On the line of a row near by; its own place counts for nothing in that line.
void snap(Desk& desk, LeafPlacement& leaf) {
    std::vector<LeafPlacement> others = desk.state.history.now().leaves;
    std::erase_if(others, [&](LeafPlacement const& other) { return other.id == leaf.id; });
    RowPlace const place = row_place(row_guides(others), spot_of(leaf), kSnap_mm);
    desk.ui.snapped_row = place.row;
    if (place.row == 0) return;
    leaf.from_crown_mm = place.spot.from_crown_mm;
    leaf.row = place.row;
}

struct ByHand {
    Desk& desk;

    void settle(std::vector<LeafPlacement>& leaves) const {
        for (LeafPlacement& leaf : leaves) {
            LeafPlacement const* const before = leaf_of(desk.state.history.now(), leaf.id);
            if (before == nullptr || *before != leaf) leaf.pinned = true;
        }
        bool const snaps = desk.ui.placing && desk.ui.snap_to_rows && !desk.ui.off_rows && leaves.size() == 1;
        if (snaps) snap(desk, leaves.front());
    }
    void operator()(SetLeaves& command) const { settle(command.leaves); }
    void operator()(AddLeaves& command) const { settle(command.leaves); }
    template <class Other> void operator()(Other&) const {}
};

std::optional<SetRow> adjusted(Desk const& desk, AdjustRow const& adjust) {
    Piece const& piece = desk.state.history.now();
    if (!desk.state.plan) return std::nullopt;
    ClaySurface const& face = *desk.state.plan->outer_face;
    switch (adjust.what) {
    case AdjustRow::What::slide:
        return SetRow{adjust.row, slid_row(face, piece.leaves, adjust.row, adjust.slide_mm, piece.rows.mirror),
                      "Slide"};
    case AdjustRow::What::space: {
        bool const closer = adjust.count > loose_leaves_in_row(piece.leaves, adjust.row);
        return SetRow{adjust.row, respaced_row(face, piece.leaves, adjust.row, adjust.count),
                      closer ? "Tighten" : "Loosen"};
    }
    case AdjustRow::What::kind:
        return SetRow{adjust.row, row_of_kind(piece.leaves, adjust.row, adjust.kind), "Other leaf in", adjust.kind};
    case AdjustRow::What::pin: {
        SetRow pinned{adjust.row, {}, "Pin"};
        for (LeafPlacement leaf : piece.leaves) {
            if (leaf.row != adjust.row) continue;
            leaf.pinned = true;
            pinned.leaves.push_back(leaf);
        }
        return pinned;
    }
    }
    return std::nullopt;
}

} // namespace

void adjust_row(Desk& desk, AdjustRow const& adjust) {
    auto const command = adjusted(desk, adjust);
    if (!command) return;
    if (adjust.preview)
        desk.state.history.preview(*command);
    else
        carry_out(desk, Commit{*command});
}

Command by_hand(Desk& desk, Command command) {
    std::visit(ByHand{desk}, command);
    return command;
}

} // namespace leafwright
