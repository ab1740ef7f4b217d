#include "base/units.h"
#include "leaf/veins.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

// Bends the outer part of a way so that it ends exactly at a point.
void lead_to(Line& path, Vec2 const& end) {
    Vec2 const off = end - path.back();
    double const length = line_length(path);
    double done = 0;
    for (std::size_t i = 1; i < path.size(); ++i) {
        done += glm::length(path[i] - path[i - 1]);
        double const share = std::min(1.0, done / length);
        path[i] += share * share * off;
    }
    path.back() = end;
}

// The way turns up before the edge and runs beside it toward the next vein.
void arch(Line& path, Track const& track, double edge, double next_edge) {
    Vec2 const root = path.front();
    Vec2 const knee = along_line(path, 0.72);
    Vec2 const before = along_line(path, 0.6);
    double const inset = 0.16 * glm::length(track.at(edge) - root);
    double const place = std::min(edge + 0.75 * (next_edge - edge), track.length() * 0.985);
    Vec2 const end = track.at(place) - 0.55 * inset * track.outward(place);
    Vec2 const corner = knee + 0.5 * glm::length(end - knee) * glm::normalize(knee - before);
    Line arched;
    for (int i = 0; i <= 5; ++i) arched.push_back(along_line(path, 0.72 * i / 5));
    for (int i = 1; i <= 5; ++i) {
        double const t = i / 5.0;
        arched.push_back((1 - t) * (1 - t) * knee + 2 * t * (1 - t) * corner + t * t * end);
    }
    path = std::move(arched);
}

// Where a vein that meets the edge ends: in the tooth or lobe nearest to it.
Vec2 edge_end(HalfLeaf const& half, SideVein const& vein) {
    Vec2 const root = vein.path.front();
    Vec2 end = half.track.at(vein.edge);
    if (!half.ribs.empty()) return root + 0.94 * (vein.path.back() - root);
    double nearest = 0.5 * half.track.length() / std::max(1, half.form.veins.count);
    for (Tooth const& tooth : half.teeth)
        if (std::abs(tooth.apex - vein.edge) < nearest) nearest = std::abs(tooth.apex - vein.edge), end = tooth.tip;
    double const inset = half.teeth.empty() ? 0.05 : 0.025;
    return end + inset * (root - end);
}

Line few_points(Line const& path, int count) {
    Line line;
    for (int i = 0; i < count; ++i) line.push_back(along_line(path, static_cast<double>(i) / (count - 1)));
    return line;
}

// Outer branches of the lowest side vein to the basal teeth.
void add_basal_branches(HalfLeaf const& half, Line const& lowest, double width, std::vector<Vein>& veins) {
    int const count = half.form.teeth.at_veins ? half.form.teeth.basal : 0;
    for (int i = 0; i < count && i < static_cast<int>(half.teeth.size()); ++i) {
        Vec2 const tip = half.teeth[static_cast<std::size_t>(i)].tip;
        Vec2 const root = along_line(lowest, 0.12 + 0.6 * i / count);
        Vec2 const middle =
            0.5 * (root + tip) + 0.08 * glm::length(tip - root) * glm::normalize(lowest.back() - lowest.front());
        veins.push_back({{root, middle, tip + 0.05 * (root - tip)}, width, 0.5 * width, 3});
    }
}

// Forks near the midrib: the second arm leaves the first one and stays beside it.
void add_fork(Line const& path, double width, Track const& track, std::vector<Vein>& veins) {
    Vec2 const root = along_line(path, 0.22);
    Vec2 const end = path.back() + 0.5 * (along_line(path, 0.8) - path.back());
    Vec2 const drop{0.004, -0.5 * 0.5 * glm::length(path.back() - path.front()) / 3.2};
    Line arm{root, along_line(path, 0.45) + 0.7 * drop, along_line(path, 0.7) + drop, end + drop};
    if (contains(track.points, arm.back())) veins.push_back({arm, 0.8 * width, 0.5 * width, 2});
}

} // namespace

std::vector<SideVein> pinnate_side_veins(LeafForm const& form, Track const& track, double shift, Random& random) {
    VeinForm const& veins = form.veins;
    double const pitch = (veins.to - veins.from) / veins.count;
    double const span = 0.5 / form.length_to_width;
    std::vector<SideVein> found;
    for (int i = 0; i < veins.count; ++i) {
        double const jitter = 0.3 * form.unevenness * random.between(-1, 1);
        double const root = veins.from + pitch * (i + shift + jitter);
        double const angle =
            veins.angle_deg * (1.08 - 0.16 * i / veins.count) + 3 * form.unevenness * random.between(-1, 1);
        Line path = march({0, root}, angle, veins.curve_deg, span, track.points);
        if (path.size() < 3) continue;
        double const edge = track.nearest(path.back());
        if (!found.empty() && edge <= found.back().edge + 1e-3) continue;
        path.push_back(track.at(edge));
        found.push_back({std::move(path), edge});
    }
    return found;
}

std::vector<Vein> pinnate_veins(HalfLeaf const& half, std::vector<SideVein> side_veins, double midrib_width,
                                Random& random) {
    VeinForm const& form = half.form.veins;
    double all = 0;
    for (std::size_t i = 0; i < side_veins.size(); ++i) {
        SideVein& vein = side_veins[i];
        double const next =
            i + 1 < side_veins.size() ? side_veins[i + 1].edge : 0.5 * (vein.edge + half.track.length());
        if (form.end == VeinEnd::arch)
            arch(vein.path, half.track, vein.edge, next);
        else
            lead_to(vein.path, edge_end(half, vein));
        vein.path = few_points(vein.path, 9);
        all += line_length(vein.path);
    }
    std::vector<Vein> veins;
    // One half carries half of the midrib's flow; a vein drains in proportion to its length.
    double const flow = 0.5 * (1 - kFlowLeftAtTip) / all;
    for (std::size_t i = 0; i < side_veins.size(); ++i) {
        Line const& path = side_veins[i].path;
        double const width = midrib_width * std::cbrt(flow * line_length(path));
        veins.push_back({path, width, width * std::cbrt(kFlowLeftInSide), 2});
        if (form.forks > 0) add_fork(path, width, half.track, veins);
        if (i == 0) add_basal_branches(half, path, 0.55 * width, veins);
        if (i + 1 < side_veins.size() && form.fine > 0)
            add_cross_veins(path, width, side_veins[i + 1].path, form.fine, half.track.points, random, veins);
    }
    return veins;
}

} // namespace leafwright
