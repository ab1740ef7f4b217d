#include "firing/schedule.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kOpen_degC = 100;

void add_fall(KilnCurve& curve, double hour, double from, double to, double rate) {
    // By itself while it is slower than the rate asked for, held to the rate before that.
    double const level = curve.room_degC + rate * curve.tau_h; // here the kiln's own rate is the one asked for
    double const turn = std::clamp(level, to, from);
    if (turn < from) curve.parts.push_back({hour, hour + (from - turn) / rate, from, turn, false});
    if (turn > to && turn > curve.room_degC) {
        double const start = curve.parts.empty() || turn == from ? hour : curve.parts.back().to_h;
        curve.parts.push_back({start, start + newton_hours(turn, to, curve.tau_h, curve.room_degC), turn, to, true});
    }
}

} // namespace

double KilnCurve::at(double hour) const {
    if (parts.empty()) return room_degC;
    auto const part = std::find_if(parts.begin(), parts.end(), [&](Part const& p) { return hour <= p.to_h; });
    if (part == parts.end()) return parts.back().to_degC;
    if (part->by_itself) return room_degC + (part->from_degC - room_degC) * std::exp(-(hour - part->from_h) / tau_h);
    double const span = part->to_h - part->from_h;
    return span > 0 ? part->from_degC + (part->to_degC - part->from_degC) * (hour - part->from_h) / span
                    : part->to_degC;
}

double KilnCurve::degree_hours() const {
    double sum = 0;
    for (Part const& p : parts)
        if (p.to_h <= top_h + 1e-9) sum += (p.to_h - p.from_h) * (0.5 * (p.from_degC + p.to_degC) - room_degC);
    return sum;
}

KilnCurve kiln_curve(std::vector<FiringSegment> const& segments, KilnSpec const& kiln) {
    KilnCurve curve;
    curve.tau_h = cooling_tau_h(kiln);
    curve.room_degC = kiln.room_degC;
    double hour = 0;
    double now = kiln.room_degC;
    double highest = now;
    for (FiringSegment const& s : segments) {
        // Below this a kiln that cools by itself would take for ever.
        double const target = std::max(s.target_degC, kiln.room_degC + 5);
        if (target >= now)
            curve.parts.push_back({hour, hour + (target - now) / s.rate_K_h, now, target, false});
        else
            add_fall(curve, hour, now, target, s.rate_K_h);
        hour = curve.parts.back().to_h;
        if (s.hold_h > 0) curve.parts.push_back({hour, hour + s.hold_h, target, target, false});
        hour = curve.parts.back().to_h;
        now = target;
        if (now >= highest) {
            highest = now;
            curve.top_h = hour;
        }
    }
    if (now > kOpen_degC)
        curve.parts.push_back(
            {hour, hour + newton_hours(now, kOpen_degC, curve.tau_h, curve.room_degC), now, kOpen_degC, true});
    return curve;
}

} // namespace leafwright
