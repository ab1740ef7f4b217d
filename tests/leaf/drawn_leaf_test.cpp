// Leaves drawn in SVG: their size, which end is the base, and the veins drawn in them.
#include "base/units.h"
#include "leaf/drawn_veins.h"
#include "leaf/svg_leaves.h"

#include <near.h>

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

using namespace leafwright;

TEST_CASE("A drawn leaf becomes a leaf at true size, base down, holes kept") {
    std::string const text = "<svg width='120mm' height='160mm' viewBox='0 0 120 160'>"
                             "<rect width='120' height='160' fill='white'/>"
                             "<path fill-rule='evenodd' d='M60 140C20 110 20 60 60 20C100 60 100 110 60 140z M52 80a4 "
                             "4 0 1 0 8 0a4 4 0 1 0 -8 0z'/>"
                             "<path d='M60 140V20' stroke='green' fill='none'/></svg>";
    auto const found = leaves_of_svg(text, {});
    REQUIRE(found.ok());
    REQUIRE(found->leaves.size() == 1);
    OwnLeaf const& leaf = found->leaves[0];
    CHECK(leaf.source == LeafSource::svg);
    CHECK_NEAR(length_mm(leaf), 120, 0.6); // the midrib's line is drawn 1 mm wide about it
    CHECK(leaf.outline_mm.holes.size() >= 1);
    CHECK_FALSE(check_own_leaf(leaf));
    // Twice as long by wish, and four times the area.
    auto const larger = leaves_of_svg(text, {.length_mm = 240});
    REQUIRE(larger.ok());
    CHECK_NEAR(length_mm(larger->leaves[0]), 240, 1e-2);
    CHECK_REL(area(larger->leaves[0].outline_mm), 4 * area(leaf.outline_mm), 0.02);
    auto const sizeless = leaves_of_svg("<svg viewBox='0 0 9 9'><circle cx='4' cy='4' r='3'/></svg>", {});
    REQUIRE_FALSE(sizeless.ok());
    CHECK(sizeless.problem().code == "svg.no-size");
    CHECK(leaves_of_svg("<svg width='9mm' height='9mm'/>", {}).problem().code == "svg.empty");
}

namespace {

// A leaf of 120 mm with its midrib and two side veins to each side; `turn` about its middle.
std::string veined(double turn, char const* more = "") {
    return fmt::format(
        "<svg width='200mm' height='200mm' viewBox='0 0 200 200'><g transform='rotate({} 100 100)' "
        "fill='none' stroke='green'>"
        "<path fill='lime' stroke='none' d='M100 160C60 130 60 80 100 40C140 80 140 130 100 160z'/>"
        "<path d='M100 158C103 120 103 90 100 44'/><path d='M102 125L82 105'/><path d='M102 125L122 105'/>"
        "<path d='M102 95L86 79'/>{}</g></svg>",
        turn, more);
}

double off_lines(std::vector<std::vector<Vec2>> const& lines, Vec2 const& p) {
    double least = 1e300;
    for (auto const& line : lines)
        for (std::size_t i = 0; i + 1 < line.size(); ++i) {
            Vec2 const d = line[i + 1] - line[i];
            double const t = std::clamp(glm::dot(p - line[i], d) / glm::dot(d, d), 0.0, 1.0);
            least = std::min(least, glm::length(p - line[i] - t * d));
        }
    return least;
}

} // namespace

TEST_CASE("Veins drawn in a leaf are its veins, and tell which end is the base") {
    for (double const turn : {0.0, 180.0, 70.0}) { // side veins run toward the tip, however the leaf lies
        auto const found = leaves_of_svg(veined(turn), {});
        REQUIRE(found.ok());
        REQUIRE(found->leaves.size() == 1);
        OwnLeaf const& leaf = found->leaves[0];
        CHECK(leaf.veins == VeinPattern::drawn);
        REQUIRE(leaf.drawn_veins_mm.size() == 4);
        CHECK(upright(leaf) == leaf);
        // The base is the foot of the drawing (100, 160) wherever it was turned to.
        double const a = turn * kPi / 180;
        Vec2 const foot = Vec2{100, 100} + 60.0 * Vec2{-std::sin(a), std::cos(a)};
        CHECK_NEAR(glm::length(found->ends_mm[0][0] - foot), 0, 0.5);
        CHECK(leaf.midrib_mm.size() > 3); // the bow of the drawn midrib
        LeafShape const shape = shape_from(leaf);
        REQUIRE(shape.veins.size() == 4);
        int main = 0;
        for (Vein const& vein : shape.veins) {
            main += vein.order == 1;
            CHECK(vein.order <= 2);
            CHECK(vein.root_width_mm >= vein.end_width_mm);
            for (std::size_t k = 1; k < vein.line_mm.size(); ++k) { // the first is where it hangs
                CHECK(off_lines(leaf.drawn_veins_mm, vein.line_mm[k]) < 0.5);
                CHECK(contains(shape.outline_mm, vein.line_mm[k]));
            }
        }
        CHECK(main == 1);
        CHECK(mirrored(mirrored(leaf)) == leaf);
    }
}

TEST_CASE("Drawn veins share out their width as Murray found: cubes add up at every fork") {
    auto const found = leaves_of_svg(veined(0, "<path d='M86 108L76 106'/>"), {});
    REQUIRE(found.ok());
    OwnLeaf const& leaf = found->leaves[0];
    VeinTree const tree = drawn_vein_tree(leaf.outline_mm, leaf.midrib_mm, leaf.drawn_veins_mm);
    std::vector<double> carried(tree.size(), 0);
    int forks = 0;
    std::vector<int> children(tree.size(), 0);
    for (std::size_t i = 1; i < tree.size(); ++i) {
        REQUIRE(tree.parent[i] >= 0); // all hang together
        REQUIRE(tree.parent[i] < static_cast<int>(i));
        carried[static_cast<std::size_t>(tree.parent[i])] += std::pow(tree.width_mm[i], 3);
        ++children[static_cast<std::size_t>(tree.parent[i])];
    }
    for (std::size_t i = 0; i < tree.size(); ++i) {
        if (children[i] == 0) continue;
        CHECK_REL(std::pow(tree.width_mm[i], 3), carried[i], 1e-9);
        forks += children[i] > 1;
    }
    CHECK(forks >= 3);
    CHECK(*std::ranges::max_element(tree.order) == 3); // the vein on a side vein
}

TEST_CASE("A drawn vein that reaches no other is a vein of its own") {
    // Found by fuzzing: such a vein hangs on no node, and was looked up by one.
    auto const found = leaves_of_svg(veined(0, "<path d='M112 64L117 76'/>"), {});
    REQUIRE(found.ok());
    OwnLeaf const& leaf = found->leaves[0];
    VeinTree const tree = drawn_vein_tree(leaf.outline_mm, leaf.midrib_mm, leaf.drawn_veins_mm);
    REQUIRE(std::ranges::count(tree.parent, -1) == 2); // the midrib's foot, and the loose one
    auto const loose = std::ranges::find(tree.parent.begin() + 1, tree.parent.end(), -1) - tree.parent.begin();
    std::vector<Vein> const veins = tree.veins();
    auto const own = std::ranges::find_if(
        veins, [&](Vein const& vein) { return vein.line_mm.front() == tree.at[static_cast<std::size_t>(loose)]; });
    REQUIRE(own != veins.end());
    CHECK_NEAR(glm::length(own->line_mm.back() - own->line_mm.front()), 13, 0.5); // 5-12-13
    CHECK(own->root_width_mm > 0);
    CHECK(own->order == 2);
}

TEST_CASE("A midrib drawn alone is kept and the rest is grown; without one all is grown, and it is told") {
    std::string const outline = "<path fill='lime' d='M60 140C20 110 20 60 60 20C100 60 100 110 60 140z'/>";
    std::string const head = "<svg width='120mm' height='160mm' viewBox='0 0 120 160'>";
    auto const bent =
        leaves_of_svg(head + outline + "<path fill='none' stroke='green' d='M60 138C72 100 72 60 60 24'/></svg>", {});
    REQUIRE(bent.ok());
    CHECK(bent->leaves[0].veins == VeinPattern::pinnate);
    double aside = 0;
    for (Vec2 const& p : bent->leaves[0].midrib_mm) aside = std::max(aside, std::abs(p.x));
    CHECK_NEAR(aside, 9, 0.6); // a cubic's bow is three quarters of its handles'
    CHECK(bent->remarks.back().starts_with("its midrib is the line drawn"));
    auto const plain = leaves_of_svg(head + outline + "</svg>", {});
    REQUIRE(plain.ok());
    CHECK(plain->leaves[0].midrib_mm.size() == 2);
    CHECK(plain->remarks.back().starts_with("no veins are drawn"));
    CHECK_FALSE(shape_from(plain->leaves[0]).veins.empty());
    // Base and tip set by hand, on the page.
    auto const by_hand = leaves_of_svg(head + outline + "</svg>", {.base_mm = Vec2{60, 20}, .tip_mm = Vec2{60, 140}});
    REQUIRE(by_hand.ok());
    CHECK_NEAR(by_hand->ends_mm[0][0].y, 20, 1e-9);
    CHECK_REL(area(by_hand->leaves[0].outline_mm), area(plain->leaves[0].outline_mm), 1e-4);
}

TEST_CASE("A drawing with very many lines in a large leaf keeps no more veins than a leaf may have") {
    // Thousands of lines: found by fuzzing. Without the bound this does not end before the tests are stopped.
    std::string text = "<svg width='100mm' height='100mm' viewBox='0 0 100 100'><circle cx='50' cy='50' r='49'/>"
                       "<g fill='none' stroke='red'>";
    for (int i = 0; i < 4000; ++i) text += fmt::format("<path d='M{} {}l3 {}'/>", 10 + i % 79, 10 + i / 60, 1 + i % 7);
    auto const found = leaves_of_svg(text + "</g></svg>", {});
    REQUIRE(found.ok());
    CHECK(found->leaves[0].drawn_veins_mm.size() <= kMostDrawnVeins);
}
