#include "base/units.h"
#include "leaf/margin.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kSmoothStep = 0.012;

void add_smooth(Track const& track, double from, double to, Line& line) {
    int const steps = std::max(1, static_cast<int>(std::ceil((to - from) / kSmoothStep)));
    for (int i = 0; i < steps; ++i) line.push_back(track.at(from + (to - from) * i / steps));
}

// Small teeth on the long flank of a main one, from its foot to its tip; each ends in a little step back.
void add_flank(Vec2 const& foot, Vec2 const& tip, Vec2 const& outward, double height, ToothForm const& form,
               Line& line) {
    int const pieces = form.secondary + 1;
    Vec2 const run = tip - foot;
    line.push_back(foot);
    for (int j = 1; j < pieces; ++j) {
        double const share = static_cast<double>(j) / pieces;
        Vec2 const crest = foot + share * run + 0.42 * height * outward;
        Vec2 const step = foot + (share + 0.30 * (1 - form.lean) + 0.02) * run + 0.10 * height * outward;
        line.push_back(crest);
        line.push_back(step);
    }
    if (form.secondary == 0) line.push_back(foot + 0.55 * run + 0.10 * height * outward);
}

Line serrate(Track const& track, ToothForm const& form, std::vector<Tooth>& teeth) {
    Line line;
    double done = 0;
    for (Tooth& tooth : teeth) {
        bool const to_tip = tooth.apex - tooth.before >= tooth.after - tooth.apex;
        Vec2 const outward = track.outward(tooth.apex);
        double const hook = (to_tip ? 0.5 : -0.5) * std::max(0.0, form.lean - 0.5) * tooth.height;
        tooth.tip = track.at(tooth.apex) + 0.65 * tooth.height * outward + hook * track.forward(tooth.apex);
        Vec2 const foot = track.at(tooth.before) - 0.35 * tooth.height * track.outward(tooth.before);
        Vec2 const heel = track.at(tooth.after) - 0.35 * tooth.height * track.outward(tooth.after);
        if (tooth.before > done + 1e-9) add_smooth(track, done, tooth.before - 0.2 * (tooth.apex - tooth.before), line);
        if (to_tip) {
            add_flank(foot, tooth.tip, outward, tooth.height, form, line);
            line.push_back(tooth.tip);
        } else {
            Line flank;
            add_flank(heel, tooth.tip, outward, tooth.height, form, flank);
            if (tooth.before > done + 1e-9) line.push_back(foot);
            line.push_back(tooth.tip);
            line.insert(line.end(), flank.rbegin(), flank.rend() - 1);
        }
        line.push_back(heel);
        done = tooth.after;
    }
    add_smooth(track, done + 0.25 * kSmoothStep, track.length(), line);
    line.push_back(track.points.back());
    return line;
}

// Push of the edge at share u between one tooth's foot (0) and the next (1), tooth height 1.
double bump(ToothStyle style, double u) {
    if (style == ToothStyle::round) return 2 * std::sqrt(std::max(0.0, u * (1 - u))) - 0.6;
    if (style == ToothStyle::wavy) return 0.5 * std::sin(kTwoPi * u);
    double const v = std::abs(2 * u - 1); // spiny: hollow between two spines, which stand at the middle
    return 0.8 * std::pow(1 - v, 2.2) - 0.35 * (v > 0.5 ? 1 : std::sin(kPi * v));
}

Line bumpy(Track const& track, ToothForm const& form, std::vector<Tooth>& teeth) {
    constexpr int kSteps = 16;
    Line line;
    double done = 0;
    for (Tooth& tooth : teeth) {
        tooth.tip = track.at(tooth.apex) + bump(form.style, 0.5) * tooth.height * track.outward(tooth.apex);
        if (tooth.before > done + 1e-9) add_smooth(track, done, tooth.before, line);
        for (int i = 0; i < kSteps; ++i) {
            double const u = static_cast<double>(i) / kSteps;
            double const s = u < 0.5 ? tooth.before + 2 * u * (tooth.apex - tooth.before)
                                     : tooth.apex + (2 * u - 1) * (tooth.after - tooth.apex);
            line.push_back(track.at(s) + bump(form.style, u) * tooth.height * track.outward(s));
        }
        done = tooth.after;
    }
    add_smooth(track, done + 0.25 * kSmoothStep, track.length(), line);
    line.push_back(track.points.back());
    return line;
}

} // namespace

std::vector<Tooth> teeth_at(std::vector<double> const& places, ToothForm const& form, double edge_length) {
    std::vector<Tooth> teeth;
    std::size_t const n = places.size();
    for (std::size_t i = 0; i < n; ++i) {
        double const below = i > 0 ? places[i] - places[i - 1] : (n > 1 ? places[1] - places[0] : 0.1);
        double const above = i + 1 < n ? places[i + 1] - places[i] : below;
        // Not past the ends of the edge, where the stalk and the tip are.
        double const before = std::max(places[i] - form.lean * below, 0.25 * places[i]);
        double const after =
            std::min(places[i] + (1 - form.lean) * above, edge_length - 0.25 * (edge_length - places[i]));
        teeth.push_back({before, places[i], after, form.depth * 0.5 * (below + above)});
    }
    return teeth;
}

std::vector<Tooth> teeth_on_flanks(Track const& track, ToothForm const& form) {
    std::vector<Tooth> teeth;
    for (std::size_t b = 0; b < track.bend_ends.size(); ++b) {
        double const start = b == 0 ? 0 : track.bend_ends[b - 1];
        double const span = track.bend_ends[b] - start;
        bool const to_tip = b % 2 == 0; // flanks run sinus to tip, tip to sinus, ...
        double const pitch = span * (form.to - form.from) / form.count;
        for (int i = 0; i < form.count; ++i) {
            double const low = start + span * (to_tip ? form.from : 1 - form.to) + pitch * i;
            double const lean = to_tip ? form.lean : 1 - form.lean;
            teeth.push_back({low, low + lean * pitch, low + pitch, form.depth * pitch});
        }
    }
    return teeth;
}

Line with_teeth(Track const& track, ToothForm const& form, std::vector<Tooth>& teeth, Random& random,
                double unevenness) {
    for (Tooth& tooth : teeth) tooth.height *= 1 + 0.6 * unevenness * random.between(-1, 1);
    if (teeth.empty()) {
        Line line;
        add_smooth(track, 0, track.length(), line);
        line.push_back(track.points.back());
        return line;
    }
    return form.style == ToothStyle::serrate ? serrate(track, form, teeth) : bumpy(track, form, teeth);
}

} // namespace leafwright
