#include "hanging/statics.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

struct Turned {
    double y = 0;
    double z = 0; // above the pivot
};

// A point turned with the piece about a rim on the wall (y 0, z pivot); positive leans the top forward.
Turned turned(double y, double z, double pivot, double lean) {
    double const s = std::sin(lean);
    double const c = std::cos(lean);
    return {y * c + (z - pivot) * s, -y * s + (z - pivot) * c};
}

// Everything at one lean about one rim.
struct Pose {
    Turned lug, centre;
    double rise = 0; // hook above lugs; not a number when the wire is too short
};

double wire_half_mm(HangingRig const& r) {
    double const out = r.lug_y_mm - r.hook_y_mm;
    return std::sqrt(r.half_span_mm * r.half_span_mm + r.rise_mm * r.rise_mm + out * out);
}

Pose pose_of(HangingRig const& r, double pivot, double lean) {
    Pose pose{turned(r.lug_y_mm, r.lug_z_mm, pivot, lean), turned(r.centre_y_mm, r.centre_z_mm, pivot, lean), 0};
    double const out = pose.lug.y - r.hook_y_mm;
    double const wire = wire_half_mm(r);
    pose.rise = std::sqrt(wire * wire - r.half_span_mm * r.half_span_mm - out * out);
    return pose;
}

// Slope of the height of the centre of gravity with the lean: 0 at rest.
double slope(HangingRig const& r, double pivot, double lean) {
    Pose const p = pose_of(r, pivot, lean);
    return (p.lug.y - r.hook_y_mm) * p.lug.z / p.rise + p.lug.y - p.centre.y;
}

// From 0 towards `limit`, where the slope changes sign; the limit when it does not.
double resting_lean(HangingRig const& r, double pivot, double limit) {
    bool const falls = slope(r, pivot, 0) * limit < 0;
    if (!falls) return 0;
    double from = 0;
    double to = limit;
    // The wire gets too short first: there the slope is taken as past rest.
    for (int round = 0; round < 60; ++round) {
        double const middle = 0.5 * (from + to);
        double const s = slope(r, pivot, middle);
        bool const before = std::isfinite(s) && s * limit < 0;
        (before ? from : to) = middle;
    }
    return from;
}

constexpr double kMostLean_rad = 1.2;

} // namespace

HangingState hang(HangingRig const& rig) {
    double const forward = resting_lean(rig, -rig.low_mm, kMostLean_rad);
    double const backward = resting_lean(rig, rig.high_mm, -kMostLean_rad);
    HangingState state;
    state.contact = forward > 0 ? Contact::leaning : backward < 0 ? Contact::top_pressed : Contact::flush;
    double const lean = forward > 0 ? forward : backward;
    Pose const pose = pose_of(rig, lean >= 0 ? -rig.low_mm : rig.high_mm, lean);
    double const out = pose.lug.y - rig.hook_y_mm;
    state.lean_deg = degrees(lean);
    state.tension_N = rig.weight_N * wire_half_mm(rig) / (2 * pose.rise);
    state.pull_out_N = rig.weight_N * out / pose.rise;
    state.angle_deg = degrees(std::atan2(pose.rise, std::hypot(rig.half_span_mm, out)));
    if (state.contact == Contact::leaning)
        state.foot_N = state.pull_out_N;
    else if (state.contact == Contact::top_pressed)
        state.top_N = state.pull_out_N;
    else {
        state.top_N = rig.weight_N * slope(rig, -rig.low_mm, 0) / (rig.low_mm + rig.high_mm);
        state.foot_N = state.pull_out_N - state.top_N;
    }
    return state;
}

double leg_tension_N(double weight_N, double angle_deg) { return weight_N / (2 * std::sin(radians(angle_deg))); }
double leg_pull_N(double weight_N, double angle_deg) { return weight_N / (2 * std::tan(radians(angle_deg))); }

double hook_share_N(double weight_N, double apart_mm, double towards_mm) {
    return weight_N * (apart_mm / 2 + towards_mm) / apart_mm;
}

double lug_bending_N_mm2(double force_N, double reach_mm, double wide_mm, double thick_mm) {
    return 6 * force_N * reach_mm / (wide_mm * thick_mm * thick_mm);
}

} // namespace leafwright
