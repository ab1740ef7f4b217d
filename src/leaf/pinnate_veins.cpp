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

// A way from a rib to the edge that turns toward the tip by turn_deg.
Line bent(Vec2 const& root, Vec2 const& end, double turn_deg) {
    Vec2 const run = end - root;
    Vec2 const corner = 0.5 * (root + end) + 0.5 * std::tan(radians(turn_deg / 2)) * Vec2(run.y, -run.x);
    Line line;
    for (int i = 0; i <= 10; ++i) {
        double const t = i / 10.0;
        line.push_back((1 - t) * (1 - t) * root + 2 * t * (1 - t) * corner + t * t * end);
    }
    return line;
}

double root_height(Vec2 const& end, double angle_deg) { return end.y - end.x / std::tan(radians(angle_deg)); }

// Places on the margin that are evenly spread both along it and by the veins' roots on the midrib.
struct EvenPlaces {
    std::vector<double> along;
    std::vector<double> sum;

    double place(double share) const {
        double const wanted = std::clamp(share, 0.0, 1.0) * sum.back();
        auto const next = std::lower_bound(sum.begin() + 1, sum.end() - 1, wanted);
        std::size_t const i = static_cast<std::size_t>(next - sum.begin());
        double const t = (wanted - sum[i - 1]) / (sum[i] - sum[i - 1]);
        return along[i - 1] + t * (along[i] - along[i - 1]);
    }
};

EvenPlaces even_places(LeafForm const& form, Track const& track) {
    constexpr int kSteps = 80;
    constexpr double kByMargin = 0.5;
    EvenPlaces even{{form.veins.edge_from * track.length()}, {0}};
    double const step = (form.veins.edge_to - form.veins.edge_from) * track.length() / kSteps;
    double height = std::max(form.veins.from, root_height(track.at(even.along[0]), form.veins.angle_deg));
    for (int i = 1; i <= kSteps; ++i) {
        even.along.push_back(even.along[0] + i * step);
        double const next = std::max(height, root_height(track.at(even.along.back()), form.veins.angle_deg));
        even.sum.push_back(even.sum.back() + kByMargin * step + (1 - kByMargin) * (next - height));
        height = next;
    }
    return even;
}

// Outer branches of the lowest side vein, to the teeth or just short of the edge below it.
void add_basal_branches(HalfLeaf const& half, std::vector<SideVein> const& side_veins, double width,
                        std::vector<Vein>& veins) {
    Line const& lowest = side_veins.front().path;
    int const count = half.form.veins.basal;
    for (int i = 0; i < count; ++i) {
        Vec2 const root = along_line(lowest, 0.08 + 0.62 * i / count);
        Line way{root, half.track.at(basal_edge(half.form, side_veins, i))};
        Vec2 const end = edge_end(half, {way, basal_edge(half.form, side_veins, i)});
        Line const path = bent(root, end, -18);
        veins.push_back({few_points(path, 6), width, 0.5 * width, 3});
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

double basal_edge(LeafForm const& form, std::vector<SideVein> const& side_veins, int i) {
    double const lowest = side_veins.front().edge;
    double const start =
        (form.teeth.at_veins ? form.teeth.from : 0.35 * form.veins.edge_from) * lowest / form.veins.edge_from;
    return start + (lowest - start) * (i + 0.3) / (form.veins.basal + 0.3);
}

std::vector<SideVein> pinnate_side_veins(LeafForm const& form, Track const& track, double shift, Random& random) {
    VeinForm const& veins = form.veins;
    EvenPlaces const even = even_places(form, track);
    double const closest = 0.3 * (veins.to - veins.from) / veins.count;
    double lowest = veins.from;
    std::vector<SideVein> found;
    for (int i = 0; i < veins.count; ++i) {
        double const jitter = 0.3 * form.unevenness * random.between(-1, 1);
        double const edge = even.place((i + shift + jitter) / (veins.count - 0.5));
        double const angle =
            veins.angle_deg * (1.06 - 0.12 * i / veins.count) + 3 * form.unevenness * random.between(-1, 1);
        Vec2 const end = track.at(edge);
        // Near the base there is no room below for that angle: the veins crowd and spread, as in a heart-shaped leaf.
        double const root = std::clamp(root_height(end, angle), lowest, std::max(lowest, veins.to));
        lowest = root + closest;
        found.push_back({bent({0, root}, end, veins.curve_deg), edge});
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
    // The rest comes by veins too fine for clay.
    double const flow = 0.5 * kFlowToBranches / all;
    for (std::size_t i = 0; i < side_veins.size(); ++i) {
        Line const& path = side_veins[i].path;
        double const width = midrib_width * std::cbrt(flow * line_length(path));
        veins.push_back({path, width, width * std::cbrt(kFlowLeftInSide), 2});
        if (form.forks > 0) add_fork(path, width, half.track, veins);
        if (i == 0) add_basal_branches(half, side_veins, 0.55 * width, veins);
        if (i + 1 < side_veins.size() && form.fine > 0)
            add_cross_veins(path, width, side_veins[i + 1].path, form.fine, half.track.points, random, veins);
    }
    return veins;
}

} // namespace leafwright
