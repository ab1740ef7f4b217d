// Test tiles: what the maker's own clay does, from lengths and masses read with a rule and a balance, each figure with
// its standard uncertainty. Formulas: shrinkage ASTM C326, absorption and density ASTM C373 / ISO 10545-3, uncertainty
// JCGM 100:2008 (GUM): repeats by the standard deviation of their mean (4.2.3), a reading error of +-a as a rectangle
// of half width a, a/sqrt(3) (4.3.7), both in quadrature, carried on by partial derivatives (5.1.2).
#pragma once

#include "body/body.h"

namespace leafwright {

// A value and its standard uncertainty (one standard deviation), in the same unit.
struct Measured {
    double value = 0;
    double uncertainty = 0;
    bool operator==(Measured const&) const = default;
};

// The same thing read once or several times; empty when it was not read.
using Readings = std::vector<double>;

struct TileState {
    Readings length_mm; // between the marks
    Readings mass_g;
    bool operator==(TileState const&) const = default;
};

struct TileFiring {
    std::string name = "first";
    double top_degC = 0; // 0: not told
    TileState state;
    bool operator==(TileFiring const&) const = default;
};

struct TestTile {
    std::string name;
    TileState plastic;
    TileState dry;
    std::vector<TileFiring> firings; // in the order of firing, all tiles alike
    Readings soaked_g;               // after the last firing: full of water, wiped
    Readings suspended_g;            // full of water, hung in water
    bool operator==(TestTile const&) const = default;
};

struct TileSet {
    std::string name;
    std::string clay = "body:stoneware"; // the body whose figures the tiles narrow
    double length_error_mm = 0.25;       // +-, of a rule with half millimetres
    double mass_error_g = 0.05;          // +-
    double water_g_cm3 = 0.9982;         // of the soaking water; 20 degC
    std::vector<TestTile> tiles;
    Readings lump_wet_g; // recycled clay: a lump weighed wet ...
    Readings lump_dry_g; // ... and bone dry
    bool operator==(TileSet const&) const = default;
};

struct FiredTiles {
    std::string name;
    double top_degC = 0;
    Measured firing_shrinkage; // of the dry length
    Measured total_shrinkage;  // of the plastic length
    Measured volume_shrinkage; // of the plastic volume
    Measured loss_on_ignition; // of the dry mass
};

// Absent where no tile has the readings for it.
struct TileAnswer {
    int tiles = 0;
    std::optional<Measured> drying_shrinkage;        // of the plastic length
    std::optional<Measured> drying_volume_shrinkage; // of the plastic volume
    std::optional<Measured> water_of_plasticity;     // of the dry mass
    std::vector<FiredTiles> firings;
    std::optional<Measured> absorption;     // water, of the fired mass, after the last firing
    std::optional<Measured> open_porosity;  // of the volume
    std::optional<Measured> bulk_g_cm3;     // mass / volume, open and closed pores included
    std::optional<Measured> apparent_g_cm3; // open pores left out
    std::optional<Measured> lump_water;     // of the recycled lump, dry basis
};

// A quantity read several times with a reading error of +-error. Not for an empty list.
Measured measured(Readings const& readings, double error);

// Each tile by itself, then the mean of the tiles: its uncertainty holds the scatter of the tiles and their own
// uncertainties, in quadrature. Problems: "tile.contradiction" when the readings cannot all be true (dry heavier than
// plastic, fired heavier than dry, soaked lighter than fired, longer when dry by more than the reading error ...),
// "range" for a length or mass that is not above 0, "tile.missing" when a reading lacks its partner.
Outcome<TileAnswer> tile_answer(TileSet const& set);

// The body with what the tiles tell: best value, and +- 2 standard uncertainties (about 95 %), marked as measured.
// Water from the lump goes before that of the tiles, and shrinkage follows it (see with_water()).
BodySpec narrowed(BodySpec const& body, TileAnswer const& tiles);

// The same clay made up with other water. Its shrinkage ends at the same water, where the particles touch; until then
// the volume lost is water lost: Sd = 1 - cbrt((1/rs + w_end/rw)/(1/rs + w/rw)). Kept as it is when the clay would not
// shrink at all.
BodySpec with_water(BodySpec const& body, Figure const& water_dry_basis);
// Water at which drying shrinkage ends, dry basis.
double shrinkage_end_water(double water_dry_basis, double particle_density_g_cm3, double drying_shrinkage);

// "Make it this big so that it ends at that": the plastic length for a finished length, with its range.
Figure plastic_length_mm(double finished_mm, Figure const& length_factor);

// Slip by Brongniart (Traite des arts ceramiques, vol. 1, 1854, p. 249): dry matter in a litre that weighs P grams,
// W = (P - 1000) G/(G - 1), G the density of the solids.
double slip_dry_g_per_litre(double grams_per_litre, double solids_g_cm3);

struct SlipMix {
    double clay_g = 0;  // plastic clay, torn small
    double water_g = 0; // to add
    double dry_g = 0;   // of it dry matter
};
// Problem "range" when a litre weighs less than water, more than the solids, or more than the clay itself would allow.
Outcome<SlipMix> slip_mix(double litres, double grams_per_litre, double solids_g_cm3, double clay_water_dry_basis);

} // namespace leafwright
