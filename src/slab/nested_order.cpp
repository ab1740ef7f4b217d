#include "slab/nested_order.h"

#include <algorithm>
#include <cmath>

namespace leafwright {

namespace {

constexpr std::size_t kLeaf = 24;

class Dissection {
public:
    explicit Dissection(DrapeMesh const& mesh) : part_(mesh.azimuth.size(), 0), at_(mesh.azimuth.size()) {
        for (std::size_t v = 0; v < at_.size(); ++v)
            at_[v] = mesh.share[v] * Vec2(std::cos(mesh.azimuth[v]), std::sin(mesh.azimuth[v]));
        list_neighbours(mesh);
    }

    EliminationTree order() {
        std::vector<std::int32_t> used;
        for (std::size_t v = 0; v < at_.size(); ++v)
            if (start_[v + 1] > start_[v]) used.push_back(static_cast<std::int32_t>(v));
        split(used.begin(), used.end());
        return std::move(tree_);
    }

private:
    using Place = std::vector<std::int32_t>::iterator;

    void list_neighbours(DrapeMesh const& mesh) {
        start_.assign(at_.size() + 1, 0);
        for (DrapeTriangle const& t : mesh.triangles)
            for (std::int32_t v : t) start_[static_cast<std::size_t>(v) + 1] += 2;
        for (std::size_t v = 0; v < at_.size(); ++v) start_[v + 1] += start_[v];
        neighbour_.resize(start_.back());
        std::vector<std::size_t> fill(start_.begin(), start_.end() - 1);
        for (DrapeTriangle const& t : mesh.triangles)
            for (std::size_t i = 0; i < 3; ++i)
                for (std::size_t k = 1; k < 3; ++k) neighbour_[fill[static_cast<std::size_t>(t[i])]++] = t[(i + k) % 3];
    }

    std::int32_t add_part(Place first, Place last, std::int32_t left, std::int32_t right) {
        auto const begin = static_cast<std::int32_t>(tree_.order.size());
        tree_.order.insert(tree_.order.end(), first, last);
        tree_.parts.push_back({begin, static_cast<std::int32_t>(tree_.order.size()), left, right});
        return static_cast<std::int32_t>(tree_.parts.size()) - 1;
    }

    std::int32_t split(Place first, Place last) {
        if (static_cast<std::size_t>(last - first) <= kLeaf) return add_part(first, last, -1, -1);
        Box2 box;
        for (Place v = first; v != last; ++v) box.add(at_[static_cast<std::size_t>(*v)]);
        bool const by_x = box.size().x > box.size().y;
        auto const before = [&](std::int32_t a, std::int32_t b) {
            Vec2 const &p = at_[static_cast<std::size_t>(a)], &q = at_[static_cast<std::size_t>(b)];
            double const s = by_x ? p.x : p.y, t = by_x ? q.x : q.y;
            return s != t ? s < t : a < b;
        };
        Place const middle = first + (last - first) / 2;
        std::nth_element(first, middle, last, before);
        // What touches the second half parts the two; marks of other parts never mix, each is drawn once.
        std::int32_t const mark = ++parts_;
        for (Place v = middle; v != last; ++v) part_[static_cast<std::size_t>(*v)] = mark;
        Place const parting = std::partition(first, middle, [&](std::int32_t v) { return !touches(v, mark); });
        std::int32_t const left = split(first, parting), right = split(middle, last);
        return add_part(parting, middle, left, right);
    }

    bool touches(std::int32_t v, std::int32_t mark) const {
        auto const s = static_cast<std::size_t>(v);
        for (std::size_t i = start_[s]; i < start_[s + 1]; ++i)
            if (part_[static_cast<std::size_t>(neighbour_[i])] == mark) return true;
        return false;
    }

    std::vector<std::int32_t> part_;
    std::vector<Vec2> at_;
    std::vector<std::size_t> start_;
    std::vector<std::int32_t> neighbour_;
    std::int32_t parts_ = 0;
    EliminationTree tree_;
};

} // namespace

EliminationTree nested_order(DrapeMesh const& mesh) { return Dissection(mesh).order(); }

} // namespace leafwright
