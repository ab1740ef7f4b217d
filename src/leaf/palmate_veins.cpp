#include "base/units.h"
#include "leaf/veins.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

double bearing_deg(Vec2 const& p) { return degrees(std::atan2(p.x, p.y)); }

// Between which bearings (from straight up, to the right) the veins of one rib stay: half way to its neighbours.
struct Territory {
    double low_deg = -360;
    double high_deg = 360;
};

Territory territory_of(std::vector<Rib> const& ribs, std::size_t i) {
    double const own = bearing_deg(ribs[i].tip);
    Territory land;
    land.low_deg = i + 1 < ribs.size() ? 0.5 * (own + bearing_deg(ribs[i + 1].tip)) : 0;
    land.high_deg = i > 0 ? 0.5 * (own + bearing_deg(ribs[i - 1].tip)) : 360;
    return land;
}

// Cuts a way where it leaves the territory.
void keep_to(Territory const& land, Line& path) {
    std::size_t kept = 2;
    while (kept < path.size() && bearing_deg(path[kept]) > land.low_deg + 1 &&
           bearing_deg(path[kept]) < land.high_deg - 1)
        ++kept;
    path.resize(std::min(kept, path.size()));
}

Line shortened(Line const& path, double share, int count) {
    Line line;
    for (int i = 0; i < count; ++i) line.push_back(along_line(path, share * i / (count - 1)));
    return line;
}

// Branches on one side of a rib: side -1 counter-clockwise of it, +1 clockwise.
std::vector<Line> rib_branches(HalfLeaf const& half, std::size_t rib, double side, Random& random) {
    VeinForm const& form = half.form.veins;
    Vec2 const tip = half.ribs[rib].tip;
    Territory const land = territory_of(half.ribs, rib);
    std::vector<Line> branches;
    for (int i = 0; i < form.count; ++i) {
        double const share = form.from + (form.to - form.from) * (i + 0.25 * (side + 1)) / form.count;
        double const angle = form.angle_deg + 4 * half.form.unevenness * random.between(-1, 1);
        double const span = 0.3 * glm::length(tip);
        Line path = march(share * tip, bearing_deg(tip) + side * angle, side * form.curve_deg, span, half.track.points);
        keep_to(land, path);
        if (path.size() >= 4) branches.push_back(shortened(path, 0.94, 6));
    }
    return branches;
}

void add_rib(HalfLeaf const& half, std::size_t rib, double width, Random& random, std::vector<Vein>& veins) {
    bool const middle = rib + 1 == half.ribs.size();
    Vec2 const tip = half.ribs[rib].tip;
    if (!middle)
        veins.push_back({{{0, 0}, 0.33 * tip, 0.66 * tip, 0.97 * tip}, width, width * std::cbrt(kFlowLeftAtTip), 1});
    for (double side : {1.0, -1.0}) {
        if (middle && side < 0) continue;
        std::vector<Line> const branches = rib_branches(half, rib, side, random);
        double all = 0;
        for (Line const& line : branches) all += line_length(line);
        for (std::size_t i = 0; i < branches.size(); ++i) {
            double const own = width * std::cbrt(0.5 * kFlowToBranches * line_length(branches[i]) / all);
            veins.push_back({branches[i], own, own * std::cbrt(kFlowLeftInSide), 2});
            if (i + 1 < branches.size() && half.form.veins.fine > 0)
                add_cross_veins(branches[i], own, branches[i + 1], half.form.veins.fine, half.track.points, random,
                                veins);
        }
    }
}

} // namespace

std::vector<Vein> palmate_veins(HalfLeaf const& half, double midrib_width, Random& random) {
    std::vector<Vein> veins;
    for (std::size_t i = 0; i < half.ribs.size(); ++i) {
        // A rib feeds its lobe: width by the cube root of the lobe's area.
        double const share = glm::length(half.ribs[i].tip) / glm::length(half.ribs.back().tip);
        add_rib(half, i, midrib_width * std::cbrt(share * share), random, veins);
    }
    return veins;
}

std::vector<Vein> parallel_veins(HalfLeaf const& half, double midrib_width) {
    int const count = half.form.veins.count;
    std::vector<Vein> veins;
    for (int k = 1; k <= count; ++k) {
        double const share = static_cast<double>(k) / (count + 0.8);
        double const top = half.form.veins.to + 0.1 * (1 - share);
        Line line{{0, 0}};
        for (int i = 1; i <= 14; ++i) {
            double const y = top * i / 14;
            double edge = 0;
            for (Vec2 const& p : half.track.points)
                if (std::abs(p.y - y) < 0.02) edge = std::max(edge, p.x);
            line.push_back({share * edge, y});
        }
        double const width = midrib_width * std::cbrt(0.5 / count);
        veins.push_back({line, width, 0.4 * width, 2});
    }
    return veins;
}

} // namespace leafwright
