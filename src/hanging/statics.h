// How a piece hangs by a wire over one hook: plain statics without friction.
//
// y off the wall, z up from the piece's middle. The wire runs from two lugs at (+-half_span, lug_y, lug_z) to the hook,
// `rise` above them while the piece hangs flush. The lower rim meets the wall at z = -low, the upper at z = +high.
#pragma once

namespace leafwright {

struct HangingRig {
    double weight_N = 50;
    double centre_y_mm = 60; // centre of gravity
    double centre_z_mm = 0;
    double low_mm = 200;
    double high_mm = 200;
    double half_span_mm = 90;
    double lug_y_mm = 15;
    double lug_z_mm = 80;
    double hook_y_mm = 8;
    double rise_mm = 50;
};

enum class Contact {
    flush,       // both rims touch
    leaning,     // the lower rim only: the top stands off
    top_pressed, // the upper rim only: the foot stands off
};

struct HangingState {
    Contact contact = Contact::flush;
    double lean_deg = 0;   // forward at the top is positive
    double tension_N = 0;  // in each leg of the wire
    double pull_out_N = 0; // level pull on the hook, off the wall
    double foot_N = 0;     // against the wall at the lower rim
    double top_N = 0;      // and at the upper one
    double angle_deg = 0;  // of a leg from the level
};

// T = W Lw/(2 h); pull-out F = W (lug_y - hook_y)/h; tipping about the lower rim M = W (y_c - y_l) - F (z_l + low): at
// most 0 flush, with M/(low + high) at the top, else leaning until M = 0; the same about the upper rim. Bisection to
// 1e-10 rad.
HangingState hang(HangingRig const& rig);

// Two equal legs at an angle from the level: T = W/(2 sin A), inward pull W/(2 tan A).
double leg_tension_N(double weight_N, double angle_deg);
double leg_pull_N(double weight_N, double angle_deg);
// Two level hooks 2b apart, centre of gravity e towards the first: W (b + e)/(2b) there, the rest on the other.
double hook_share_N(double weight_N, double apart_mm, double towards_mm);
// A lug as a cantilever: 6 F L/(b t^2), N/mm2.
double lug_bending_N_mm2(double force_N, double reach_mm, double wide_mm, double thick_mm);

} // namespace leafwright
