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

// Numbers after M and L in the paths of an SVG, in document order.
std::vector<double> path_numbers(std::string const& svg) {
    std::vector<double> numbers;
    std::regex const path{R"re(d="([^"]*)")re"};
    std::regex const number{R"(-?[0-9]+\.?[0-9]*)"};
    for (std::sregex_iterator p{svg.begin(), svg.end(), path}, end; p != end; ++p) {
        std::string const d = (*p)[1];
        for (std::sregex_iterator n{d.begin(), d.end(), number}; n != end; ++n) numbers.push_back(std::stod(n->str()));
    }
    return numbers;
}

} // namespace

TEST_CASE("a template keeps true size on paper") {
    // 80 mm is 226.77 points of 1/72 inch (inch = 25.4 mm exactly, 1959 agreement). The path may be written in mm, with
    // the scale in a transform beside it.
    LeafPattern const leaf = square_leaf(80);
    std::string const svg = leaf_template_svg(leaf);
    std::vector<double> const numbers = path_numbers(svg);
    REQUIRE(numbers.size() > 12);
    double const side = std::abs(numbers[2] - numbers[0]);
    bool const in_points = side > 200;
    CHECK_NEAR(side, in_points ? 80 * 72 / 25.4 : 80, 0.01);
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
    CHECK(metric.mass(Figure{4000, 3500, 4600, FigureFrom::by_default}) == "4.00 kg (3.5 to 4.6)");
}
