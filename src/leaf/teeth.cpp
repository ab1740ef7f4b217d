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

// Push of a tooth's flank out of the margin, of the tooth's height: from its foot (share 0) to its tip (1).
constexpr double kFootPush = -0.35;
constexpr double kTipPush = 0.65;
double flank_push(double share) { return kFootPush + share * (kTipPush - kFootPush); }

Vec2 pushed(Track const& track, double s, double push) { return track.at(s) + push * track.outward(s); }

// The long flank between foot and tip, both left out: it follows the margin and carries the small teeth, each of which
// ends in a little step back.
Line long_flank(Track const& track, Tooth const& tooth, double foot, double lean) {
    int const pieces = tooth.secondary + 1;
    Line line;
    auto add = [&](double share, double rise) {
        line.push_back(pushed(track, foot + share * (tooth.apex - foot), (flank_push(share) + rise) * tooth.height));
    };
    for (int j = 0; j < pieces; ++j) {
        double const share = static_cast<double>(j) / pieces;
        if (j > 0) add(share, 0.30);
        if (j > 0) add(share + 0.30 * (1 - lean) / pieces + 0.02, 0.03);
        add(share + 0.6 / pieces, 0.12);
    }
    return line;
}

// The first tooth of a row rises from the plain margin, and the last one falls back to it.
void add_serration(Track const& track, Tooth const& tooth, double lean, bool first, bool last, Line& line) {
    bool const to_tip = tooth.apex - tooth.before >= tooth.after - tooth.apex;
    if (first) line.push_back(track.at(tooth.before));
    Line flank = long_flank(track, tooth, to_tip ? tooth.before : tooth.after, lean);
    if (to_tip) line.insert(line.end(), flank.begin(), flank.end());
    line.push_back(tooth.tip);
    if (!to_tip) line.insert(line.end(), flank.rbegin(), flank.rend());
    line.push_back(pushed(track, tooth.after, last ? 0 : kFootPush * tooth.height));
}

Line serrate(Track const& track, ToothForm const& form, std::vector<Tooth>& teeth) {
    Line line;
    double done = 0;
    for (Tooth& tooth : teeth) {
        bool const to_tip = tooth.apex - tooth.before >= tooth.after - tooth.apex;
        double const hook = (to_tip ? 0.5 : -0.5) * std::max(0.0, form.lean - 0.5) * tooth.height;
        tooth.tip = pushed(track, tooth.apex, kTipPush * tooth.height) + hook * track.forward(tooth.apex);
        bool const starts = tooth.before > done + 1e-9;
        if (starts) add_smooth(track, done, tooth.before - 0.2 * (tooth.apex - tooth.before), line);
        add_serration(track, tooth, form.lean, starts, &tooth == &teeth.back(), line);
        done = tooth.after;
    }
    add_smooth(track, done + 0.25 * kSmoothStep, track.length(), line);
    line.push_back(track.points.back());
    return line;
}

// Push of the edge at share u between one tooth's foot (0) and the next (1), tooth height 1.
double bump(ToothStyle style, double u) {
    if (style == ToothStyle::round) return std::pow(std::max(0.0, std::sin(kPi * u)), 0.8);
    if (style == ToothStyle::wavy) return 0.5 - 0.5 * std::cos(kTwoPi * u);
    double const v = std::abs(2 * u - 1); // spiny: hollow between two spines, which stand at the middle
    return 0.8 * std::pow(1 - v, 2.2) - 0.35 * (v > 0.5 ? 1 : std::sin(kPi * v));
}

// The outermost half bumps fade into the plain margin.
double faded_bump(ToothStyle style, double u, bool first, bool last) {
    double const fade = first && u < 0.5 ? 2 * u : (last && u > 0.5 ? 2 - 2 * u : 1);
    return fade * bump(style, u);
}

Line bumpy(Track const& track, ToothForm const& form, std::vector<Tooth>& teeth) {
    constexpr int kSteps = 16;
    Line line;
    double done = 0;
    for (std::size_t k = 0; k < teeth.size(); ++k) {
        Tooth& tooth = teeth[k];
        tooth.tip = pushed(track, tooth.apex, bump(form.style, 0.5) * tooth.height);
        if (tooth.before > done + 1e-9) add_smooth(track, done, tooth.before, line);
        for (int i = 0; i < kSteps; ++i) {
            double const u = static_cast<double>(i) / kSteps;
            double const s = u < 0.5 ? tooth.before + 2 * u * (tooth.apex - tooth.before)
                                     : tooth.apex + (2 * u - 1) * (tooth.after - tooth.apex);
            double const push = faded_bump(form.style, u, k == 0, k + 1 == teeth.size());
            line.push_back(pushed(track, s, push * tooth.height));
        }
        done = tooth.after;
    }
    add_smooth(track, done + 0.25 * kSmoothStep, track.length(), line);
    line.push_back(track.points.back());
    return line;
}

} // namespace

std::vector<Tooth> teeth_at(std::vector<double> const& places, ToothForm const& form, Track const& track) {
    std::vector<Tooth> teeth;
    std::size_t const n = places.size();
    double const mean = n > 1 ? (places.back() - places.front()) / static_cast<double>(n - 1) : 0.1;
    for (std::size_t i = 0; i < n; ++i) {
        double const below = i > 0 ? places[i] - places[i - 1] : (n > 1 ? places[1] - places[0] : mean);
        double const above = i + 1 < n ? places[i + 1] - places[i] : below;
        // Not past the ends of the edge, where the stalk and the tip are.
        double const before = std::max(places[i] - form.lean * below, 0.25 * places[i]);
        double const after = std::min(places[i] + (1 - form.lean) * above, 0.25 * places[i] + 0.75 * track.length());
        // Small near the tip, where there is little blade left, and of one size where the spacing is wide.
        double const room = 0.3 * track.at(places[i]).x;
        double const height = std::min({form.depth * 0.5 * (below + above), 1.25 * form.depth * mean, room});
        int const secondary =
            static_cast<int>(std::lround((form.secondary + 1) * (places[i] - before) / (form.lean * mean))) - 1;
        teeth.push_back(
            {before, places[i], after, height, form.secondary > 0 ? std::clamp(secondary, 0, form.secondary + 1) : 0});
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
            teeth.push_back({low, low + lean * pitch, low + pitch, form.depth * pitch, form.secondary});
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
