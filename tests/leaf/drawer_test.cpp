#include "near.h"

#include "drawn.h"

#include <limits>
#include <set>

using namespace leafwright;

TEST_CASE("the drawer holds at least sixteen kinds, the six of the demo pieces among them") {
    std::vector<DrawerEntry> const entries = drawer_entries();
    std::set<std::string> names;
    std::set<std::string> labels;
    for (DrawerEntry const& entry : entries) {
        names.insert(entry.name);
        labels.insert(entry.label);
    }
    CHECK(entries.size() >= 16);
    CHECK(names.size() == entries.size());
    CHECK(labels.size() == entries.size());
    for (std::string const name : {"hornbeam", "ginkgo", "field-maple", "harts-tongue-fern", "hazel", "fig"}) {
        INFO(name);
        CHECK(names.count(name) == 1);
    }
    CHECK(std::ranges::is_sorted(entries, {}, &DrawerEntry::name));
}

TEST_CASE("usual sizes are within what a leaf kind may be") {
    for (DrawerEntry const& entry : drawer_entries()) {
        INFO(entry.name);
        CHECK_FALSE(entry.label.empty());
        CHECK(entry.usual_length_mm >= 15);
        CHECK(entry.usual_length_mm <= 400);
        CHECK(entry.usual_thickness_mm >= 2);
        CHECK(entry.usual_thickness_mm <= 20);
        LeafKindSpec const spec{entry.name, "drawer:" + entry.name, entry.usual_length_mm, entry.usual_thickness_mm};
        auto const pattern = resolve_leaf_kind(spec);
        REQUIRE(pattern.ok());
        CHECK(pattern->spec == spec);
        CHECK(pattern->shape == *draw_leaf(entry.name, entry.usual_length_mm));
    }
}

TEST_CASE("a kind keeps its own name apart from the outline it uses") {
    auto const pattern = resolve_leaf_kind({"small one", "drawer:beech", 40, 3});
    REQUIRE(pattern.ok());
    CHECK(pattern->spec.id == "small one");
    CHECK(pattern->shape == drawn("beech", 40));
}

TEST_CASE("an unknown leaf lists the names") {
    for (char const* outline : {"drawer:cabbage", "drawer:", "hornbeam", "", "file:x.svg", "drawer:Hornbeam"}) {
        INFO(outline);
        auto const pattern = resolve_leaf_kind({"a", outline, 75, 5});
        REQUIRE_FALSE(pattern.ok());
        CHECK(pattern.problem().code == "leaf.unknown");
        CHECK(pattern.problem().where == "outline");
        for (DrawerEntry const& entry : drawer_entries())
            CHECK(pattern.problem().hint.find(entry.name) != std::string::npos);
    }
    CHECK(draw_leaf("cabbage", 75).problem().code == "leaf.unknown");
    CHECK(draw_leaf("../bodies/stoneware", 75).problem().code == "leaf.unknown");
}

TEST_CASE("sizes out of range name the key, the value and the range") {
    double const nan = std::numeric_limits<double>::quiet_NaN();
    for (double length : {14.999, 400.001, -5.0, 0.0, nan}) {
        auto const leaf = resolve_leaf_kind({"a", "drawer:beech", length, 5});
        REQUIRE_FALSE(leaf.ok());
        CHECK(leaf.problem().code == "range");
        CHECK(leaf.problem().where == "length_mm");
        CHECK(leaf.problem().what.find("15 to 400 mm") != std::string::npos);
    }
    for (double thickness : {1.999, 20.001, nan}) {
        auto const leaf = resolve_leaf_kind({"a", "drawer:beech", 75, thickness});
        REQUIRE_FALSE(leaf.ok());
        CHECK(leaf.problem().code == "range");
        CHECK(leaf.problem().where == "thickness_mm");
        CHECK(leaf.problem().what.find("2 to 20 mm") != std::string::npos);
    }
    CHECK(resolve_leaf_kind({"a", "drawer:beech", 80.5, 21}).problem().what == "is 21 mm; the range is 2 to 20 mm");
    CHECK(draw_leaf("beech", 15).ok());
    CHECK(draw_leaf("beech", 400).ok());
}
