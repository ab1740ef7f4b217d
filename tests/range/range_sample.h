// Ranges of small pieces that plan quickly.
#pragma once

#include "piece/piece.h"
#include "range/range_plan.h"

namespace leafwright::sample {

inline Piece small_piece(double width_mm, int leaves = 6) {
    Piece piece = new_piece();
    piece.name = "Small";
    piece.former.outline.kind = OutlineKind::oval;
    piece.former.outline.width_mm = width_mm;
    piece.former.outline.height_mm = width_mm * 1.2;
    piece.former.profile = {ProfileKind::saucer, 30, 2, 0, 0};
    piece.hanging.half_span_mm = 0.2 * width_mm;
    piece.hanging.above_centre_mm = 0.1 * width_mm;
    for (int i = 0; i < leaves; ++i) {
        LeafPlacement leaf;
        leaf.id = i + 1;
        leaf.kind = i % 2 ? "hazel" : "hornbeam";
        leaf.azimuth_deg = 360.0 * i / leaves;
        leaf.from_crown_mm = 0.4 * width_mm;
        leaf.scale = 0.6 + 0.05 * i;
        piece.leaves.push_back(leaf);
    }
    return piece;
}

inline RangeSpec small_range(std::vector<int> const& copies) {
    RangeSpec spec;
    spec.name = "Three, small; \"round\"";
    spec.start = *day_from_text("2027-01-11");
    for (std::size_t i = 0; i < copies.size(); ++i)
        spec.pieces.push_back({"x", copies[i], "Plaque " + std::string(1, static_cast<char>('A' + i))});
    return spec;
}

} // namespace leafwright::sample
