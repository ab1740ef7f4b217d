// Pieces for tests: every part filled in, with numbers that have no short decimal form.
#pragma once

#include "base/random.h"
#include "piece/piece_json.h"

namespace leafwright::sample {

inline LeafPlacement leaf(int id, Random& random) {
    LeafPlacement made;
    made.id = id;
    made.kind = random.below(2) == 0 ? "hornbeam" : "hazel";
    made.row = 1 + static_cast<int>(random.below(4));
    made.azimuth_deg = random.between(-360, 360);
    made.from_crown_mm = random.between(0, 300);
    made.turn_deg = random.between(-180, 180);
    made.scale = random.between(0.3, 3);
    made.flipped = random.below(2) == 0;
    made.pinned = random.below(5) == 0;
    return made;
}

inline Piece full_piece(std::uint64_t seed, int leaves = 12) {
    Random random(seed);
    Piece piece = new_piece();
    piece.name = "Pröbe \"" + std::to_string(seed) + "\"\n";
    piece.seed = 18446744073709551615ULL - seed;
    piece.former.outline.kind = OutlineKind::free;
    piece.former.outline.points_mm = {{150.1, 0.3}, {0.1, 180.7}, {-149.9, 1.0 / 3.0}, {2.0 / 7.0, -170}};
    piece.former.profile.crown_mm = random.between(50, 90);
    piece.slab.thickness_mm = random.between(5, 12);
    piece.slab.cuts = {{12.5, 60}, {200.0 / 3, 45.1}};
    piece.rows.mirror = false;
    piece.rows.rules[0].side_lap = 0.1 + 0.2; // 0.30000000000000004
    for (int i = 1; i <= leaves; ++i) piece.leaves.push_back(leaf(i * 3, random));
    Feature eye;
    eye.kind = FeatureKind::eye;
    eye.azimuth_deg = 77.7;
    eye.turn_deg = -12.3456789012345678;
    piece.features = {eye, Feature{}};
    piece.body.water_dry_basis = {0.25, 0.25, 0.25, FigureFrom::measured};
    piece.body.absorption = {0.02, 0.02, 0.02, FigureFrom::computed};
    piece.hanging.kind = "holes";
    piece.kept_json = "";
    return piece;
}

// A dome clad in rings of leaves by plain arithmetic, without the laying solver: 120 leaves when rings is 5.
inline Piece clad_piece(int rings) {
    Piece piece = new_piece();
    piece.former.outline = {OutlineKind::round, 340, 340, 0.5, 2, {}};
    piece.former.profile.crown_mm = 80;
    Random random(11);
    int id = 1;
    for (int ring = 0; ring < rings; ++ring) {
        int const around = 40 - 8 * ring;
        for (int i = 0; i < around; ++i) {
            LeafPlacement leaf;
            leaf.id = id++;
            leaf.kind = (i + ring) % 2 == 0 ? "hornbeam" : "hazel";
            leaf.row = ring + 1;
            leaf.azimuth_deg = 360.0 * (i + 0.5 * (ring % 2)) / around;
            leaf.from_crown_mm = 185 - 36 * ring;
            leaf.turn_deg = random.between(-6, 6);
            leaf.scale = random.between(0.9, 1.1);
            piece.leaves.push_back(leaf);
        }
    }
    return piece;
}

} // namespace leafwright::sample
