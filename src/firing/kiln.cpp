#include "firing/kiln.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace leafwright {

namespace {

constexpr double kBrick_W_mK = 0.25;
constexpr double kBrick_kg_m3 = 800;
constexpr double kBrick_J_kgK = 1000;

struct Room {
    double across = 0;
    double deep = 0;
    double high = 0;
};

Room usable(KilnSpec const& kiln) {
    double const lost = 2 * kiln.clearance_mm;
    return {kiln.width_mm - lost, kiln.depth_mm - lost, kiln.height_mm - lost};
}

double spare_flat(KilnSpec const& kiln, PieceSize const& s) {
    Room const room = usable(kiln);
    double const up = room.high - s.depth_mm;
    if (kiln.shape == KilnShape::round) return std::min(room.across - 2 * s.reach_mm, up);
    double const one_way = std::min(room.across - s.width_mm, room.deep - s.height_mm);
    double const other_way = std::min(room.across - s.height_mm, room.deep - s.width_mm);
    return std::min(std::max(one_way, other_way), up);
}

double spare_standing(KilnSpec const& kiln, PieceSize const& s) {
    Room const room = usable(kiln);
    double const upright = room.high - s.height_mm;
    if (kiln.shape == KilnShape::round) return std::min(room.across - std::hypot(s.width_mm, s.depth_mm), upright);
    double const one_way = std::min(room.across - s.width_mm, room.deep - s.depth_mm);
    double const other_way = std::min(room.across - s.depth_mm, room.deep - s.width_mm);
    return std::min(std::max(one_way, other_way), upright);
}

std::string words_of(KilnFit const& fit) {
    switch (fit.place) {
    case KilnPlace::flat:
        return "It goes in lying on its rim: bed it on a thin layer of sand or grog, so that it can slide as it "
               "shrinks";
    case KilnPlace::standing:
        return "It goes in standing only: lean it on props at both sides and under its lower rim, on sand";
    case KilnPlace::none:
        break;
    }
    return fmt::format("It does not go in: {:.0f} mm are missing, with the clearance", -fit.spare_mm);
}

} // namespace

double newton_tau_h(double from_degC, double to_degC, double hours, double room_degC) {
    return hours / std::log((from_degC - room_degC) / (to_degC - room_degC));
}

double newton_hours(double from_degC, double to_degC, double tau_h, double room_degC) {
    return tau_h * std::log((from_degC - room_degC) / (to_degC - room_degC));
}

double newton_rate_K_h(double degC, double tau_h, double room_degC) { return (degC - room_degC) / tau_h; }

Outcome<double> fit_newton_tau_h(std::vector<CoolingReading> const& readings, double room_degC) {
    if (readings.size() < 2)
        return Problem{"cooling.few", "kiln.cooling", "holds fewer than two readings",
                       "Read the kiln at least twice while it cools"};
    double hour = 0;
    double log_mean = 0;
    double const n = static_cast<double>(readings.size());
    for (std::size_t i = 0; i < readings.size(); ++i) {
        bool const falls =
            i == 0 || (readings[i].hour > readings[i - 1].hour && readings[i].degC < readings[i - 1].degC);
        if (!falls || readings[i].degC <= room_degC + 5)
            return Problem{"cooling.contradiction", fmt::format("kiln.cooling[{}]", i),
                           "does not fall from the one before, or is at room temperature",
                           "Give hours since switching off and falling temperatures"};
        hour += readings[i].hour / n;
        log_mean += std::log(readings[i].degC - room_degC) / n;
    }
    double tt = 0;
    double tl = 0;
    for (CoolingReading const& r : readings) {
        tt += (r.hour - hour) * (r.hour - hour);
        tl += (r.hour - hour) * (std::log(r.degC - room_degC) - log_mean);
    }
    return -tt / tl;
}

double cooling_tau_h(KilnSpec const& kiln) {
    Outcome<double> const fitted = fit_newton_tau_h(kiln.cooling, kiln.room_degC);
    return fitted ? *fitted : newton_tau_h(1000, 100, kiln.cool_hours, kiln.room_degC);
}

KilnFit kiln_fit(KilnSpec const& kiln, PieceSize const& size) {
    double const flat = spare_flat(kiln, size);
    double const standing = spare_standing(kiln, size);
    KilnFit fit;
    fit.flat = flat >= 0;
    fit.standing = standing >= 0;
    fit.place = fit.flat ? KilnPlace::flat : fit.standing ? KilnPlace::standing : KilnPlace::none;
    fit.spare_mm = fit.place == KilnPlace::flat       ? flat
                   : fit.place == KilnPlace::standing ? standing
                                                      : std::max(flat, standing);
    fit.words = words_of(fit);
    return fit;
}

double lining_kWh(KilnSpec const& kiln, double top_degC, double degree_hours) {
    double const w = 1e-3 * kiln.width_mm;
    double const d = kiln.shape == KilnShape::round ? w : 1e-3 * kiln.depth_mm;
    double const h = 1e-3 * kiln.height_mm;
    double const wall = 1e-3 * kiln.wall_mm;
    // Area of the middle of the wall.
    double const area = 2 * ((w + wall) * (d + wall) + (w + wall) * (h + wall) + (d + wall) * (h + wall));
    double const rise = top_degC - kiln.room_degC;
    double const stored_J = area * wall * kBrick_kg_m3 * kBrick_J_kgK * rise / 2;
    double const lost_Wh = area * kBrick_W_mK / wall * degree_hours / 2; // half: the wall is not yet warm through
    return stored_J / 3.6e6 + lost_Wh / 1000;
}

} // namespace leafwright
