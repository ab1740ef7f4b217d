// How the piece dries: water in the clay over its whole area, from plastic to bone dry.
//
// Lumped through the thickness L, with flow in the plane of the clay:
//   rho L dX/dt = div(rho L D T grad X) - n j(Xs),   j = k (a_w(Xs) - RH),   Xs = X - j (L/n)/(3 rho D),
// X water by dry mass, rho dry clay by plastic volume, T the metric of the chart (see FaceMap), a_w = 1 - exp(-X/X*)
// the clay's sorption. n is 1 while the back is sealed by the former, 1 + back_share afterwards, 2 for tips that stand
// free. Against the column through the thickness X is within 0.002. Finite volumes, backward Euler, Newton with
// conjugate gradients; the balance of water holds to rounding.
//
// Two weeks under polythene is controlled by the cover, not by the clay: time goes with thickness, and the flux is the
// figure to calibrate (fit_cover()). Diffusivity only sets the gradient; published values depend on the test (Chemkhi
// and Zagrouba, Desalination 185 (2005) 491), so the default is fitted to common practice and marked as a range.
#pragma once

#include "base/figure.h"
#include "base/task.h"
#include "body/body.h"
#include "drying/clay_map.h"

namespace leafwright {

enum class Cover { polythene, vented, open };
std::string_view cover_name(Cover cover); // "polythene", "vented", "open"

struct CoverPhase {
    Cover cover = Cover::polythene;
    double from_day = 0; // 0 to 120, rising; the first phase counts from the start
    bool operator==(CoverPhase const&) const = default;
};

// The piece on the scales, to calibrate the cover (fit_cover()).
struct Weighing {
    double day = 0;
    double mass_g = 0;
    bool operator==(Weighing const&) const = default;
};

// Defaults are ranges of common practice, no source, where nothing else is said.
struct DryingSpec {
    std::vector<CoverPhase> covers; // none: polythene throughout
    double former_out_day = 0;      // 0: when the piece is leather-hard; else 0 to 120
    double room_degC = 18;          // 2 to 40
    double room_humidity = 0.6;     // 0.2 to 0.95
    // First days under polythene, at 20 degC and 60 % humidity. Default: 25 mm dry in about two weeks.
    Figure flux_g_m2h{28.5, 25, 45, FigureFrom::by_default};
    // Water in clay, 1e-9 m2/s = 3.6 mm2/h; 5e-10 to 2e-9.
    Figure diffusivity_mm2_h{3.6, 1.8, 7.2, FigureFrom::by_default};
    double back_share = 0.3; // exchange of the hollow back, once the former is out, against the front; 0 to 1
    // Pull at which clay parts once its shrinkage is over, as stress over stiffness; thirty times that while plastic.
    // An estimate with a wide range, no source.
    Figure stretch{0.003, 0.001, 0.01, FigureFrom::by_default};
    std::vector<Weighing> weighings; // by day, rising
    bool operator==(DryingSpec const&) const = default;
};

// What one run needs, as plain numbers.
struct DryingClay {
    double dry_g_cm3 = 1.57; // dry mass / plastic volume
    double water = 0.25;     // at the start, dry basis
    double shrinkage_end = 0.14;
    double leather_water = 0.18;
    double drying_shrinkage = 0.06;
    bool operator==(DryingClay const&) const = default;
};
DryingClay drying_clay(BodySpec const& body);

inline constexpr double kSorptionWater = 0.03; // X* of a_w = 1 - exp(-X/X*); an estimate, no source

// Clay in balance with the room: X where a_w(X) = RH.
double balance_water(double room_humidity);
// First flux of a cover in a room, g/m2h: polythene as given and the others as multiples of it (vented 1.8, open 3.2;
// a still air layer of 7.5 mm gives about 90 g/m2h by ISO 10456), in proportion to the saturation pressure of the room.
double cover_flux_g_m2h(DryingSpec const& spec, Cover cover, double flux_g_m2h);

struct DryingMoment {
    double hour = 0;
    double mean = 0;    // water, dry basis, by dry mass
    double wettest = 0; // anywhere
    double driest = 0;  // on the slab, of all but the driest hundredth
    double water_g = 0;
    double mass_g = 0; // clay and water, without slip
};

// Water over the chart at one time, on cells of twice the size.
struct MoistureMap {
    double hour = 0;
    std::vector<float> water; // dry basis; -1 where there is no clay
};

enum class CrackClass { low, fair, high };
std::string_view crack_class_name(CrackClass c); // "low", "fair", "high"

// The pull in the clay (stress over stiffness, of misfit that has not crept away) over what it bears then, both by
// estimates: not calibrated, no probability. Three classes by the range of what clay bears: low while the pull is below
// the whole range, fair within it, high above it. Restraint by a hard former is not reckoned: pad it.
struct CrackAnswer {
    double index_most = 0; // pull over the middle of what clay bears
    double pull = 0;       // at the worst place and time
    Figure bears;          // what the clay bears then
    CrackClass found = CrackClass::low;
    double day = 0;
    Vec2 chart{0, 0};
    double thickness_mm = 0;    // there
    double around_mm = 0;       // mean thickness round it
    bool by_neighbours = false; // dries before its neighbours; else: its skin dries before its inside
    std::string why;            // a sentence
    std::string help;           // what helps
};

struct DryingAnswer {
    std::vector<DryingMoment> moments; // for a plot; the first is the start
    std::vector<MoistureMap> maps;     // about every six hours
    int map_columns = 0;
    int map_rows = 0;
    Vec2 map_origin_mm{0, 0}; // middle of the first cell
    double map_cell_mm = 4;
    double dry_g = 0;
    double dried_g = 0; // water given to the air
    double open_mm2 = 0;
    Figure days_to_leather_hard; // mean of the piece
    Figure days_to_bone_dry;     // its wettest place has lost 95 % of what it can lose to this room
    double former_out_day = 0;
    double worst_moisture_spread = 0; // wettest less driest, at its worst
    double worst_spread_day = 0;
    Vec2 wettest_chart{0, 0}; // place that dries last
    Vec2 driest_chart{0, 0};  // place that dries first
    bool finished = false;    // bone dry within the days that were looked at
    CrackAnswer crack;

    // Water at a place of the chart, between the maps; -1 where there is no clay.
    double water_at(double hour, Vec2 const& chart) const;
    DryingMoment at(double hour) const;
};

struct DryingOptions {
    double most_days = 120; // longer is not looked at
    bool ranges = true;     // also the slow and the fast end of flux and diffusivity, on coarse cells
    bool maps = true;
};

// Nothing when cancelled. Cost: about 0.15 s for 20 days on cells of 2 mm.
std::optional<DryingAnswer> dry(ClayMap const& clay, DryingClay const& body, DryingSpec const& spec,
                                DryingOptions const& options, Task& task);

// The cover from daily weighings: the slope of mass against time while the clay is wet (the constant-rate period).
struct CoverFit {
    double flux_g_m2h = 0;
    double uncertainty_g_m2h = 0; // standard, of the straight line's slope
    int used = 0;
};
// Uses weighings while more than 60 % of the water is left: later the surface falls dry and the slope with it.
// Problems: "cover.few" below three, "cover.contradiction" when the piece gains mass or weighs less than its dry clay.
Outcome<CoverFit> fit_cover(std::vector<Weighing> const& weighings, double open_mm2, double dry_g, double start_water);

} // namespace leafwright
