// Seeded arrangements of leaves in a plane, for the tests and benchmarks of the overlap engine.
#pragma once

#include "base/random.h"
#include "rows/overlap.h"

namespace leafwright::layouts {

enum class LeafForm { lobed, serrated, plain, holed };

struct Layout {
    CladZone zone;
    std::vector<OverlapLeaf> leaves;
};

struct Pose {
    Vec2 at{0, 0};
    double turn_rad = 0;
    double scale = 1;
};

inline constexpr int kLeafPoints = 120;

// About 70 x 40 mm, 120 points (a holed one has 24 more in two holes).
Polygon leaf_of(LeafForm form, Pose const& pose);
OverlapLeaf as_leaf(int id, Polygon polygon);
std::shared_ptr<Ring const> ellipse(Vec2 const& centre, Vec2 const& half_size, int points);

// Leaves of every form scattered over a round rim that they cover `cover` times, some beyond it; three keep-clear
// rings, of which two overlap each other and one the rim.
Layout scattered(int count, std::uint64_t seed, double cover = 2.2);
// The same, but on one piece of 220 mm radius whatever the count: the more leaves, the more lie on each other.
Layout crowded(int count, std::uint64_t seed);
// Squares of a few sizes on a lattice of 5 mm: shared edges, shared corners, many that are the same.
Layout lattice(int count, std::uint64_t seed);
// Leaves of one form, each again and again: the same, shrunk about its middle, or moved along its own length.
Layout repeated(int count, std::uint64_t seed);

// A pose near the leaf's old one, or elsewhere on the piece.
Pose random_pose(Random& random, double radius_mm);

} // namespace leafwright::layouts
