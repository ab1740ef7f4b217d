#include "leaf/vein_ribs.h"

#include "base/units.h"

#include <algorithm>
#include <cmath>
#include <functional>

namespace leafwright {

namespace {

constexpr double kEdgeSteps = 0.6; // veins end so many steps before the edge
constexpr int kMostSteps = 2000;

Vec2 turned(Vec2 const& v, double angle) {
    return {v.x * std::cos(angle) - v.y * std::sin(angle), v.x * std::sin(angle) + v.y * std::cos(angle)};
}

// Walks a polyline in chords of the step, as far as it stays inside.
int lay_line(RibWork const& work, VeinTree& tree, std::span<Vec2 const> line, int from, int order) {
    int last = from;
    std::size_t k = 0;
    Vec2 at = line[0];
    if (last < 0) last = tree.add(at, -1, order);
    for (;;) {
        // The first crossing of the circle of one step about `at` with the rest of the line.
        bool found = false;
        Vec2 next{0, 0};
        for (std::size_t i = k; i + 1 < line.size() && !found; ++i) {
            if (glm::length(line[i + 1] - at) < work.step_mm) continue;
            Vec2 const a = i == k ? at : line[i];
            Vec2 const d = line[i + 1] - a;
            double const aa = glm::dot(d, d);
            double const bb = glm::dot(a - at, d);
            double const cc = glm::dot(a - at, a - at) - work.step_mm * work.step_mm;
            double const t = aa > 0 ? (-bb + std::sqrt(std::max(0.0, bb * bb - aa * cc))) / aa : 0;
            next = a + std::clamp(t, 0.0, 1.0) * d;
            next = at + work.step_mm * glm::normalize(next - at);
            k = i;
            found = true;
        }
        if (!found || tree.size() > 100000) return last;
        if (!work.blade.clear(at, next + kEdgeSteps * (next - at))) return last;
        last = tree.add(next, last, order);
        at = next;
    }
}

// Walks from a node at a heading that turns by so much over its way, until the edge or another vein is near.
int march(RibWork const& work, VeinTree& tree, int from, Vec2 heading, double turn_per_step, int order,
          std::function<bool(Vec2 const&)> const& may_go) {
    Vec2 at = tree.at[static_cast<std::size_t>(from)];
    int last = from;
    for (int i = 0; i < kMostSteps; ++i) {
        Vec2 const next = at + work.step_mm * heading;
        if (!work.blade.clear(at, next + kEdgeSteps * work.step_mm * heading) || !may_go(next)) break;
        last = tree.add(next, last, order);
        at = next;
        heading = turned(heading, turn_per_step);
    }
    return last;
}

struct Ribbed {
    std::vector<int> midrib; // nodes from the foot of the blade upward
    double blade_mm = 0;
};

Ribbed lay_midrib(RibWork const& work, VeinTree& tree) {
    Ribbed ribbed;
    int const last = lay_line(work, tree, work.midrib, -1, 1);
    for (int i = last; i >= 0; i = tree.parent[static_cast<std::size_t>(i)])
        if (i * work.step_mm >= work.foot_mm) ribbed.midrib.insert(ribbed.midrib.begin(), i);
    ribbed.blade_mm = static_cast<double>(ribbed.midrib.size()) * work.step_mm;
    return ribbed;
}

Vec2 direction_at(VeinTree const& tree, int node) {
    int const before = tree.parent[static_cast<std::size_t>(node)];
    if (before < 0) return {0, 1};
    return glm::normalize(tree.at[static_cast<std::size_t>(node)] - tree.at[static_cast<std::size_t>(before)]);
}

void lay_side_veins(RibWork const& work, VeinTree& tree, Ribbed const& ribbed) {
    int const count = 8 + static_cast<int>(work.random.below(3));
    double const shift = 0.5 * work.random.unit();
    // A blade that reaches below its foot is served by veins that leave at wide angles there.
    double const sunk = tree.at[static_cast<std::size_t>(ribbed.midrib[0])].y - work.blade.box().low.y;
    double const below = std::clamp(60 + 200 * sunk / ribbed.blade_mm, 60.0, 95.0);
    for (int side : {-1, 1})
        for (int i = 0; i < count; ++i) {
            double const share = (i + (side > 0 ? shift : 0.0) + 0.25 + 0.12 * work.random.between(-1, 1)) / count;
            double const along = 0.02 + 0.9 * std::clamp(share, 0.0, 1.0);
            auto const place = static_cast<std::size_t>(along * static_cast<double>(ribbed.midrib.size()));
            if (place + 2 >= ribbed.midrib.size()) continue;
            int const node = ribbed.midrib[place];
            double const open = radians(below + (44 - below) * std::sqrt(along) + 3 * work.random.between(-1, 1));
            Vec2 const heading = turned(direction_at(tree, node), -side * open);
            double const turn = side * radians(15.0) / std::max(6.0, 0.4 * ribbed.blade_mm / work.step_mm);
            march(work, tree, node, heading, turn, 2, [](Vec2 const&) { return true; });
        }
}

// A gentle bow from a node to a point; false when the edge is in the way.
bool reaches(RibWork const& work, Vec2 const& from, Vec2 const& to, double bow, std::vector<Vec2>& line) {
    line.clear();
    Vec2 const way = to - from;
    Vec2 const bend = from + 0.5 * way + bow * Vec2{-way.y, way.x};
    constexpr int kParts = 16;
    for (int i = 0; i <= kParts; ++i) {
        double const t = static_cast<double>(i) / kParts;
        line.push_back((1 - t) * (1 - t) * from + 2 * t * (1 - t) * bend + t * t * to);
        if (i > 0 && t < 0.93 && !work.blade.clear(line[line.size() - 2], line.back())) return false;
    }
    return true;
}

// The node of the midrib from which a side vein reaches the point best: near 48 degrees, the way clear.
bool best_root(RibWork const& work, VeinTree const& tree, Ribbed const& ribbed, Vec2 const& to, int& root,
               std::vector<Vec2>& line) {
    double least = 1e300;
    std::vector<Vec2> tried;
    for (std::size_t k = 1; k + 1 < ribbed.midrib.size(); ++k) {
        int const node = ribbed.midrib[k];
        Vec2 const from = tree.at[static_cast<std::size_t>(node)];
        Vec2 const way = to - from;
        double const open = std::acos(
            std::clamp(glm::dot(way, direction_at(tree, node)) / std::max(1e-9, glm::length(way)), -1.0, 1.0));
        double const worth = std::abs(open - radians(48.0));
        if (worth >= least) continue;
        double const bow = cross(direction_at(tree, node), way) > 0 ? -0.06 : 0.06;
        if (!reaches(work, from, to, bow, tried) && !reaches(work, from, to, 0, tried)) continue;
        least = worth;
        root = node;
        line = tried;
    }
    return least < 1e299;
}

void lay_lobe_veins(RibWork const& work, VeinTree& tree, Ribbed const& ribbed) {
    Vec2 const tip = tree.at[static_cast<std::size_t>(ribbed.midrib.back())];
    std::vector<Vec2> tips;
    Ring const& outline = work.blade.outline().outer;
    // Seen from the midrib: how far out each point of the edge stands.
    for (int side : {-1, 1}) {
        Ring folded = outline;
        for (Vec2& p : folded) {
            double nearest = 1e300;
            for (int const node : ribbed.midrib)
                nearest = std::min(nearest, glm::length(p - tree.at[static_cast<std::size_t>(node)]));
            p = {side * p.x > 0 ? nearest : 0, 0};
        }
        std::vector<Vec2> out = lobe_tips(folded, {0, 0}, 0.16);
        for (Vec2 const& p : out)
            for (std::size_t i = 0; i < folded.size(); ++i)
                if (folded[i] == p && glm::length(outline[i] - tip) > 3 * work.step_mm) {
                    tips.push_back(outline[i]);
                    break;
                }
    }
    if (tips.size() < 3) return lay_side_veins(work, tree, ribbed);
    for (Vec2 const& p : tips) {
        int root = -1;
        std::vector<Vec2> line;
        if (best_root(work, tree, ribbed, p, root, line)) lay_line(work, tree, line, root, 2);
    }
}

void lay_palmate_ribs(RibWork const& work, VeinTree& tree, Ribbed const& ribbed) {
    int const foot = ribbed.midrib[std::min<std::size_t>(1, ribbed.midrib.size() - 1)];
    Vec2 const from = tree.at[static_cast<std::size_t>(foot)];
    Vec2 const tip = tree.at[static_cast<std::size_t>(ribbed.midrib.back())];
    Vec2 const up = glm::normalize(tip - from);
    bool left = false;
    bool right = false;
    for (Vec2 const& p : lobe_tips(work.blade.outline().outer, from, 0.05)) {
        Vec2 const way = p - from;
        double const open = degrees(std::atan2(cross(up, way), glm::dot(up, way)));
        if (std::abs(open) < 12 || std::abs(open) > 150 || glm::length(way) < 6 * work.step_mm) continue;
        std::vector<Vec2> line;
        bool laid = false;
        for (double bow : {0.0, 0.12, -0.12, 0.25, -0.25})
            if (!laid && reaches(work, from, p, bow, line)) laid = true;
        if (!laid) continue;
        lay_line(work, tree, line, foot, 1);
        (open > 0 ? left : right) = true;
    }
    // A heart-shaped blade has no lobes to lead the ribs.
    for (int side : {-1, 1}) {
        if (side < 0 ? left : right) continue;
        for (double open : {36.0, 78.0})
            march(work, tree, foot, turned(up, -side * radians(open)),
                  side * radians(24.0) * work.step_mm / ribbed.blade_mm, 1, [](Vec2 const&) { return true; });
    }
}

// Room from the midrib's node to the edge, square to it.
double room_beside(RibWork const& work, VeinTree const& tree, int node, int side) {
    Vec2 const at = tree.at[static_cast<std::size_t>(node)];
    Vec2 const out = turned(direction_at(tree, node), -side * kPi / 2);
    double low = 0;
    double high = glm::length(work.blade.box().size());
    for (int i = 0; i < 24; ++i) {
        double const middle = 0.5 * (low + high);
        (work.blade.clear(at, at + middle * out) ? low : high) = middle;
    }
    return low;
}

void lay_parallel_ribs(RibWork const& work, VeinTree& tree, Ribbed const& ribbed) {
    constexpr int kRibs = 4;
    std::size_t const n = ribbed.midrib.size();
    for (int side : {-1, 1}) {
        std::vector<double> room;
        for (int const node : ribbed.midrib) room.push_back(room_beside(work, tree, node, side));
        // The room narrows and widens gently along the way.
        for (std::size_t pass = 0; pass < n / 2; ++pass)
            for (std::size_t k = 1; k + 1 < n; ++k) room[k] = std::min(room[k], 0.5 * (room[k - 1] + room[k + 1]));
        for (int rib = 1; rib <= kRibs; ++rib) {
            auto const start = static_cast<std::size_t>(0.012 * rib * static_cast<double>(n));
            std::vector<Vec2> line;
            for (std::size_t k = start; k < n; ++k) {
                double const in = std::min(1.0, static_cast<double>(k - start) / (0.16 * static_cast<double>(n)));
                double const off = in * in * (3 - 2 * in) * rib / (kRibs + 0.6) * room[k];
                Vec2 const across = turned(direction_at(tree, ribbed.midrib[k]), -side * kPi / 2);
                line.push_back(tree.at[static_cast<std::size_t>(ribbed.midrib[k])] + off * across);
                if (k > n / 2 && room[k] < 1.2 * kRibs * 0.4 * work.step_mm) break;
            }
            if (line.size() > 4) lay_line(work, tree, line, ribbed.midrib[start], 2);
        }
    }
}

// The line up to that length of it.
std::vector<Vec2> lower_part(std::span<Vec2 const> line, double length_mm) {
    std::vector<Vec2> part{line[0]};
    for (std::size_t i = 1; i < line.size() && length_mm > 0; ++i) {
        double const step = glm::length(line[i] - line[i - 1]);
        part.push_back(line[i - 1] + std::min(1.0, length_mm / std::max(step, 1e-12)) * (line[i] - line[i - 1]));
        length_mm -= step;
    }
    return part;
}

// Every vein aims at the middle of its part of the far edge and forks when it has gone its share of the way.
struct Fork {
    int node;
    double low; // its part of the fan, radians from straight up
    double high;
    int generation;
};

void lay_forks(RibWork const& work, VeinTree& tree) {
    constexpr int kGenerations = 6;
    int const foot = lay_line(work, tree, lower_part(work.midrib, work.foot_mm), -1, 1);
    Vec2 const from = tree.at[static_cast<std::size_t>(foot)];
    double low = 0;
    double high = 0;
    double reach = 0;
    for (Vec2 const& p : work.blade.outline().outer) {
        Vec2 const way = p - from;
        if (glm::length(way) < 5 * work.step_mm || way.y < 0) continue;
        double const angle = std::atan2(way.x, way.y);
        low = std::min(low, angle);
        high = std::max(high, angle);
        reach = std::max(reach, glm::length(way));
    }
    std::vector<Fork> forks{{foot, 0.97 * low, 0.97 * high, 0}};
    while (!forks.empty()) {
        Fork const fork = forks.back();
        forks.pop_back();
        double const middle = 0.5 * (fork.low + fork.high);
        Vec2 const aim = from + 1.05 * reach * Vec2{std::sin(middle), std::cos(middle)};
        // Forks crowd toward the foot, where the fan is narrow.
        double const until = fork.generation >= kGenerations
                                 ? 1e300
                                 : reach * (0.06 + 0.14 * fork.generation) * work.random.between(0.85, 1.15);
        int last = fork.node;
        bool blocked = false;
        for (int i = 0; i < kMostSteps; ++i) {
            Vec2 const at = tree.at[static_cast<std::size_t>(last)];
            if (glm::length(at - from) >= until) break;
            Vec2 const heading = glm::normalize(aim - at);
            if (!work.blade.clear(at, at + (1 + kEdgeSteps) * work.step_mm * heading) ||
                glm::length(aim - at) < work.step_mm) {
                blocked = true;
                break;
            }
            int const order = fork.generation <= 1 ? 1 : fork.generation <= 3 ? 2 : 3;
            last = tree.add(at + work.step_mm * heading, last, order);
        }
        if (fork.generation >= kGenerations || (blocked && last == fork.node)) continue;
        double const part = middle + 0.1 * (fork.high - fork.low) * work.random.between(-1, 1);
        forks.push_back({last, fork.low, part, fork.generation + 1});
        forks.push_back({last, part, fork.high, fork.generation + 1});
    }
}

} // namespace

std::vector<Vec2> midrib_in(BladeMap const& blade, std::span<Vec2 const> midrib) {
    constexpr int kSamples = 240;
    double total = 0;
    for (std::size_t i = 1; i < midrib.size(); ++i) total += glm::length(midrib[i] - midrib[i - 1]);
    std::vector<Vec2> fine;
    for (std::size_t i = 1; i < midrib.size(); ++i) {
        int const parts = std::max(1, static_cast<int>(kSamples * glm::length(midrib[i] - midrib[i - 1]) / total));
        for (int k = 0; k < parts; ++k)
            fine.push_back(midrib[i - 1] + static_cast<double>(k) / parts * (midrib[i] - midrib[i - 1]));
    }
    fine.push_back(midrib.back());
    // Where it lies outside or close to the edge it is led to the nearest part of the blade at that height.
    bool led = false;
    Ring const& ring = blade.outline().outer;
    for (Vec2& p : fine) {
        std::vector<double> cuts;
        for (std::size_t i = 0; i < ring.size(); ++i) {
            Vec2 const& a = ring[i];
            Vec2 const& b = ring[(i + 1) % ring.size()];
            if ((a.y > p.y) != (b.y > p.y)) cuts.push_back(a.x + (b.x - a.x) * ((p.y - a.y) / (b.y - a.y)));
        }
        std::ranges::sort(cuts);
        double best = 1e300;
        double x = p.x;
        for (std::size_t i = 0; i + 1 < cuts.size(); i += 2) {
            double const inset = 0.3 * (cuts[i + 1] - cuts[i]);
            double const held = std::clamp(p.x, cuts[i] + inset, cuts[i + 1] - inset);
            if (std::abs(held - p.x) < best) best = std::abs(held - p.x), x = held;
        }
        if (x != p.x) led = true;
        p.x = x;
    }
    if (led)
        for (int pass = 0; pass < 12; ++pass)
            for (std::size_t i = 1; i + 1 < fine.size(); ++i)
                fine[i].x = (fine[i - 1].x + fine[i].x + fine[i + 1].x) / 3;
    // From the first place inside on, as far as the way is clear.
    std::size_t first = 0;
    while (first < fine.size() && !blade.holds(fine[first])) ++first;
    if (first + 1 < fine.size() && blade.holds(fine[first + 1])) ++first; // off the edge itself
    std::vector<Vec2> inside;
    for (std::size_t i = first; i < fine.size(); ++i) {
        if (!inside.empty() && !blade.clear(inside.back(), fine[i])) break;
        inside.push_back(fine[i]);
    }
    return inside;
}

std::vector<Vec2> lobe_tips(Ring const& outline, Vec2 const& from, double prominence) {
    std::size_t const n = outline.size();
    std::vector<double> far(n);
    for (std::size_t i = 0; i < n; ++i) far[i] = glm::length(outline[i] - from);
    double const most = *std::ranges::max_element(far);
    std::size_t const lowest = static_cast<std::size_t>(std::ranges::min_element(far) - far.begin());
    // Walk once round from the nearest point: a peak counts when the way falls by the share on both its sides.
    std::vector<Vec2> tips;
    double valley = far[lowest];
    double peak = valley;
    std::size_t at = lowest;
    for (std::size_t k = 1; k <= n; ++k) {
        std::size_t const i = (lowest + k) % n;
        if (far[i] > peak) peak = far[i], at = i;
        if (peak - far[i] > prominence * most) {
            if (peak - valley > prominence * most) tips.push_back(outline[at]);
            valley = peak = far[i];
        } else if (far[i] < valley) {
            valley = peak = far[i];
        }
    }
    return tips;
}

VeinTree laid_ribs(RibWork const& work, VeinPattern pattern) {
    VeinTree tree;
    if (work.midrib.size() < 2) return tree;
    if (pattern == VeinPattern::forking) {
        lay_forks(work, tree);
        return tree;
    }
    Ribbed const ribbed = lay_midrib(work, tree);
    if (ribbed.midrib.size() < 4) return tree;
    if (pattern == VeinPattern::pinnate) lay_side_veins(work, tree, ribbed);
    if (pattern == VeinPattern::lobed) lay_lobe_veins(work, tree, ribbed);
    if (pattern == VeinPattern::palmate) lay_palmate_ribs(work, tree, ribbed);
    if (pattern == VeinPattern::parallel) lay_parallel_ribs(work, tree, ribbed);
    return tree;
}

} // namespace leafwright
