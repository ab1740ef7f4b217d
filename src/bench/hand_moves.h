// Where a leaf goes when a hand moves it: plain geometry in the equal-area chart, no window.
#pragma once

#include "piece/commands.h"

#include <optional>
#include <span>
#include <vector>

namespace leafwright {

// How far a leaf's middle may lie beyond the rim when it is moved by hand.
inline constexpr double kBeyondRimMost_mm = 60;

Spot spot_of(LeafPlacement const& leaf);
Spot spot_of(Feature const& feature);

// The same leaf with its middle there (kept within kBeyondRimMost_mm of the rim), still turned as it was from
// "outward".
LeafPlacement placed_at(ClaySurface const& surface, LeafPlacement leaf, Spot const& spot);
Feature placed_at(ClaySurface const& surface, Feature feature, Spot const& spot);

// Dragged so that what was under the pointer at `from` is under it at `to`. One leaf goes with the pointer in the
// chart; several keep their places among each other round the crown.
std::vector<LeafPlacement> dragged(ClaySurface const& surface, std::span<LeafPlacement const> leaves, Spot const& from,
                                   Spot const& to);
// Moved by a small step in the chart, x right and y up.
LeafPlacement nudged(ClaySurface const& surface, LeafPlacement const& leaf, Vec2 const& step_mm);

LeafPlacement turned_by(LeafPlacement leaf, double turn_deg); // kept in (-180, 180]
LeafPlacement sized_by(LeafPlacement leaf, double factor);    // kept in 0.3 to 3

// The angle of a spot about a leaf's middle in the chart, counter-clockwise, and its distance.
double angle_about_deg(ClaySurface const& surface, LeafPlacement const& leaf, Spot const& spot);
double distance_from_mm(ClaySurface const& surface, LeafPlacement const& leaf, Spot const& spot);

// The row of the leaf laid nearest to the spot; 1 when there is none.
int row_near(ClaySurface const& surface, std::span<LeafPlacement const> leaves, Spot const& spot);

// The leaves of those ids, in laying order.
std::vector<LeafPlacement> leaves_of(Piece const& piece, std::span<int const> ids);
LeafPlacement const* leaf_of(Piece const& piece, int id);

} // namespace leafwright
