#include "firing/firing.h"

#include "drying/column.h"
#include "firing/schedule.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr double kStefanBoltzmann = 5.670374419e-8; // W/m2K4, CODATA 2018
constexpr double kEmissivity = 0.9;
constexpr double kConvection_W_m2K = 10;
constexpr double kKelvin = 273.15;
constexpr double kKaoliniteLoss = 0.1395667; // of kaolinite, by its formula
constexpr double kWaterHeat_MJ_kg = 0.75;
constexpr double kLow_degC = 400; // the clay's own water leaves from here
constexpr double kHigh_degC = 700;
constexpr double kBackShare = 0.3; // heat to the hollow back of a piece that lies; common practice, no source
constexpr int kCells = 20;
constexpr double kStep_s = 60;
constexpr int kStepsPerMoment = 5;
constexpr double kPoisson = 0.2;
constexpr double kStiff_degC = 900; // glass in the clay gives way above; from memory

double conductivity_W_mK(double degC) {
    constexpr double kGreen = 0.41;    // 2.4e-7 m2/s with 1900 kg/m3 and 900 J/kgK
    constexpr double kVitrified = 1.4; // CIBSE Guide A, glazed ceramic
    return kGreen + (kVitrified - kGreen) * std::clamp((degC - 1000) / 260, 0.0, 1.0);
}

double specific_heat_J_kgK(double degC) { return 850 + 200 * std::clamp((degC - 20) / 480, 0.0, 1.0); }

// Heat of the clay's own water, spread over its range as a triangle, J/kgK of dry clay.
double bound_water_J_kgK(double degC, double loss) {
    double const half = 0.5 * (kHigh_degC - kLow_degC);
    double const height = std::max(0.0, 1 - std::abs(degC - kLow_degC - half) / half) / half;
    return std::min(1.0, loss / kKaoliniteLoss) * kWaterHeat_MJ_kg * 1e6 * height;
}

double exchange_W_m2K(double kiln_degC, double skin_degC) {
    double const a = kiln_degC + kKelvin;
    double const b = skin_degC + kKelvin;
    return kConvection_W_m2K + kEmissivity * kStefanBoltzmann * (a * a + b * b) * (a + b);
}

struct Section {
    double thick_m = 0;
    double back_share = 0; // of the front's exchange
};

// Half of it when heat comes from both sides alike.
Section section_of(FiringClay const& clay, KilnPlace place) {
    double const thick = std::max(1.0, clay.thickest_mm) * 1e-3;
    return place == KilnPlace::standing ? Section{thick / 2, 0} : Section{thick, kBackShare};
}

// Heats the section along the curve and keeps the moments.
class Heating {
public:
    Heating(FiringClay const& clay, Section const& section, KilnCurve const& curve)
        : clay_(clay), section_(section), curve_(curve), column_(kCells, section.thick_m, 1.0, 1.0, curve.room_degC) {}

    std::vector<FiringMoment> run() {
        std::vector<FiringMoment> moments = {moment(0)};
        double const end_s = curve_.end_h() * 3600;
        int step = 0;
        for (double time = 0; time < end_s;) {
            double const dt = std::min(kStep_s, end_s - time);
            advance(time / 3600, (time + dt) / 3600, dt);
            time += dt;
            if (++step % kStepsPerMoment == 0 || time >= end_s) moments.push_back(moment(time / 3600));
        }
        return moments;
    }

private:
    void advance(double from_h, double to_h, double dt) {
        bool const rising = curve_.at(to_h) > curve_.at(from_h);
        double const density = clay_.density_g_cm3 * 1000;
        for (std::size_t i = 0; i < column_.values().size(); ++i) {
            double const t = column_.values()[i];
            double const bound = rising && !clay_.fired_before ? bound_water_J_kgK(t, clay_.loss) : 0;
            column_.capacity[i] = density * (specific_heat_J_kgK(t) + bound);
            column_.conductivity[i] = conductivity_W_mK(t);
        }
        double const exchange = exchange_W_m2K(curve_.at(to_h), skin_);
        auto const face = [&](double hour, double share) { return ColumnFace{share * exchange, curve_.at(hour), 0}; };
        column_.step(dt, face(from_h, section_.back_share), face(to_h, section_.back_share), face(from_h, 1),
                     face(to_h, 1));
        skin_ = column_.right_value(face(to_h, 1));
        back_ = column_.left_value(face(to_h, section_.back_share));
    }

    FiringMoment moment(double hour) const {
        auto const& u = column_.values();
        double const least = std::min({*std::min_element(u.begin(), u.end()), skin_, back_});
        double const most = std::max({*std::max_element(u.begin(), u.end()), skin_, back_});
        double const lag = std::abs(most - skin_) > std::abs(least - skin_) ? most : least;
        return {hour, curve_.at(hour), skin_, lag, most - least};
    }

    FiringClay const& clay_;
    Section section_;
    KilnCurve const& curve_;
    Column column_;
    double skin_ = curve_.room_degC;
    double back_ = curve_.room_degC;
};

double mean_heat_J_kgK(double top_degC) {
    double sum = 0;
    constexpr int kParts = 100;
    for (int i = 0; i < kParts; ++i) sum += specific_heat_J_kgK(20 + (top_degC - 20) * (i + 0.5) / kParts) / kParts;
    return sum;
}

void set_energy(FiringAnswer& answer, FiringClay const& clay, KilnSpec const& kiln, KilnCurve const& curve) {
    double const kg = clay.dry_g / 1000;
    double kJ = ware_heat_kJ(kg, mean_heat_J_kgK(answer.top_degC) / 1000, kiln.room_degC, answer.top_degC);
    if (!clay.fired_before) {
        kJ += water_heat_kJ(kg * clay.water_share, kiln.room_degC);
        kJ += kg * std::min(1.0, clay.loss / kKaoliniteLoss) * kWaterHeat_MJ_kg * 1000;
    }
    answer.ware_kWh = kJ / 3600;
    // The meter's figure belongs to 1000 degC; heat grows with the rise, losses with it and with time.
    answer.kWh = kiln.kWh > 0 ? kiln.kWh * (answer.top_degC - kiln.room_degC) / (1000 - kiln.room_degC)
                              : answer.ware_kWh / kiln.share + lining_kWh(kiln, answer.top_degC, curve.degree_hours());
}

double quartz_rate(KilnCurve const& curve) {
    for (KilnCurve::Part const& p : curve.parts) {
        if (p.from_h < curve.top_h - 1e-9 || !(p.from_degC > kQuartz_degC && p.to_degC <= kQuartz_degC)) continue;
        return p.by_itself ? newton_rate_K_h(kQuartz_degC, curve.tau_h, curve.room_degC)
                           : (p.from_degC - p.to_degC) / (p.to_h - p.from_h);
    }
    return 0;
}

double hours_below_boiling(KilnCurve const& curve) {
    double hours = 0;
    for (KilnCurve::Part const& p : curve.parts) {
        if (p.from_h >= curve.top_h || p.from_degC >= 100) break;
        double const span = p.to_degC - p.from_degC;
        double const share = span > 0 ? std::min(1.0, (100 - p.from_degC) / span) : 1;
        hours += (p.to_h - p.from_h) * share;
    }
    return hours;
}

double fastest_between(KilnCurve const& curve, double low, double high) {
    double most = 0;
    for (KilnCurve::Part const& p : curve.parts)
        if (p.to_degC > p.from_degC && p.to_degC > low && p.from_degC < high)
            most = std::max(most, (p.to_degC - p.from_degC) / (p.to_h - p.from_h));
    return most;
}

void add_findings(FiringAnswer& a, FiringClay const& clay, KilnCurve const& curve) {
    auto const add = [&](char const* code, std::string text, char const* hint) {
        a.findings.push_back({code, std::move(text), hint});
    };
    double const steam = kSteamHours_per_mm * clay.thickest_mm;
    if (!clay.fired_before && hours_below_boiling(curve) < 0.8 * steam)
        add("firing.steam",
            fmt::format("The kiln passes 100 degC after {:.1f} h; clay of {:.0f} mm wants about {:.1f} h below it",
                        hours_below_boiling(curve), clay.thickest_mm, steam),
            "Hold at 90 degC until no damp shows at the vent, or the steam will burst it");
    double const water = fastest_between(curve, 450, 650);
    if (!clay.fired_before && water > 170)
        add("firing.water",
            fmt::format("Between 400 and 700 degC, where the clay's own water leaves, it rises by {:.0f} K/h", water),
            "Go through this range at about 100 K/h");
    if (a.quartz_rate_K_h > kQuartzRate_K_h * 1.02)
        add("firing.quartz",
            fmt::format("It cools through 573 degC, where quartz turns, by {:.0f} K/h", a.quartz_rate_K_h),
            "Hold the fall to 50 K/h between 620 and 540 degC");
    if (a.worst_gradient_K > a.bearable_K.value)
        add("firing.gradient",
            fmt::format("At {:.1f} h the thickest place is {:.0f} K hotter on one side than inside; about {:.0f} K is "
                        "what it bears, by an estimate",
                        a.worst_hour, a.worst_gradient_K, a.bearable_K.value),
            "Fire more slowly, or hollow the back where it is thick");
    if (a.worst_cooling_K > a.bearable_cooling_K.value)
        add("firing.cooling",
            fmt::format("At {:.1f} h, as it cools, the skin of the thickest place is {:.0f} K colder than its inside; "
                        "about {:.0f} K is what it bears, by an estimate",
                        a.worst_cooling_hour, a.worst_cooling_K, a.bearable_cooling_K.value),
            "Add a segment that holds the fall to a slower rate, and keep the kiln shut");
}

} // namespace

Figure bearable_gradient_K(Figure const& fracture_strain, Figure const& expansion_per_K, bool cooling) {
    double const shape = (1 - kPoisson) * (cooling ? 1.5 : 3.0);
    return {shape * fracture_strain.value / expansion_per_K.value, shape * fracture_strain.low / expansion_per_K.high,
            shape * fracture_strain.high / expansion_per_K.low, fracture_strain.from};
}

double ware_heat_kJ(double mass_kg, double kJ_kgK, double from_degC, double to_degC) {
    return mass_kg * kJ_kgK * (to_degC - from_degC);
}

double water_heat_kJ(double mass_kg, double from_degC) { return mass_kg * (4.18 * (100 - from_degC) + 2256.4); }

std::vector<FiringSegment> propose_segments(FiringSpec const& spec, FiringClay const& clay, KilnPlace place,
                                            KilnSpec const& kiln) {
    // In a steady rise r the skin leads by r L^2/(2 a) (Carslaw and Jaeger); a lying piece gets some heat from behind.
    double const length_m = clay.thickest_mm * 1e-3 * (place == KilnPlace::standing ? 0.5 : 0.75);
    double const aim = kGradientShare * bearable_gradient_K(clay.fracture_strain, clay.expansion_per_K, false).value;
    double const bearable = aim * 2 * kDiffusivity_m2_s / (length_m * length_m) * 3600;
    auto const rate = [&](double usual) { return std::max(15.0, std::round(std::min(usual, bearable) / 5) * 5); };
    double const top = spec.top_degC;
    std::vector<FiringSegment> s;
    if (clay.fired_before) {
        s = {{rate(100), 600, 0}, {rate(150), std::max(650.0, top - 160), 0}, {rate(100), top, 0.3}};
    } else {
        double const steam = std::ceil(4 * kSteamHours_per_mm * clay.thickest_mm) / 4;
        s = {{rate(60), kSteam_degC, steam}, {rate(120), kLow_degC, 0}, {rate(100), 650, 0}, {rate(150), top, 0.25}};
    }
    std::erase_if(s, [&](FiringSegment const& part) { return part.target_degC > top; });
    if (s.back().target_degC < top) s.push_back({rate(150), top, 0.25});
    if (newton_rate_K_h(kQuartz_degC, cooling_tau_h(kiln), kiln.room_degC) > kQuartzRate_K_h) {
        s.push_back({1000, 620, 0}); // as the kiln likes
        s.push_back({kQuartzRate_K_h, 540, 0});
    }
    return s;
}

namespace {

void set_worst(FiringAnswer& a) {
    for (FiringMoment const& m : a.moments) {
        bool const cools = m.hour > a.hours_up && m.skin_degC < m.inside_degC;
        if (cools && m.skin_degC > kStiff_degC) continue;
        double& worst = cools ? a.worst_cooling_K : a.worst_gradient_K;
        if (m.difference_K <= worst) continue;
        worst = m.difference_K;
        (cools ? a.worst_cooling_hour : a.worst_hour) = m.hour;
    }
}

} // namespace

Outcome<FiringAnswer> fire(FiringSpec const& spec, FiringClay const& clay, KilnSpec const& kiln,
                           PieceSize const& size) {
    FiringAnswer a;
    a.name = spec.name;
    a.fit = kiln_fit(kiln, size);
    a.proposed = spec.segments.empty();
    a.segments = a.proposed ? propose_segments(spec, clay, a.fit.place, kiln) : spec.segments;
    for (std::size_t i = 0; i < a.segments.size(); ++i) {
        FiringSegment const& s = a.segments[i];
        if (!(s.rate_K_h > 0) || (i == 0 && s.target_degC <= kiln.room_degC))
            return Problem{"firing.segments", fmt::format("segments[{}]", i),
                           "does not rise: its rate is 0 or its target lies below the room", "Give a rate above 0"};
        a.top_degC = std::max(a.top_degC, s.target_degC);
    }
    KilnCurve const curve = kiln_curve(a.segments, kiln);
    a.moments = Heating(clay, section_of(clay, a.fit.place), curve).run();
    a.hours_up = curve.top_h;
    a.hours_down = curve.end_h() - curve.top_h;
    a.tau_h = curve.tau_h;
    a.quartz_rate_K_h = quartz_rate(curve);
    a.bearable_K = bearable_gradient_K(clay.fracture_strain, clay.expansion_per_K, false);
    a.bearable_cooling_K = bearable_gradient_K(clay.fracture_strain, clay.expansion_per_K, true);
    set_worst(a);
    set_energy(a, clay, kiln, curve);
    add_findings(a, clay, curve);
    return a;
}

} // namespace leafwright
