#include "leaf/drawn_veins.h"

#include "base/units.h"
#include "leaf/blade_map.h"
#include "leaf/segment.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kWidthShare = 0.04; // of the midrib's root, as grown veins have it
constexpr double kStepShare = 0.012; // of the leaf's length, between nodes
constexpr double kMostNodes = 3000;
constexpr double kJoin = 0.02; // of the leaf's length: as near as that hangs together
constexpr double kLeastAlong = 0.35;
constexpr double kMainReach = 0.5; // a rib from the foot so long for the midrib's is a main one
constexpr double kFoot = 0.08;

using Points = std::vector<Vec2>;

// The longest run of the line that lies in the blade.
Points within(BladeMap const& blade, Points const& line) {
    Points best;
    Points run;
    for (Vec2 const& p : line) {
        bool const goes_on = blade.holds(p) && (run.empty() || blade.clear(run.back(), p));
        if (!goes_on) run.clear();
        if (blade.holds(p)) run.push_back(p);
        if (run.size() > best.size()) best = run;
    }
    return best;
}

// A line that is not yet part of the tree: which of its points is nearest to which node.
struct Loose {
    Points line;
    double away = 1e300;
    std::size_t own = 0;
    int node = -1;
    // A thicker vein draws from a little farther: two that leave the midrib at one place both hang on it.
    void see(VeinTree const& tree, std::size_t from, double join) {
        for (std::size_t n = from; n < tree.size(); ++n)
            for (std::size_t k = 0; k < line.size(); ++k) {
                double const d = glm::length(tree.at[n] - line[k]) + 0.3 * join * (tree.order[n] - 1);
                if (d < away - 1e-9) away = d, own = k, node = static_cast<int>(n);
            }
    }
};

class Joiner {
public:
    Joiner(std::vector<Points> lines, double length_mm) : length_(length_mm) {
        for (Points& line : lines) loose_.push_back({std::move(line)});
    }
    VeinTree tree;

    void take_all() {
        std::size_t seen = 0;
        while (!loose_.empty()) {
            for (Loose& one : loose_) one.see(tree, seen, kJoin * length_);
            seen = tree.size();
            auto const next = std::ranges::min_element(loose_, {}, &Loose::away);
            Loose one = std::move(*next);
            loose_.erase(next);
            hang(one);
        }
    }

private:
    void hang(Loose const& one) {
        bool const joins = one.node >= 0 && one.away <= 1.6 * kJoin * length_;
        std::size_t const own = joins ? one.own : 0;
        Points const up(one.line.begin() + static_cast<std::ptrdiff_t>(own), one.line.end());
        Points down(one.line.begin(), one.line.begin() + static_cast<std::ptrdiff_t>(own) + 1);
        std::ranges::reverse(down);
        int const from = joins ? one.node : -1;
        for (Points const& part : {up, down})
            if (length_along(part) > 0.6 * kJoin * length_) add(part, from);
    }

    void add(Points const& part, int from) {
        int const order = order_of(part, from);
        int last = from;
        for (Vec2 const& p : part) {
            bool const doubled = last >= 0 && glm::length(tree.at[static_cast<std::size_t>(last)] - p) < 1e-6;
            if (!doubled) last = tree.add(p, last, order);
        }
    }

    int order_of(Points const& part, int from) const {
        if (from < 0) return 2;
        auto const node = static_cast<std::size_t>(from);
        int const above = tree.order[node];
        bool const at_foot = above == 1 && glm::length(tree.at[node] - tree.at[0]) < kFoot * length_;
        if (at_foot && length_along(part) > kMainReach * length_) return 1;
        bool const is_end = std::ranges::find(tree.parent, from) == tree.parent.end();
        return is_end ? above : std::min(3, above + 1);
    }

    double length_;
    std::vector<Loose> loose_;
};

} // namespace

int midrib_among(std::span<Points const> lines, Vec2 const& base, Vec2 const& tip) {
    Vec2 const way = tip - base;
    double const length = glm::length(way);
    if (length <= 0) return -1;
    int best = -1;
    double most = kLeastAlong * length;
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (lines[i].size() < 2) continue;
        Vec2 const chord = lines[i].back() - lines[i].front();
        double const along = std::abs(glm::dot(chord, way)) / length;
        if (along < std::cos(radians(25.0)) * glm::length(chord) || along <= most) continue;
        most = along;
        best = static_cast<int>(i);
    }
    return best;
}

VeinTree drawn_vein_tree(Polygon const& outline, std::span<Vec2 const> midrib, std::span<Points const> lines) {
    if (midrib.size() < 2 || outline.outer.size() < 3) return {};
    BladeMap const blade(outline);
    double const length = glm::length(midrib.back() - midrib.front());
    double total = 0;
    for (Points const& line : lines) total += length_along(line);
    double const step = std::max({kStepShare * length, total / kMostNodes, 1e-3});
    std::vector<Points> kept;
    for (Points const& line : lines) {
        if (line.size() < 2 || length_along(line) <= 0) continue;
        Points inside = within(blade, evenly_spaced(line, step));
        if (inside.size() > 1) kept.push_back(std::move(inside));
    }
    int const main = midrib_among(kept, midrib.front(), midrib.back());
    Points rib = evenly_spaced(Points(midrib.begin(), midrib.end()), step);
    if (main >= 0) {
        rib = kept[static_cast<std::size_t>(main)];
        if (glm::dot(rib.back() - rib.front(), midrib.back() - midrib.front()) < 0) std::ranges::reverse(rib);
        kept.erase(kept.begin() + main);
        rib.insert(rib.begin(), midrib.front());
    } else {
        rib = within(blade, rib);
    }
    Joiner joiner(std::move(kept), length);
    for (std::size_t k = 0; k < rib.size(); ++k) joiner.tree.add(rib[k], static_cast<int>(k) - 1, 1);
    joiner.take_all();
    if (joiner.tree.size() == 0) return {};
    Vec2 const size = bounds(outline.outer).size();
    joiner.tree.take_widths(kWidthShare * std::sqrt(size.x * size.y));
    return std::move(joiner.tree);
}

std::vector<Vein> drawn_veins(Polygon const& outline, std::span<Vec2 const> midrib, std::span<Points const> lines) {
    return drawn_vein_tree(outline, midrib, lines).veins();
}

} // namespace leafwright
