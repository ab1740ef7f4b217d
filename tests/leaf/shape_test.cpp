#include "near.h"

#include "drawn.h"

using namespace leafwright;

TEST_CASE("scaling by s scales lengths by s and area by its square") {
    int checked = 0;
    for (DrawerEntry const& entry : drawer_entries()) {
        LeafShape const leaf = drawn(entry.name, 70);
        for (double s : {0.3, 1.7, 3.0}) {
            LeafShape const other = scaled(leaf, s);
            CHECK_REL(area(other.outline_mm), s * s * area(leaf.outline_mm), 1e-12);
            CHECK_REL(perimeter(other.outline_mm.outer), s * perimeter(leaf.outline_mm.outer), 1e-12);
            CHECK_REL(other.length_mm, s * leaf.length_mm, 1e-15);
            CHECK_REL(other.width_mm, s * leaf.width_mm, 1e-15);
            CHECK_REL(other.veins.back().root_width_mm, s * leaf.veins.back().root_width_mm, 1e-15);
            ++checked;
        }
    }
    CHECK(checked >= 48);
}

TEST_CASE("a leaf drawn at twice the length is the leaf scaled by two") {
    for (std::string const name : {"hornbeam", "fig", "ginkgo"}) {
        LeafShape const small = drawn(name, 60);
        LeafShape const large = drawn(name, 120);
        CHECK_REL(area(large.outline_mm), area(scaled(small, 2).outline_mm), 1e-12);
        CHECK(large.veins.size() == small.veins.size());
    }
}

TEST_CASE("mirrored twice is the leaf itself, once is counter-clockwise with the same area") {
    for (DrawerEntry const& entry : drawer_entries()) {
        INFO(entry.name);
        LeafShape const leaf = drawn(entry.name);
        LeafShape const other = mirrored(leaf);
        CHECK(mirrored(other) == leaf);
        CHECK_FALSE(other == leaf);
        CHECK_REL(signed_area(other.outline_mm.outer), signed_area(leaf.outline_mm.outer), 1e-12);
        CHECK(bounds(other.outline_mm.outer).low.x == -bounds(leaf.outline_mm.outer).high.x);
        CHECK(other.outline_mm.outer.front() == Vec2(0, 0));
    }
}

TEST_CASE("leaves look grown: the halves differ, but not by much") {
    for (DrawerEntry const& entry : drawer_entries()) {
        INFO(entry.name);
        LeafShape const leaf = drawn(entry.name);
        Vec2 const centre = centroid(leaf.outline_mm.outer);
        CHECK(std::abs(centre.x) > 1e-4 * leaf.width_mm);
        CHECK(std::abs(centre.x) < 0.06 * leaf.width_mm + 0.03 * leaf.length_mm);
    }
}

TEST_CASE("the halves of toothed and lobed leaves are each grown for themselves") {
    // The sweep of the midrib moves points sideways only: a stamped leaf would have the same heights on both sides.
    for (std::string const name : {"rowan", "lime", "willow", "fig", "ivy", "oak", "holly", "hornbeam"}) {
        INFO(name);
        std::vector<double> left;
        std::vector<double> right;
        for (Vec2 const& p : drawn(name).outline_mm.outer) (p.x < 0 ? left : right).push_back(p.y);
        auto const stamped = std::ranges::count_if(right, [&](double y) {
            return std::ranges::any_of(left, [&](double other) { return std::abs(y - other) < 1e-6; });
        });
        CHECK(static_cast<double>(stamped) < 0.2 * static_cast<double>(right.size()));
    }
}

TEST_CASE("the same kind gives the same leaf every time") {
    for (DrawerEntry const& entry : drawer_entries()) CHECK(drawn(entry.name) == drawn(entry.name));
}
