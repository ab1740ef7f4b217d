#include "leaf/vein_growth.h"

#include "leaf/vein_ribs.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr double kMidribShare = 0.04; // root width, share of the geometric mean of length and width
constexpr double kFineSources = 420;  // over the blade
constexpr double kCoarseSources = 70; // for side veins where the pattern gives none
constexpr double kStepShare = 0.42;   // of the spacing of the fine sources
constexpr double kKillSteps = 1.3;
constexpr double kEdgeShare = 0.3; // of the spacing: sources keep that far from the edge

// Sources on a jittered hexagonal net.
std::vector<Vec2> laid_sources(BladeMap const& blade, double spacing_mm, double from_y, Random& random) {
    std::vector<Vec2> sources;
    Box2 const box = blade.box();
    bool odd = false;
    for (double y = box.low.y; y < box.high.y; y += 0.866 * spacing_mm, odd = !odd)
        for (double x = box.low.x - (odd ? 0.5 * spacing_mm : 0.0); x < box.high.x; x += spacing_mm) {
            Vec2 const p{x + 0.38 * spacing_mm * random.between(-1, 1), y + 0.38 * spacing_mm * random.between(-1, 1)};
            if (p.y < from_y || !blade.holds(p)) continue;
            double const edge = kEdgeShare * spacing_mm;
            bool const free = blade.clear(p, p + Vec2{edge, 0}) && blade.clear(p, p - Vec2{edge, 0}) &&
                              blade.clear(p, p + Vec2{0, edge}) && blade.clear(p, p - Vec2{0, edge});
            if (free) sources.push_back(p);
        }
    return sources;
}

struct Source {
    Vec2 at;
    int nearest = -1; // node, seen from here
    double away = 1e300;
    bool gone = false;
};

class Colony {
public:
    Colony(BladeMap const& blade, VeinTree& tree, double step_mm, double kill_mm, NearestBy by)
        : blade_(blade), tree_(tree), step_(step_mm), kill_(kill_mm), by_(by) {}

    // Grows veins of that order until every source is reached; gives the number that no vein could see.
    std::size_t grow(std::span<Vec2 const> sources, double spacing_mm, int order) {
        lay(sources, spacing_mm);
        for (std::size_t node = 0; node < tree_.size(); ++node) see(static_cast<int>(node));
        for (int round = 0; round < 4000 && step(order); ++round) {}
        std::size_t left = 0;
        for (Source const& source : sources_) left += source.gone ? 0 : 1;
        return left;
    }

private:
    void lay(std::span<Vec2 const> sources, double spacing_mm) {
        sources_.clear();
        for (Vec2 const& at : sources) sources_.push_back({at});
        cell_ = 2 * spacing_mm;
        columns_ = static_cast<int>(blade_.box().size().x / cell_) + 1;
        rows_ = static_cast<int>(blade_.box().size().y / cell_) + 1;
        cells_.assign(static_cast<std::size_t>(columns_ * rows_), {});
        for (std::size_t i = 0; i < sources_.size(); ++i) {
            Vec2 const p = (sources_[i].at - blade_.box().low) / cell_;
            cells_[static_cast<std::size_t>(row(p.y) * columns_ + column(p.x))].push_back(static_cast<int>(i));
        }
        widest_ = 1e300;
    }
    int column(double x) const { return std::clamp(static_cast<int>(std::floor(x)), 0, columns_ - 1); }
    int row(double y) const { return std::clamp(static_cast<int>(std::floor(y)), 0, rows_ - 1); }

    // A new node: sources that have none nearer turn to it.
    void see(int node) {
        Vec2 const at = tree_.at[static_cast<std::size_t>(node)];
        auto const look = [&](Source& source) {
            if (source.gone) return;
            double const away = glm::length(source.at - at);
            if (away >= source.away || !blade_.clear(at, source.at)) return;
            source.away = away;
            source.nearest = node;
            if (away <= kill_) source.gone = true;
        };
        if (by_ == NearestBy::plain || widest_ > 1e6) {
            for (Source& source : sources_) look(source);
            return;
        }
        Vec2 const p = (at - blade_.box().low) / cell_;
        double const reach = widest_ / cell_;
        for (int r = row(p.y - reach); r <= row(p.y + reach); ++r)
            for (int c = column(p.x - reach); c <= column(p.x + reach); ++c)
                for (int const i : cells_[static_cast<std::size_t>(r * columns_ + c)])
                    look(sources_[static_cast<std::size_t>(i)]);
    }

    // One step of every vein that is drawn; false when none is.
    bool step(int order) {
        pull_.assign(tree_.size(), Vec2{0, 0});
        closest_.assign(tree_.size(), -1);
        widest_ = 0;
        bool unseen = false;
        for (std::size_t i = 0; i < sources_.size(); ++i) {
            Source const& source = sources_[i];
            if (source.gone) continue;
            if (source.nearest < 0) {
                unseen = true;
                continue;
            }
            widest_ = std::max(widest_, source.away);
            auto const node = static_cast<std::size_t>(source.nearest);
            pull_[node] += glm::normalize(source.at - tree_.at[node]);
            int& closest = closest_[node];
            if (closest < 0 || source.away < sources_[static_cast<std::size_t>(closest)].away)
                closest = static_cast<int>(i);
        }
        if (unseen) widest_ = 1e300;
        std::size_t const before = pull_.size();
        for (std::size_t node = 0; node < before; ++node)
            if (closest_[node] >= 0) extend(node, order);
        return tree_.size() > before;
    }

    // Toward the mean of what draws it; straight to the closest source where that leads nowhere.
    void extend(std::size_t node, int order) {
        Vec2 const at = tree_.at[node];
        Source const& closest = sources_[static_cast<std::size_t>(closest_[node])];
        Vec2 const straight = glm::normalize(closest.at - at);
        double const pull = glm::length(pull_[node]);
        Vec2 heading = pull > 1e-6 ? pull_[node] / pull : straight;
        Vec2 next = at + step_ * heading;
        bool const good =
            blade_.clear(at, next) && glm::length(closest.at - next) < closest.away && blade_.clear(next, closest.at);
        if (!good) next = at + step_ * straight;
        see(tree_.add(next, static_cast<int>(node), order));
    }

    BladeMap const& blade_;
    VeinTree& tree_;
    double step_;
    double kill_;
    NearestBy by_;
    std::vector<Source> sources_;
    std::vector<std::vector<int>> cells_;
    double cell_ = 1;
    int columns_ = 1;
    int rows_ = 1;
    double widest_ = 1e300; // no source that is left is farther from its vein
    std::vector<Vec2> pull_;
    std::vector<int> closest_;
};

} // namespace

VeinGrowth grow_vein_tree(Polygon const& outline, std::span<Vec2 const> midrib, double stalk_mm, VeinPattern pattern,
                          std::uint64_t seed, NearestBy nearest) {
    VeinGrowth growth;
    if (midrib.size() < 2 || outline.outer.size() < 3) return growth;
    BladeMap const blade(outline);
    Random random(seed);
    double const spacing = 1.07 * std::sqrt(area(outline) / kFineSources);
    growth.step_mm = kStepShare * spacing;
    growth.kill_mm = kKillSteps * growth.step_mm;
    RibWork work{blade, midrib_in(blade, midrib), stalk_mm, growth.step_mm, random};
    growth.tree = laid_ribs(work, pattern);
    if (growth.tree.size() == 0) return growth;

    auto const colonise = [&](double sources, int order) {
        double const apart = 1.07 * std::sqrt(area(outline) / sources);
        std::vector<Vec2> const laid = laid_sources(blade, apart, midrib[0].y + stalk_mm, random);
        Colony colony(blade, growth.tree, growth.step_mm, growth.kill_mm, nearest);
        growth.unreached += colony.grow(laid, apart, order);
        growth.sources.insert(growth.sources.end(), laid.begin(), laid.end());
    };
    if (pattern == VeinPattern::palmate || pattern == VeinPattern::lobed) colonise(kCoarseSources, 2);
    if (pattern != VeinPattern::forking && pattern != VeinPattern::parallel) colonise(kFineSources, 3);
    Vec2 const size = bounds(outline.outer).size();
    growth.tree.take_widths(kMidribShare * std::sqrt(size.x * size.y));
    return growth;
}

std::vector<Vein> grown_veins(Polygon const& outline, std::span<Vec2 const> midrib, double stalk_mm,
                              VeinPattern pattern, std::uint64_t seed) {
    if (pattern == VeinPattern::none || pattern == VeinPattern::drawn) return {};
    return grow_vein_tree(outline, midrib, stalk_mm, pattern, seed).tree.veins();
}

} // namespace leafwright
