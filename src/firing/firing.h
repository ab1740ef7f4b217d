// A firing: its schedule, what the clay feels of it through its thickest place, hours and energy.
//
// Heat: one-dimensional conduction through the thickness (see Column), exchange with the kiln by radiation and a little
// convection, properties that change with temperature, and the heat that the clay's own water takes between 400 and
// 700 degC. Default figures: diffusivity about 2.4e-7 m2/s (kaolin, Michot et al., J. Eur. Ceram. Soc. 28 (2008) 2639,
// with a density of 1900 kg/m3); specific heat 850 J/kgK rising to 1050 above 500 degC; heat of the clay's water
// 0.75 MJ per kg of kaolinite, published 0.5 to 1.1 (from memory).
#pragma once

#include "base/figure.h"
#include "firing/kiln.h"

namespace leafwright {

struct FiringSegment {
    double rate_K_h = 100;     // above 0, to 1000; upward or downward as the target asks
    double target_degC = 1000; // 20 to 1400
    double hold_h = 0;         // at the target; 0 to 100
    bool operator==(FiringSegment const&) const = default;
};

struct FiringSpec {
    std::string name = "first";
    double top_degC = 1000;                // 600 to 1350; of proposed segments
    std::vector<FiringSegment> segments{}; // none: proposed by the thickest place
    bool operator==(FiringSpec const&) const = default;
};

struct FiringClay {
    double thickest_mm = 25;
    double mean_mm = 16;
    double dry_g = 5000;    // bone dry
    double water_share = 0; // still in it, of the dry mass: what the room's air leaves
    double loss = 0.08;     // on ignition; 0 when it has been fired before
    double density_g_cm3 = 1.9;
    bool fired_before = false;
    Figure fracture_strain{3e-4, 1e-4, 6e-4, FigureFrom::by_default}; // as the body's
    Figure expansion_per_K{6e-6, 4e-6, 8e-6, FigureFrom::by_default};
    bool operator==(FiringClay const&) const = default;
};

// Difference between skin and inside, K, at which heat alone breaks a plate, by sigma = E alpha dT/(1 - nu) (Timoshenko
// and Goodier, Theory of Elasticity, art. 153): with the parabola of a steady rise the inside, which lags, bears a
// third of it as pull while it warms, and the skin two thirds while it cools. Poisson's ratio 0.2. Low and high: the
// weakest clay with the most expansion, and the other way round.
Figure bearable_gradient_K(Figure const& fracture_strain, Figure const& expansion_per_K, bool cooling);

// Rules of common practice, no source, but for the quartz rule (Dodd and Murfin, Dictionary of Ceramics, 1994).
inline constexpr double kSteam_degC = 90; // held below 100 until it is dry
inline constexpr double kSteamHours_per_mm = 0.05;
inline constexpr double kQuartz_degC = 573;
inline constexpr double kQuartzRate_K_h = 50; // on cooling
// Of what a steady rise may bear (bearable_gradient_K()) a proposal uses half: 60 K with the usual figures, so that
// 30 mm of clay take about ten hours, as is common.
inline constexpr double kGradientShare = 0.5;
inline constexpr double kDiffusivity_m2_s = 2.4e-7;

// The thicker, the slower; a piece that stands takes heat from both sides. Ends with the top; cooling is by itself but
// where the kiln would fall through 573 degC faster than 50 K/h: there it is held back.
std::vector<FiringSegment> propose_segments(FiringSpec const& spec, FiringClay const& clay, KilnPlace place,
                                            KilnSpec const& kiln);

struct FiringMoment {
    double hour = 0;
    double kiln_degC = 0;
    double skin_degC = 0;
    double inside_degC = 0;  // the place of the thickness that lags most
    double difference_K = 0; // hottest less coldest through the thickness
};

struct FiringFinding {
    std::string code; // "firing.steam", "firing.quartz", "firing.water", "firing.gradient", "firing.cooling"
    std::string text; // a sentence without full stop
    std::string hint;
};

struct FiringAnswer {
    std::string name;
    double top_degC = 0;
    std::vector<FiringSegment> segments;
    bool proposed = false;
    std::vector<FiringMoment> moments; // every five minutes, for a plot
    double hours_up = 0;               // to the end of the hold at the top
    double hours_down = 0;             // from there to 100 degC
    double kWh = 0;                    // the whole kiln
    double ware_kWh = 0;               // of it heat in this piece: clay, water, the clay's own water
    double worst_gradient_K = 0;       // while it warms
    double worst_hour = 0;
    double worst_cooling_K = 0; // the same while it cools, below 900 degC, where it is stiff
    double worst_cooling_hour = 0;
    Figure bearable_K; // what it bears while it warms, and while it cools; no source for this clay
    Figure bearable_cooling_K;
    double quartz_rate_K_h = 0; // cooling through 573 degC
    double tau_h = 0;           // of the kiln's own cooling
    KilnFit fit;
    std::vector<FiringFinding> findings;
};

// Problem "firing.segments" when a schedule stands still or the first segment lies below the room.
// Accuracy of the temperatures: 0.1 K of the equations. Cost: 10 ms for 40 hours.
Outcome<FiringAnswer> fire(FiringSpec const& spec, FiringClay const& clay, KilnSpec const& kiln, PieceSize const& size);

// Heat into dry ware, kJ: mass, mean specific heat, rise.
double ware_heat_kJ(double mass_kg, double kJ_kgK, double from_degC, double to_degC);
// Heat to warm and boil water at 100 degC, kJ: 4.18 kJ/kgK and 2256.4 kJ/kg (steam tables).
double water_heat_kJ(double mass_kg, double from_degC);

} // namespace leafwright
