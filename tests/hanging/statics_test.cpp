#include "base/random.h"
#include "base/units.h"
#include "hanging/statics.h"
#include "near.h"

#include <cmath>
#include <initializer_list>
#include <utility>

using namespace leafwright;

namespace {

// Height of the centre of gravity above the hook, by turning the piece as a whole about the rim that stays on the wall.
double height_mm(HangingRig const& r, double lean) {
    double const pivot = lean >= 0 ? -r.low_mm : r.high_mm;
    auto const out = [&](double y, double z) { return y * std::cos(lean) + (z - pivot) * std::sin(lean); };
    auto const up = [&](double y, double z) { return (z - pivot) * std::cos(lean) - y * std::sin(lean); };
    double const wire2 = r.half_span_mm * r.half_span_mm + r.rise_mm * r.rise_mm +
                         (r.lug_y_mm - r.hook_y_mm) * (r.lug_y_mm - r.hook_y_mm);
    double const off = out(r.lug_y_mm, r.lug_z_mm) - r.hook_y_mm;
    double const hook = up(r.lug_y_mm, r.lug_z_mm) + std::sqrt(wire2 - r.half_span_mm * r.half_span_mm - off * off);
    return up(r.centre_y_mm, r.centre_z_mm) - hook;
}

// Lean of least height of the centre of gravity: a walk downhill, then thirds. Knows nothing of forces.
double lean_by_energy_deg(HangingRig const& rig) {
    auto const height = [&](double lean) {
        double const h = height_mm(rig, lean);
        return std::isfinite(h) ? h : 1e300;
    };
    double best = 0;
    for (double step : {1e-3, -1e-3}) // downhill from hanging flush
        while (std::abs(best) < 1.2 && height(best + step) < height(best)) best += step;
    double low = best - 2e-3;
    double high = best + 2e-3;
    for (int i = 0; i < 80; ++i) {
        double const third = (high - low) / 3;
        (height(low + third) < height(high - third) ? high : low) =
            height(low + third) < height(high - third) ? high - third : low + third;
    }
    return degrees(0.5 * (low + high));
}

// The half shell of 400 x 300 x 120 mm, 4.389 kg; the hook 30 degrees above lugs 80 mm up.
HangingRig half_shell(double lug_y, double hook_y) {
    HangingRig rig;
    rig.weight_N = 4.389 * kStandardGravity_m_s2;
    rig.centre_y_mm = 67.39;
    rig.half_span_mm = 90;
    rig.lug_y_mm = lug_y;
    rig.hook_y_mm = hook_y;
    rig.rise_mm = 90 * std::tan(radians(30));
    return rig;
}

} // namespace

TEST_CASE("the weight of 12.5 kg, and two legs that bear it") {
    // Standard gravity 9.80665 m/s2 (3rd CGPM 1901); T = W/(2 sin A).
    double const w = 12.5 * kStandardGravity_m_s2;
    CHECK_NEAR(w, 122.583125, 1e-9);
    CHECK_NEAR(leg_tension_N(w, 15), 236.8124126, 1e-6);
    CHECK_NEAR(leg_tension_N(w, 30), 122.583125, 1e-6);
    CHECK_NEAR(leg_tension_N(w, 45), 86.67935895, 1e-7);
    CHECK_NEAR(leg_tension_N(w, 60), 70.77340022, 1e-7);
    double const angle = degrees(std::atan2(40, 150));
    CHECK_NEAR(angle, 14.93141718, 1e-8);
    CHECK_NEAR(leg_tension_N(w, angle), 237.8752309, 1e-6);
    CHECK_NEAR(leg_pull_N(w, angle), 229.8433594, 1e-6);
}

TEST_CASE("the factor 1/sin A of the rigging tables") {
    // Printed: 80 1.015, 70 1.064, 60 1.155, 50 1.305, 45 1.414, 30 2.000; exact 65 1.103377919, 35 1.743446796.
    for (auto const& [angle, printed] : {std::pair{80.0, 1.015},
                                         {75.0, 1.035},
                                         {70.0, 1.064},
                                         {60.0, 1.155},
                                         {50.0, 1.305},
                                         {45.0, 1.414},
                                         {30.0, 2.0}})
        CHECK_NEAR(leg_tension_N(2, angle), printed, 5.01e-4);
    CHECK_REL(leg_tension_N(2, 65), 1.103377919, 1e-9);
    CHECK_REL(leg_tension_N(2, 40), 1.555723827, 1e-9);
    CHECK_REL(leg_tension_N(2, 35), 1.743446796, 1e-9);
}

TEST_CASE("two level hooks share the weight by moments") {
    double const w = 122.583125;
    CHECK_NEAR(hook_share_N(w, 300, 20), 69.46377083, 1e-7);
    CHECK_NEAR(hook_share_N(w, 300, -20), 53.11935417, 1e-7);
}

TEST_CASE("a piece that leans pushes its foot and pulls its hook by W d/H") {
    // Moments: d = 60 mm in front of the hook, foot 400 mm below it: 18.38746875 N, resultant 123.9545140 N. Two lugs
    // together on the axis; the rig is chosen to be at rest at the lean at which d and H are these.
    HangingRig rig;
    rig.weight_N = 122.583125;
    rig.half_span_mm = 1e-9;
    rig.low_mm = 300;
    rig.high_mm = 300;
    rig.centre_y_mm = 60;
    rig.hook_y_mm = 0;
    rig.rise_mm = 60;
    rig.lug_z_mm = 40;
    rig.lug_y_mm = 9; // F = W 9/60 at H = 400: W (60 - 9) = F 340, so it rests flush with nothing at the top
    HangingState const s = hang(rig);
    CHECK_NEAR(s.top_N, 0, 1e-9);
    CHECK_NEAR(s.pull_out_N, 18.38746875, 1e-7);
    CHECK_NEAR(s.foot_N, 18.38746875, 1e-7);
    CHECK_NEAR(std::hypot(s.pull_out_N, rig.weight_N), 123.9545140, 1e-6);
}

TEST_CASE("worked half shells: flush and leaning") {
    // Reckoned apart by scanning the energy.
    HangingState const flush = hang(half_shell(15, 0));
    CHECK(flush.contact == Contact::flush);
    CHECK_NEAR(flush.tension_N, 43.5, 0.05);
    CHECK_NEAR(flush.top_N, 3.1, 0.05);
    HangingState const ten = hang(half_shell(15, 10));
    CHECK(ten.contact == Contact::leaning);
    CHECK_NEAR(ten.lean_deg, 0.898, 1e-3);
    CHECK_NEAR(ten.tension_N, 43.6, 0.06);
    HangingState const twenty = hang(half_shell(15, 20));
    CHECK_NEAR(twenty.lean_deg, 2.852, 1e-3);
    CHECK_NEAR(twenty.tension_N, 43.5, 0.06);
    HangingState const deep = hang(half_shell(60, 15));
    CHECK(deep.contact == Contact::flush);
    CHECK_NEAR(deep.tension_N, 46.9, 0.05);
    CHECK_NEAR(deep.top_N, 25.3, 0.05);
}

TEST_CASE("the lean is where the energy is least, in all three states") {
    Random random{17};
    int seen[3] = {0, 0, 0};
    for (int i = 0; i < 120; ++i) {
        HangingRig rig;
        rig.centre_y_mm = random.between(20, 110);
        rig.centre_z_mm = random.between(-40, 40);
        rig.low_mm = random.between(120, 260);
        rig.high_mm = random.between(120, 260);
        rig.half_span_mm = random.between(30, 120);
        rig.hook_y_mm = random.between(0, 25);
        rig.lug_y_mm = rig.hook_y_mm + random.between(1, 60);
        rig.lug_z_mm = random.between(-100, rig.high_mm);
        rig.rise_mm = random.between(30, 120);
        if (i % 4 == 0) { // lugs high up and further out than the weight
            rig.lug_y_mm = rig.centre_y_mm + random.between(5, 40);
            rig.lug_z_mm = rig.high_mm - random.between(0, 20);
        }
        HangingState const s = hang(rig);
        if (std::abs(s.lean_deg) > 60) continue; // tips over: no maker would hang it so
        REQUIRE(std::abs(s.lean_deg - lean_by_energy_deg(rig)) < 1e-4);
        REQUIRE(s.foot_N >= -1e-9);
        REQUIRE(s.top_N >= -1e-9);
        REQUIRE(std::abs(s.foot_N + s.top_N - s.pull_out_N) < 1e-6);
        ++seen[static_cast<int>(s.contact)];
    }
    CHECK(seen[0] > 5);
    CHECK(seen[1] > 5);
    CHECK(seen[2] > 2);
}

TEST_CASE("a lug as a cantilever") {
    // Beam theory: 6 F L/(b t^2), F = 61.2915625 N, L 15, b 30, t 12 mm.
    CHECK_REL(lug_bending_N_mm2(61.2915625, 15, 30, 12), 1.276907552, 1e-9);
}
