#include "base/units.h"
#include "near.h"
#include "sheet/making_sheet.h"
#include "sheet/templates.h"
#include "sheet/words.h"

#include <algorithm>
#include <regex>

using namespace leafwright;

namespace {

LeafPattern square_leaf(double size_mm) {
    LeafPattern pattern;
    pattern.spec.id = "square";
    pattern.spec.length_mm = size_mm;
    pattern.shape.outline_mm.outer = {
        {-size_mm / 2, 0}, {size_mm / 2, 0}, {size_mm / 2, size_mm}, {-size_mm / 2, size_mm}};
    pattern.shape.length_mm = size_mm;
    pattern.shape.width_mm = size_mm;
    return pattern;
}

// Width and height, in points, of every path that is drawn under a plain scaling.
std::vector<Vec2> path_sizes_pt(std::string const& svg) {
    std::vector<Vec2> sizes;
    std::regex const path{R"re(d="([^"]*)" transform="matrix\(([0-9.]+),0,0,[0-9.]+,0,0\)")re"};
    std::regex const number{R"(-?[0-9]+\.?[0-9]*)"};
    for (std::sregex_iterator p{svg.begin(), svg.end(), path}, end; p != end; ++p) {
        std::string const d = (*p)[1];
        Box2 box;
        std::vector<double> numbers;
        for (std::sregex_iterator n{d.begin(), d.end(), number}; n != end; ++n) numbers.push_back(std::stod(n->str()));
        for (std::size_t i = 0; i + 1 < numbers.size(); i += 2) box.add({numbers[i], numbers[i + 1]});
        sizes.push_back(std::stod((*p)[2]) * box.size());
    }
    return sizes;
}

} // namespace

TEST_CASE("a template keeps true size on paper") {
    // A point is 1/72 inch and an inch 25.4 mm exactly (1959 agreement): 80 mm are 226.772 points.
    for (double const size_mm : {80.0, 41.5}) {
        std::vector<Vec2> const sizes = path_sizes_pt(leaf_template_svg(square_leaf(size_mm)));
        double const side_pt = size_mm * 72 / 25.4;
        CHECK(std::ranges::any_of(sizes, [&](Vec2 const& size) {
            return std::abs(size.x - side_pt) < 0.01 && std::abs(size.y - side_pt) < 0.01;
        }));
        // The check bar: 100 mm.
        CHECK(std::ranges::any_of(sizes, [&](Vec2 const& size) { return std::abs(size.x - 7200 / 25.4) < 0.01; }));
    }
}

TEST_CASE("the same drawing gives the same bytes") {
    auto draw = [] {
        Paper paper(PaperKind::pdf, kA4, "title");
        check_bar(paper, {20, 30});
        paper.text({20, 50}, "Clay to knead", {});
        return paper.finish();
    };
    std::string const first = draw();
    CHECK(first.starts_with("%PDF-"));
    CHECK(first == draw());
}

TEST_CASE("text wraps within its width and moves down by whole lines") {
    Paper paper(PaperKind::pdf, kA4, "t");
    TextStyle const style{.size_mm = 4};
    double const one = paper.paragraph({10, 20}, 180, "short", style);
    double const many =
        paper.paragraph({10, 20}, 30, "several words that can not stand on a single narrow line", style);
    CHECK_NEAR(one, 20 + 4 * 1.38, 1e-9);
    CHECK(many > 20 + 3 * 4 * 1.38);
    CHECK(paper.text_width("wide words", style) > paper.text_width("wide", style));
}

TEST_CASE("figures carry units and no more digits than they deserve") {
    UnitWords const metric;
    UnitWords const imperial{true};
    CHECK(metric.mass(430) == "430 g");
    CHECK(metric.mass(4389) == "4.39 kg");
    CHECK(metric.length(300.4) == "300 mm");
    // 1 lb = 453.59237 g and 1 in = 25.4 mm exactly (1959 agreement).
    CHECK(imperial.mass(4535.9237) == "10.0 lb");
    CHECK(imperial.length(254) == "10.0 in");
    CHECK(imperial.area(645.16 * 7) == "7 sq in");
    CHECK(imperial.small_mass(28.349523125) == "1.00 oz"); // a pound has 16 ounces
    CHECK(metric.small_mass(3.42) == "3.4 g");
    CHECK(imperial.sentence("25.4 mm beside 127 mm, 0.28 N/mm² on 3 mm²") ==
          "1.0 in beside 5.0 in, 0.28 N/mm² on 3 mm²");
    CHECK(metric.sentence("11 mm thick") == "11 mm thick");
    CHECK(metric.mass(Figure{4000, 3500, 4600, FigureFrom::by_default}) == "4.00 kg (3.5 to 4.6)");
}
