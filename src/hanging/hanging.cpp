#include "hanging/hanging.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr double kFar_mm = 5000;

// The slab under a place of the plan: looking down on the piece from the front.
std::optional<Spot> spot_at(ClaySurface const& face, Vec2 const& plan) {
    return face.hit({plan.x, plan.y, kFar_mm}, {0, 0, -1});
}

bool inside_rim(ClaySurface const& face, Spot const& spot) {
    return spot.from_crown_mm < face.rim_from_crown_mm(spot.azimuth_rad);
}

// Off the board, plastic: where the wire pulls at the lug or hole at that height. Nothing beyond the rim.
std::optional<double> wire_off_mm(ClaySurface const& face, HangingSpec const& spec, double slab_mm, double above_mm) {
    auto const spot = spot_at(face, {spec.half_span_mm, above_mm});
    if (!spot || !inside_rim(face, *spot)) return std::nullopt;
    LaidPoint const point = face.at(*spot);
    double const behind = slab_mm + (spec.kind == "lugs" ? kLugReach_mm : 0.0);
    return std::max(0.0, (point.position - behind * point.normal).z);
}

struct Rims {
    double low = 0, high = 0; // from the middle, plastic
};

Rims rims_of(ClaySurface const& face) {
    Rims rims;
    for (int i = 0; i < 720; ++i) {
        double const azimuth = kTwoPi * i / 720;
        double const y = face.at({azimuth, face.rim_from_crown_mm(azimuth)}).position.y;
        rims.low = std::max(rims.low, -y);
        rims.high = std::max(rims.high, y);
    }
    return rims;
}

HangingRig rig_of(ClaySurface const& face, HangingSpec const& spec, Vec3 const& centre, double weight_N, double factor,
                  double off_mm, double above_mm) {
    Rims const rims = rims_of(face);
    HangingRig rig;
    rig.weight_N = weight_N;
    rig.centre_y_mm = centre.z;
    rig.centre_z_mm = centre.y;
    rig.low_mm = factor * rims.low;
    rig.high_mm = factor * rims.high;
    rig.half_span_mm = factor * spec.half_span_mm;
    rig.lug_y_mm = factor * off_mm;
    rig.lug_z_mm = factor * above_mm;
    rig.hook_y_mm = spec.hook_off_mm;
    rig.rise_mm = spec.wire_rise_mm;
    return rig;
}

// The height of lugs nearest to the one asked for at which the piece lies flush, in steps of 2 mm.
std::optional<double> true_height(ClaySurface const& face, HangingSpec const& spec, double slab_mm, HangingRig rig,
                                  double factor) {
    constexpr double kStep_mm = 2;
    int const steps = static_cast<int>((rig.low_mm + rig.high_mm) / factor / kStep_mm);
    for (int k = 0; k < steps; ++k)
        for (double side : {1.0, -1.0}) {
            double const above = spec.above_centre_mm + side * kStep_mm * k;
            auto const off = wire_off_mm(face, spec, slab_mm, above);
            if (!off) continue;
            rig.lug_y_mm = factor * *off;
            rig.lug_z_mm = factor * above;
            if (hang(rig).contact == Contact::flush) return above;
        }
    return std::nullopt;
}

void set_sections(HangingAnswer& answer, ClayMap const& clay, double factor) {
    FaceMap const& face = *clay.face;
    int const column = std::clamp(-face.left, 0, face.columns - 1);
    for (int row = 0; row < face.rows; ++row) {
        std::size_t const i = face.index(column, row);
        if (!(clay.slab_mm[i] > 0)) continue;
        Vec3 const outer = face.position[i] + static_cast<double>(clay.pile_mm[i]) * face.normal[i];
        Vec3 const inner = face.position[i] - clay.slab_thickness_mm * face.normal[i];
        answer.outer_section.emplace_back(factor * outer.z, factor * outer.y);
        answer.inner_section.emplace_back(factor * std::max(0.0, inner.z), factor * inner.y);
    }
}

// The root across that bears the force with the factor, by halving.
double root_needed_mm(double force_N, double reach_mm, double strength_N_mm2) {
    double low = 1;
    double high = 400;
    for (int i = 0; i < 50; ++i) {
        double const middle = 0.5 * (low + high);
        bool const holds = kLugFactor * lug_root_stress_N_mm2(force_N, reach_mm, middle) <= strength_N_mm2;
        (holds ? high : low) = middle;
    }
    return high;
}

void set_strength(HangingAnswer& a, HangingSpec const& spec, double wire_breaking_N, double size_factor,
                  Figure const& joint_N_mm2) {
    a.breaking_N = spec.breaking_N > 0 ? spec.breaking_N : wire_breaking_N;
    a.factor = a.state.tension_N > 0 ? a.breaking_N / a.state.tension_N : 0;
    std::string_view const material = std::string_view(spec.wire).substr(5, spec.wire.rfind('-') - 5);
    a.advised_wire = wire_for(material, a.state.tension_N);
    if (spec.kind != "lugs") return;
    double const root = size_factor * kLugRoot_mm;
    a.lug_shear_N_mm2 = 4.0 / 3 * a.state.tension_N / (kPi / 4 * root * root);
    double const reach = size_factor * kLugReach_mm;
    a.lug_stress_N_mm2 = lug_root_stress_N_mm2(a.state.tension_N, reach, root);
    if (a.lug_stress_N_mm2 > 0) a.lug_range = joint_N_mm2 * (1 / a.lug_stress_N_mm2);
    a.lug_factor = a.lug_range.value;
    a.lug_root_needed_mm = root_needed_mm(a.state.tension_N, reach, joint_N_mm2.value) / size_factor;
}

void find_wire(HangingAnswer& a, HangingSpec const& spec) {
    auto const add = [&](char const* code, std::string text, std::string hint) {
        a.findings.push_back({code, std::move(text), std::move(hint)});
    };
    if (a.factor < kWireFactor)
        add("hanging.wire",
            fmt::format("The wire breaks at {:.0f} N, {:.1f} times its pull of {:.0f} N; five times is asked for",
                        a.breaking_N, a.factor, a.state.tension_N),
            a.advised_wire
                ? fmt::format("Take {} or stronger, or let the wire rise more steeply", a.advised_wire->name.substr(5))
                : "Let the wire rise more steeply, or take a stronger material");
    if (a.state.angle_deg < kLeastAngle_deg)
        add("hanging.angle",
            fmt::format(
                "The wire runs at {:.0f} degrees from the level, where its pull is {:.1f} times half the weight",
                a.state.angle_deg, 2 * a.state.tension_N / a.rig.weight_N),
            "Bring the lugs closer together, or let the wire rise more: 30 degrees or steeper");
    if (spec.kind == "lugs" && a.lug_factor < kLugFactor)
        add("hanging.lug",
            fmt::format(
                "A lug of {:.0f} mm across its root may bear {:.1f} times the wire's pull ({:.1f} to {:.1f}, by an "
                "estimate); five times is asked for",
                kLugRoot_mm, a.lug_factor, a.lug_range.low, a.lug_range.high),
            fmt::format("Make the root {:.0f} mm across, or use more lugs", std::ceil(a.lug_root_needed_mm)));
    else if (spec.kind == "lugs" && a.lug_range.low < kLugFactor)
        add("hanging.proof",
            fmt::format("A joint made by hand may be weak: a lug bears {:.1f} to {:.1f} times the wire's pull, by an "
                        "estimate without a source",
                        a.lug_range.low, a.lug_range.high),
            "Load both lugs of the fired piece with twice its weight for a day, low above something soft and with "
            "nobody near; a qualified person decides whether that is enough");
}

void find_place(HangingAnswer& a, HangingSpec const& spec, double slab_mm) {
    auto const add = [&](char const* code, std::string text, std::string hint) {
        a.findings.push_back({code, std::move(text), std::move(hint)});
    };
    if (spec.kind == "holes" && a.edge_mm < kEdgeThicknesses * slab_mm)
        add("hanging.edge",
            fmt::format("A hole lies {:.0f} mm from the edge, less than two thicknesses of the slab", a.edge_mm),
            fmt::format("Keep holes at least {:.0f} mm from the edge", kEdgeThicknesses * slab_mm));
    std::string const higher = a.true_above_centre_mm
                                   ? fmt::format("Put the lugs {:.0f} mm above the middle", *a.true_above_centre_mm)
                                   : "Bring the hook closer to the wall, or let the wire rise less";
    if (std::abs(a.state.lean_deg) > 45)
        add("hanging.lean", "It tips over: the wire pulls too close to the wall", higher);
    else if (a.state.contact == Contact::leaning && a.state.lean_deg > 0.2)
        add("hanging.lean", fmt::format("It leans {:.1f} degrees off the wall at the top", a.state.lean_deg), higher);
    if (a.state.contact == Contact::top_pressed && a.state.lean_deg < -0.2)
        add("hanging.lean", fmt::format("Its foot stands {:.1f} degrees off the wall", -a.state.lean_deg), higher);
    if (std::abs(a.side_tilt_deg) > 1)
        add("hanging.side",
            fmt::format("Its weight lies {:.0f} mm off the middle and turns it {:.1f} degrees", std::abs(a.centre_mm.x),
                        std::abs(a.side_tilt_deg)),
            fmt::format("Move both lugs {:.0f} mm to the {}", std::abs(a.centre_mm.x),
                        a.centre_mm.x > 0 ? "right" : "left"));
}

std::vector<std::string> cautions_for(double mass_kg) {
    std::vector<std::string> cautions = {
        "Choose screw and plug for the wall at hand; plasterboard alone does not hold it.",
        "Hang it where no one sits, sleeps or plays below.",
        "Out of doors wire and screw corrode: use stainless ones and look at them every year.",
        "These figures do not show that it is safe. A proof load, twice its weight on the lugs for a day, low above "
        "something soft with nobody near, finds a bad joint; it is no certificate. Look for new cracks afterwards.",
        "Let a qualified person judge wall, fixing and hanging wherever a fall could hurt someone, by the local "
        "rules."};
    if (mass_kg >= kHeavy_kg)
        cautions.insert(cautions.begin(),
                        fmt::format("{:.0f} kg can kill in falling: let a qualified person choose the fixing, by the "
                                    "local rules.",
                                    mass_kg));
    return cautions;
}

} // namespace

double tile_strength_N_mm2(double absorption) {
    if (absorption <= 0.005) return 35;
    if (absorption <= 0.03) return 30;
    if (absorption <= 0.06) return 22;
    return absorption <= 0.10 ? 18 : 12;
}

double lug_root_stress_N_mm2(double force_N, double reach_mm, double root_mm) {
    double const bending = 32 * force_N * reach_mm / (kPi * root_mm * root_mm * root_mm);
    double const shear = 4.0 / 3 * force_N / (kPi / 4 * root_mm * root_mm);
    return bending / 2 + std::hypot(bending / 2, shear);
}

std::vector<Vec2> lug_charts(ClaySurface const& face, HangingSpec const& spec) {
    std::vector<Vec2> charts;
    for (double side : {1.0, -1.0})
        if (auto const spot = spot_at(face, {side * spec.half_span_mm, spec.above_centre_mm}))
            charts.push_back(face.to_chart(*spot));
    return charts;
}

Outcome<HangingAnswer> hang_piece(ClayMap const& clay, ClaySurface const& face, HangingSpec const& spec,
                                  Figure const& mass_g, double size_factor, Figure const& joint_N_mm2) {
    Outcome<Wire> const wire = wire_of(spec.wire);
    if (!wire) return wire.problem();
    double const slab = clay.slab_thickness_mm;
    auto const off = wire_off_mm(face, spec, slab, spec.above_centre_mm);
    if (!off)
        return Problem{"hanging.outside", "hanging.half_span_mm",
                       fmt::format("puts the {} beyond the rim", spec.kind == "lugs" ? "lugs" : "holes"),
                       "Bring them closer to the middle", ProblemKind::refusal};
    Bulk const bulk = bulk_of(clay);
    HangingAnswer a;
    a.mass_g = mass_g;
    a.centre_mm = size_factor * bulk.centre_mm;
    double const weight_N = mass_g.value / 1000 * kStandardGravity_m_s2;
    a.rig = rig_of(face, spec, a.centre_mm, weight_N, size_factor, *off, spec.above_centre_mm);
    a.state = hang(a.rig);
    Spot const spot = *spot_at(face, {spec.half_span_mm, spec.above_centre_mm});
    a.edge_mm = face.rim_from_crown_mm(spot.azimuth_rad) - spot.from_crown_mm;
    a.true_above_centre_mm = true_height(face, spec, slab, a.rig, size_factor);
    double const below = a.rig.rise_mm + a.rig.lug_z_mm - a.rig.centre_z_mm;
    a.side_tilt_deg = below > 0 ? degrees(std::atan2(a.centre_mm.x, below)) : 0;
    set_strength(a, spec, wire->breaking_N, size_factor, joint_N_mm2);
    set_sections(a, clay, size_factor);
    find_wire(a, spec);
    find_place(a, spec, slab);
    a.cautions = cautions_for(mass_g.value / 1000);
    return a;
}

} // namespace leafwright
