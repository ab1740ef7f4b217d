#include "base/units.h"
#include "near.h"

#include "drawn.h"

#include <map>

using namespace leafwright;

TEST_CASE("every leaf of the drawer is a simple counter-clockwise ring that keeps its size") {
    int kinds = 0;
    for (DrawerEntry const& entry : drawer_entries()) {
        INFO(entry.name);
        LeafShape const leaf = drawn(entry.name, entry.usual_length_mm);
        Ring const& ring = leaf.outline_mm.outer;
        CHECK(is_simple(ring));
        CHECK(signed_area(ring) > 0);
        CHECK(leaf.outline_mm.holes.empty());
        CHECK(ring.size() >= 60);
        CHECK(ring.size() <= 200);
        CHECK(ring.front() == Vec2(0, 0)); // the stalk end
        Box2 const box = bounds(ring);
        CHECK_NEAR(box.high.y, entry.usual_length_mm, 1e-9);
        CHECK_NEAR(box.size().x, leaf.width_mm, 1e-9);
        CHECK_NEAR(leaf.length_mm, entry.usual_length_mm, 1e-12);
        CHECK_REL(leaf.length_mm / leaf.width_mm, form_file(entry.name)["length_to_width"].get<double>(), 1e-9);
        for (std::size_t i = 0; i < ring.size(); ++i) {
            REQUIRE(is_finite(ring[i]));
            REQUIRE(glm::length(ring[(i + 1) % ring.size()] - ring[i]) > 1e-5 * leaf.length_mm);
        }
        ++kinds;
    }
    CHECK(kinds >= 16);
}

TEST_CASE("the tip stands straight above the stalk, but for the notched and the cleft leaf") {
    for (DrawerEntry const& entry : drawer_entries()) {
        INFO(entry.name);
        LeafShape const leaf = drawn(entry.name);
        double nearest = 1e300;
        for (Vec2 const& p : leaf.outline_mm.outer)
            nearest = std::min(nearest, glm::length(p - Vec2(0, leaf.length_mm)));
        bool const notched = entry.name == "ginkgo" || entry.name == "alder";
        CHECK((nearest < 1e-9) == !notched);
    }
}

TEST_CASE("the area lies within the shape factors measured on 3125 leaves") {
    // 0.39 (much cut) to 0.79 (oblate): Schrader et al., Annals of Botany 128 (2021) 395.
    int checked = 0;
    for (DrawerEntry const& entry : drawer_entries()) {
        INFO(entry.name);
        double const factor = shape_factor(drawn(entry.name));
        CHECK(factor >= 0.39);
        CHECK(factor <= 0.79);
        ++checked;
    }
    CHECK(checked >= 16);
}

TEST_CASE("the ginkgo's area is near that of a sector with its opening") {
    // A = k L W, k = q/(2 sin q) for a sector of half angle q; the cleft and the rounded corners take a little away.
    double const q = radians(form_file("ginkgo")["base"]["angle_deg"].get<double>() / 2);
    double const sector = q / (2 * std::sin(q));
    double const factor = shape_factor(drawn("ginkgo"));
    CHECK(factor < 1.02 * sector);
    CHECK(factor > 0.85 * sector);
}

TEST_CASE("length to width falls into the class that botany names for the kind") {
    // Classes of the Systematics Association, Taxon 11 (1962): narrowly ... 6:1 to 3:1, plain 2:1 to 3:2, widely 6:5,
    // circular 1:1. Which kind belongs where: common botanical description, from memory.
    std::map<std::string, std::pair<double, double>> const classes{{"willow", {3, 6}},
                                                                   {"bay", {3, 6}},
                                                                   {"sweet-chestnut", {3, 6}},
                                                                   {"rowan", {3, 6}},
                                                                   {"hornbeam", {1.5, 2}},
                                                                   {"beech", {1.5, 2}},
                                                                   {"wych-elm", {1.5, 2}},
                                                                   {"magnolia", {1.5, 2}},
                                                                   {"oak", {1.5, 2}},
                                                                   {"hazel", {1, 1.2}},
                                                                   {"lime", {1, 1.2}},
                                                                   {"alder", {1, 1.2}},
                                                                   {"harts-tongue-fern", {3, 6}}};
    for (auto const& [name, limits] : classes) {
        INFO(name);
        LeafShape const leaf = drawn(name);
        double const ratio = leaf.length_mm / leaf.width_mm;
        CHECK(ratio >= limits.first - 1e-9);
        CHECK(ratio <= limits.second + 1e-9);
    }
}

TEST_CASE("ovate leaves are widest below, elliptic ones in the middle, obovate ones above") {
    // Ovate: widest in the proximal two fifths; elliptic: in the middle fifth; obovate: in the distal two fifths
    // (Ellis et al., Manual of Leaf Architecture, 2009; from memory). A tooth may shift the place by 0.02.
    for (std::string const name : {"hornbeam", "birch", "lime"}) {
        INFO(name);
        CHECK(widest_place(drawn(name)) < 0.42);
    }
    for (std::string const name : {"bay", "beech", "magnolia", "willow"}) {
        INFO(name);
        CHECK(widest_place(drawn(name)) > 0.38);
        CHECK(widest_place(drawn(name)) < 0.62);
    }
    for (std::string const name : {"alder", "horse-chestnut"}) {
        INFO(name);
        CHECK(widest_place(drawn(name)) > 0.58);
    }
}

TEST_CASE("heart-shaped bases reach below the stalk end and wedge-shaped ones do not") {
    for (std::string const name : {"hazel", "lime", "ivy", "fig", "harts-tongue-fern", "field-maple"}) {
        INFO(name);
        CHECK(bounds(drawn(name).outline_mm.outer).low.y < -0.5);
    }
    for (std::string const name : {"bay", "willow", "beech", "magnolia", "ginkgo", "horse-chestnut"}) {
        INFO(name);
        CHECK(bounds(drawn(name).outline_mm.outer).low.y > -1e-9);
    }
}

TEST_CASE("palmate leaves have as many lobes as their form says, seen as reach from the stalk") {
    for (std::string const name : {"field-maple", "fig", "ivy", "plane"}) {
        INFO(name);
        LeafShape const leaf = drawn(name, 100);
        std::vector<double> reach;
        for (Vec2 const& p : leaf.outline_mm.outer) reach.push_back(glm::length(p));
        CHECK(prominent_peaks(reach, 6) == form_file(name)["lobes"]["count"].get<int>());
    }
}

TEST_CASE("the ginkgo fan is cleft in two, the oak lobed on both sides") {
    LeafShape const ginkgo = drawn("ginkgo", 100);
    std::vector<double> height;
    for (Vec2 const& p : ginkgo.outline_mm.outer) height.push_back(p.y);
    CHECK(prominent_peaks(height, 15) == 2);
    // The cleft goes as deep as the form says.
    double floor = 1e300;
    for (Vec2 const& p : ginkgo.outline_mm.outer)
        if (std::abs(p.x) < 3 && p.y > 20) floor = std::min(floor, p.y);
    CHECK_NEAR(1 - floor / 100, form_file("ginkgo")["cleft"].get<double>(), 0.02);

    LeafShape const oak = drawn("oak", 100);
    std::vector<double> aside;
    for (Vec2 const& p : oak.outline_mm.outer) aside.push_back(std::abs(p.x));
    CHECK(prominent_peaks(aside, 2) ==
          form_file("oak")["lobes"]["count"].get<int>() - 1); // the terminal lobe lies on the axis
}

TEST_CASE("saw-toothed leaves have as many teeth as their form says") {
    for (std::string const name : {"rowan", "lime", "willow", "horse-chestnut"}) {
        INFO(name);
        CHECK(sharp_corners(drawn(name), 25) == 2 * form_file(name)["teeth"]["count"].get<int>());
    }
    // One tooth to each side vein: the chestnut's mark. Holly: a spine to each, much sharper than the hollows' ends.
    std::map<std::string, double> const least_turn_deg{{"sweet-chestnut", 30}, {"holly", 70}};
    for (auto const& [name, turn_deg] : least_turn_deg) {
        INFO(name);
        CHECK(sharp_corners(drawn(name), turn_deg) == 2 * form_file(name)["veins"]["count"].get<int>());
    }
}

TEST_CASE("doubly serrate leaves carry small teeth on the main ones") {
    for (std::string const name : {"hornbeam", "hazel", "birch", "wych-elm", "alder"}) {
        INFO(name);
        int const main_teeth = 2 * form_file(name)["veins"]["count"].get<int>();
        CHECK(sharp_corners(drawn(name), 20) > 1.6 * main_teeth);
    }
}

TEST_CASE("entire leaves have no teeth") {
    for (std::string const name : {"magnolia", "bay", "lily-of-the-valley", "harts-tongue-fern", "beech"}) {
        INFO(name);
        CHECK(sharp_corners(drawn(name), 55) == 0);
    }
}
