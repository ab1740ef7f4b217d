#include "domes.h"
#include "hanging/hanging.h"
#include "near.h"

#include <cmath>

using namespace leafwright;

namespace {

Figure const kMass = Figure::exact(4500);
Figure const kJoint = Figure::exact(3); // N/mm2

bool found(HangingAnswer const& a, std::string_view code) {
    for (HangingFinding const& f : a.findings)
        if (f.code == code) return true;
    return false;
}

} // namespace

TEST_CASE("an even dome hangs by its middle, at the size it has then") {
    Shell const s = shell_of(ProfileKind::dome, 300, 400, 90, 10);
    HangingAnswer const a = *hang_piece(s.clay, s.face, {}, kMass, 0.88, kJoint);
    CHECK_NEAR(a.centre_mm.x, 0, 1e-4);
    CHECK_NEAR(a.centre_mm.y, 0, 1e-4);
    CHECK_NEAR(a.centre_mm.z, 0.88 * bulk_of(s.clay).centre_mm.z, 1e-9);
    CHECK_NEAR(a.rig.weight_N, 4.5 * 9.80665, 1e-9);
    CHECK_NEAR(a.rig.low_mm, 0.88 * 210, 0.05);
    CHECK_NEAR(a.rig.lug_z_mm, 0.88 * 60, 1e-9);
    CHECK_NEAR(a.side_tilt_deg, 0, 1e-4);
    CHECK(!a.cautions.empty());
    CHECK(a.outer_section.size() > 100);
    CHECK(a.outer_section.size() == a.inner_section.size());
    // The wire pulls at the hollow side less the lug's reach: by the ellipsoid of the former.
    double const inner = 90 * std::sqrt(1 - std::pow(90.0 / 150, 2) - std::pow(60.0 / 200, 2));
    CHECK(a.rig.lug_y_mm < 0.88 * inner);
    CHECK(a.rig.lug_y_mm > 0.88 * (inner - 30));
}

TEST_CASE("where the lugs are advised the piece hangs true") {
    Shell const s = shell_of(ProfileKind::dome, 300, 400, 90, 10);
    HangingSpec spec;
    spec.half_span_mm = 120; // low at the side of the dome, so that the wire pulls close to the wall
    spec.hook_off_mm = 30;
    spec.above_centre_mm = 100;
    HangingAnswer const a = *hang_piece(s.clay, s.face, spec, kMass, 0.88, kJoint);
    REQUIRE(a.state.contact != Contact::flush);
    REQUIRE(a.true_above_centre_mm);
    spec.above_centre_mm = *a.true_above_centre_mm;
    HangingAnswer const moved = *hang_piece(s.clay, s.face, spec, kMass, 0.88, kJoint);
    CHECK(moved.state.contact == Contact::flush);
    CHECK(!found(moved, "hanging.lean"));
}

TEST_CASE("thin wire, flat wire, weak lugs and holes at the edge are told, each with what to do") {
    Shell const s = shell_of(ProfileKind::dome, 300, 400, 90, 10);
    HangingSpec spec;
    spec.wire = "wire:copper-0.5";
    spec.wire_rise_mm = 20;
    spec.half_span_mm = 110;
    HangingAnswer const a = *hang_piece(s.clay, s.face, spec, Figure::exact(12000), 0.88, kJoint);
    CHECK(found(a, "hanging.wire"));
    CHECK(found(a, "hanging.angle"));
    CHECK(found(a, "hanging.lug"));
    for (HangingFinding const& f : a.findings) CHECK(!f.hint.empty());
    REQUIRE(a.advised_wire);
    CHECK(a.advised_wire->breaking_N >= 5 * a.state.tension_N);
    CHECK(a.cautions.front().find("qualified") != std::string::npos);
    spec = {};
    spec.kind = "holes";
    spec.half_span_mm = 148;
    spec.above_centre_mm = 0;
    HangingAnswer const holes = *hang_piece(s.clay, s.face, spec, kMass, 0.88, kJoint);
    CHECK((found(holes, "hanging.edge") == (holes.edge_mm < 20)));
    spec.half_span_mm = 158;
    CHECK(found(*hang_piece(s.clay, s.face, spec, kMass, 0.88, kJoint), "hanging.edge"));
    spec.half_span_mm = 300;
    CHECK(hang_piece(s.clay, s.face, spec, kMass, 0.88, kJoint).problem().code == "hanging.outside");
    spec.wire = "wire:hope-1";
    CHECK(hang_piece(s.clay, s.face, spec, kMass, 0.88, kJoint).problem().code == "wire.unknown");
}

TEST_CASE("a load printed on the packet goes before the table") {
    Shell const s = shell_of(ProfileKind::dome, 300, 400, 90, 10);
    HangingSpec spec;
    spec.breaking_N = 1000;
    HangingAnswer const a = *hang_piece(s.clay, s.face, spec, kMass, 0.88, kJoint);
    CHECK_NEAR(a.factor, 1000 / a.state.tension_N, 1e-12);
}

TEST_CASE("pressed tiles of the same absorption are what a joint is measured by") {
    // ISO 13006, least mean moduli of rupture: BIa 35, BIb 30, BIIa 22, BIIb 18 (from memory), BIII 12 N/mm2.
    CHECK(tile_strength_N_mm2(0.004) == 35);
    CHECK(tile_strength_N_mm2(0.02) == 30);
    CHECK(tile_strength_N_mm2(0.05) == 22);
    CHECK(tile_strength_N_mm2(0.09) == 18);
    CHECK(tile_strength_N_mm2(0.14) == 12);
}

TEST_CASE("bending and shear at a lug's root, by hand") {
    // Beam theory: F = 60 N at 15 mm, root 28 mm: bending 32 F L/(pi d^3) = 0.417608, shear 4/3 F/(pi d^2/4) =
    // 0.129922 N/mm2; main stress s/2 + sqrt((s/2)^2 + t^2) (Mohr's circle).
    double const bending = 32 * 60 * 15 / (3.14159265358979 * 28 * 28 * 28);
    double const shear = 4.0 / 3 * 60 / (3.14159265358979 / 4 * 28 * 28);
    CHECK_NEAR(bending, 0.417608, 1e-6);
    CHECK_NEAR(shear, 0.129922, 1e-6);
    CHECK_NEAR(lug_root_stress_N_mm2(60, 15, 28), bending / 2 + std::sqrt(bending * bending / 4 + shear * shear),
               1e-12);
    // Without a lever only shear is left, which pulls at 45 degrees as hard as it shears.
    CHECK_NEAR(lug_root_stress_N_mm2(60, 0, 28), shear, 1e-12);
}

TEST_CASE("a joint that may be weak asks for a proof load, and nothing is called safe") {
    Shell const s = shell_of(ProfileKind::dome, 300, 400, 90, 10);
    Figure const wide{3, 0.9, 9, FigureFrom::by_default};
    HangingAnswer const a = *hang_piece(s.clay, s.face, {}, kMass, 0.88, wide);
    CHECK_NEAR(a.lug_range.low, 0.3 * a.lug_factor, 1e-9);
    CHECK_NEAR(a.lug_range.high, 3 * a.lug_factor, 1e-9);
    REQUIRE(a.lug_factor > kLugFactor);
    REQUIRE(a.lug_range.low < kLugFactor);
    CHECK(found(a, "hanging.proof"));
    // The root asked for holds the pull with the factor.
    CHECK_REL(lug_root_stress_N_mm2(a.state.tension_N, 0.88 * kLugReach_mm, 0.88 * a.lug_root_needed_mm) * kLugFactor,
              3.0, 1e-6);
    bool proof = false;
    bool qualified = false;
    for (std::string const& caution : a.cautions) {
        proof = proof || caution.find("proof load") != std::string::npos;
        qualified = qualified || caution.find("qualified person") != std::string::npos;
        CHECK(caution.find("is safe to") == std::string::npos);
    }
    CHECK(proof);
    CHECK(qualified);
}
