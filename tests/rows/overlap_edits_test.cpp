// The engine after any edits gives what a new engine gives, bit for bit.
#include "rows/overlap.h"

#include "near.h"
#include "overlap_layouts.h"

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <map>

using namespace leafwright;
using namespace leafwright::layouts;

namespace {

bool same_bits(double a, double b) { return std::memcmp(&a, &b, sizeof a) == 0; }

bool same_bits(std::vector<double> const& a, std::vector<double> const& b) {
    return std::ranges::equal(a, b, [](double x, double y) { return same_bits(x, y); });
}

bool same_bits(OverlapFigures const& a, OverlapFigures const& b) {
    auto const same_pair = [](OverlapPair const& x, OverlapPair const& y) {
        return x.upper == y.upper && x.lower == y.lower && same_bits(x.area_mm2, y.area_mm2);
    };
    auto const same_leaf = [](OverlapOfLeaf const& x, OverlapOfLeaf const& y) {
        return x.id == y.id && same_bits(x.area_mm2, y.area_mm2) && same_bits(x.exposed_mm2, y.exposed_mm2) &&
               same_bits(x.lap, y.lap) && same_bits(x.overhang_mm2, y.overhang_mm2);
    };
    return same_bits(a.area_mm2, b.area_mm2) && same_bits(a.union_mm2, b.union_mm2) &&
           same_bits(a.bare_mm2, b.bare_mm2) && same_bits(a.zone_mm2, b.zone_mm2) &&
           same_bits(a.overhang_mm2, b.overhang_mm2) && same_bits(a.layers_mm2, b.layers_mm2) &&
           std::ranges::equal(a.pairs, b.pairs, same_pair) && std::ranges::equal(a.leaves, b.leaves, same_leaf);
}

// No area below 0, none larger than what it is part of: what a crossing missed or met twice would break.
bool plausible(OverlapFigures const& f) {
    auto const part = [](double area_mm2, double whole_mm2) {
        return area_mm2 >= 0 && area_mm2 <= whole_mm2 * (1 + 1e-9) + 1e-6;
    };
    std::map<int, double> areas;
    std::map<int, double> covered; // a lower bound: by the largest single leaf above
    for (OverlapOfLeaf const& leaf : f.leaves) areas[leaf.id] = leaf.area_mm2;
    bool good = part(f.bare_mm2, f.zone_mm2) && part(f.overhang_mm2, f.union_mm2);
    for (OverlapPair const& pair : f.pairs) {
        good = good && part(pair.area_mm2, std::min(areas[pair.upper], areas[pair.lower]));
        covered[pair.lower] = std::max(covered[pair.lower], pair.area_mm2);
    }
    for (OverlapOfLeaf const& leaf : f.leaves) {
        good = good && part(leaf.exposed_mm2, leaf.area_mm2 - covered[leaf.id]);
        good = good && part(leaf.overhang_mm2, leaf.area_mm2);
    }
    for (std::size_t k = 1; k < f.layers_mm2.size(); ++k) good = good && part(f.layers_mm2[k], f.layers_mm2[k - 1]);
    return good;
}

class Editor {
public:
    Editor(Layout layout, std::uint64_t seed, bool on_lattice)
        : layout_(std::move(layout)),
          random_(seed),
          on_lattice_(on_lattice),
          next_id_(static_cast<int>(layout_.leaves.size()) + 1) {}

    Layout const& layout() const { return layout_; }

    void edit() {
        std::vector<OverlapLeaf>& leaves = layout_.leaves;
        std::size_t const which = random_.below(static_cast<std::uint32_t>(leaves.size()));
        std::size_t const other = random_.below(static_cast<std::uint32_t>(leaves.size()));
        switch (random_.below(12)) {
        case 0: // a new leaf, anywhere in the order
            leaves.insert(leaves.begin() + static_cast<std::ptrdiff_t>(which), as_leaf(next_id_++, any_leaf()));
            break;
        case 1:
            if (leaves.size() > 5) leaves.erase(leaves.begin() + static_cast<std::ptrdiff_t>(which));
            break;
        case 2:
            std::swap(leaves[which], leaves[other]);
            break;
        case 3:
            std::rotate(leaves.begin(), leaves.begin() + 1, leaves.end());
            break;
        case 4:
            leaves[which].chart = leaves[other].chart;
            break; // the same outline, shared
        case 5:
            leaves[which].chart = std::make_shared<Polygon const>(*leaves[other].chart);
            break;
        case 6:
            edit_zone();
            break;
        case 7: // several at once
            for (int k = 0; k < 4; ++k)
                leaves[random_.below(static_cast<std::uint32_t>(leaves.size()))].chart = any_leaf_shared();
            break;
        default:
            leaves[which].chart = any_leaf_shared();
            break;
        }
    }

private:
    Polygon any_leaf() {
        if (on_lattice_) return *lattice(1, random_.next()).leaves[0].chart;
        return leaf_of(static_cast<LeafForm>(random_.below(4)), random_pose(random_, 150));
    }
    std::shared_ptr<Polygon const> any_leaf_shared() { return std::make_shared<Polygon const>(any_leaf()); }

    void edit_zone() {
        auto& rings = layout_.zone.keep_clear;
        if (rings.size() > 3) rings.erase(rings.begin());
        if (random_.below(3) == 0 && !rings.empty()) {
            rings.pop_back();
            return;
        }
        Vec2 const at{random_.between(-150, 150), random_.between(-150, 150)};
        rings.push_back(ellipse(at, {random_.between(5, 40), 20}, 48));
        if (random_.below(4) == 0) layout_.zone.rim = ellipse({0, 0}, {140 + random_.between(0, 20), 150}, 200);
    }

    Layout layout_;
    Random random_;
    bool on_lattice_;
    int next_id_;
};

int edits_wanted() {
    char const* const wanted = std::getenv("LEAFWRIGHT_OVERLAP_EDITS"); // for a long run by hand
    return wanted != nullptr ? std::atoi(wanted) : 400;
}

void check_edits(Layout layout, std::uint64_t seed, bool on_lattice) {
    Editor editor(std::move(layout), seed, on_lattice);
    OverlapEngine kept;
    int differing = 0;
    int implausible = 0;
    int const edits = edits_wanted();
    for (int i = 0; i < edits; ++i) {
        editor.edit();
        OverlapFigures const& figures = kept.update(editor.layout().zone, editor.layout().leaves);
        if (!plausible(figures)) ++implausible;
        OverlapEngine fresh;
        if (!same_bits(figures, fresh.update(editor.layout().zone, editor.layout().leaves))) ++differing;
    }
    CHECK(differing == 0);
    CHECK(implausible == 0);
}

} // namespace

TEST_CASE("after many edits the figures are those of a new engine, bit for bit") {
    check_edits(scattered(40, 21), 1, false);
    check_edits(crowded(100, 22), 2, false);
}

TEST_CASE("the same holds where leaves share edges and corners") { check_edits(lattice(30, 23), 3, true); }

// A hundred thousand when LEAFWRIGHT_LONG_TESTS is set.
TEST_CASE("many thousand edits leave no drift: now and then, and at the end, the figures are a new engine's") {
    Editor editor(lattice(16, 24), 4, true); // plain outlines: quick
    OverlapEngine kept;
    int differing = 0;
    int const edits = std::getenv("LEAFWRIGHT_LONG_TESTS") != nullptr ? 100000 : 10000;
    for (int i = 1; i <= edits; ++i) {
        editor.edit();
        OverlapFigures const& figures = kept.update(editor.layout().zone, editor.layout().leaves);
        if (i % 1000 != 0) continue;
        OverlapEngine fresh;
        if (!same_bits(figures, fresh.update(editor.layout().zone, editor.layout().leaves))) ++differing;
    }
    CHECK(differing == 0);
}

TEST_CASE("an update without a change gives the same figures again") {
    Layout const layout = scattered(50, 24);
    OverlapEngine engine;
    OverlapFigures const first = engine.update(layout.zone, layout.leaves);
    CHECK(same_bits(first, engine.update(layout.zone, layout.leaves)));
}
