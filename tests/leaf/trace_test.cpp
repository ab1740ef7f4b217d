// Tracing against photographs made from known outlines: the outline's own area and edge are the truth.
#include "leaf/photo_scene.h"
#include "leaf/trace.h"

#include "base/units.h"

#include "near.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace leafwright;

namespace {

SceneLeaf scene_leaf(char const* name, double length_mm, Vec2 middle, double turn = 0) {
    SceneLeaf leaf;
    leaf.shape = *draw_leaf(name, length_mm);
    leaf.middle_mm = middle;
    leaf.turn_deg = turn;
    return leaf;
}

PhotoScene usual_scene() { // 8 Mpx, a leaf of 70 mm on A4
    PhotoScene scene;
    scene.leaves = {scene_leaf("hornbeam", 70, {105, 150}, 20)};
    return scene;
}
PhotoScene small_scene() { // 2 Mpx, for what does not ask for accuracy
    PhotoScene scene = usual_scene();
    scene.width_px = 1224;
    scene.height_px = 1632;
    return scene;
}

Outcome<Trace> traced(MadePhoto const& made, int quality, TraceOptions const& options = {}) {
    auto const photo = read_photo(jpeg_of(made.photo, quality));
    REQUIRE(photo.ok());
    Task task;
    return trace_photo(*photo, options, task);
}

bool told(Trace const& trace, char const* code) {
    return std::any_of(trace.remarks.begin(), trace.remarks.end(),
                       [&](Problem const& remark) { return remark.code == code; });
}

Ring on_sheet(Trace const& trace, TracedLeaf const& leaf) {
    Ring ring = leaf.outline_px.outer;
    for (Vec2& p : ring) p = trace.scale.mm(p);
    return ring;
}

double distance_to(Ring const& ring, Vec2 const& p) {
    double least = 1e300;
    for (std::size_t i = 0; i < ring.size(); ++i) {
        Vec2 const side = ring[(i + 1) % ring.size()] - ring[i];
        double const t = std::clamp(glm::dot(p - ring[i], side) / glm::dot(side, side), 0.0, 1.0);
        least = std::min(least, glm::length(p - ring[i] - side * t));
    }
    return least;
}

// Root mean square of the traced edge's distance from the true one, over its length.
double rms_mm(Ring const& seen, Ring const& truth) {
    double sum = 0;
    double length = 0;
    for (std::size_t i = 0; i < seen.size(); ++i) {
        Vec2 const side = seen[(i + 1) % seen.size()] - seen[i];
        for (int k = 0; k < 5; ++k) {
            double const d = distance_to(truth, seen[i] + side * (k / 5.0));
            sum += d * d * glm::length(side) / 5;
        }
        length += glm::length(side);
    }
    return std::sqrt(sum / length);
}

void check_leaf(PhotoScene const& scene, int quality, double area_share, TraceOptions const& options = {}) {
    MadePhoto const made = made_photo(scene);
    auto const trace = traced(made, quality, options);
    REQUIRE_MESSAGE(trace.ok(), (trace.ok() ? std::string() : trace.problem().sentence()));
    REQUIRE(trace->leaves.size() == made.truth_mm.size());
    for (TracedLeaf const& leaf : trace->leaves) {
        Ring const seen = on_sheet(*trace, leaf);
        auto const truth =
            std::min_element(made.truth_mm.begin(), made.truth_mm.end(), [&](auto const& a, auto const& b) {
                return glm::length(centroid(a.outer) - centroid(seen)) <
                       glm::length(centroid(b.outer) - centroid(seen));
            });
        double const off = leaf.area_mm2 / area(*truth) - 1;
        CAPTURE(off);
        CHECK(std::abs(off) < area_share);
        double const rms = rms_mm(seen, truth->outer);
        CAPTURE(rms);
        CHECK(rms < 0.3);
        CHECK(leaf.outline_mm.holes.size() == truth->holes.size());
        CHECK(leaf.looks_sound());
        CHECK(is_simple(leaf.outline_mm.outer));
        CHECK(signed_area(leaf.outline_mm.outer) > 0);
    }
}

} // namespace

TEST_CASE("a leaf of 70 mm on A4 at 8 Mpx: area within 0.5 %, edge within 0.3 mm") {
    SUBCASE("with a stalk, in uneven light, on dark wood") {
        PhotoScene scene = usual_scene();
        scene.leaves[0].stalk_mm = 14;
        scene.ramp = 0.5;
        check_leaf(scene, 90, 0.005);
    }
    SUBCASE("the camera tilted by 30 degrees and turned, JPEG quality 60") {
        PhotoScene scene = usual_scene();
        scene.tilt_deg = 30;
        scene.tilt_way_deg = 20;
        scene.roll_deg = 35;
        scene.fill = 0.55;
        check_leaf(scene, 60, 0.005);
    }
    SUBCASE("coloured paper on tiles in warm light, a bitten leaf, blur and noise") {
        PhotoScene scene = usual_scene();
        scene.paper = {0.75, 0.55, 0.35};
        scene.cast = {1, 0.75, 0.45};
        scene.table = Table::tiles;
        scene.leaves[0].hole_mm = 5;
        scene.blur_px = 2;
        scene.noise = 0.02;
        check_leaf(scene, 60, 0.005);
    }
}

TEST_CASE("in the worst cases the area is within 1 %") {
    SUBCASE("a sharp shadow along the edge and glare, on a light table") {
        PhotoScene scene = usual_scene();
        scene.table = Table::light;
        scene.glare = 0.35;
        scene.shadow = 0.5;
        scene.shadow_soft_mm = 0.4;
        check_leaf(scene, 75, 0.01);
    }
    SUBCASE("glints on a shiny leaf with a hole") {
        PhotoScene scene = usual_scene();
        scene.gloss = 1.2;
        scene.leaves[0].hole_mm = 5;
        check_leaf(scene, 75, 0.01);
    }
    SUBCASE("drops of water that mirror the lamp, as sharp-edged as the hole beside them") {
        PhotoScene scene = usual_scene();
        scene.leaves[0].drop_mm = 2.5; // lighter than the paper: no holes
        scene.leaves[0].hole_mm = 3;
        check_leaf(scene, 75, 0.005);
        auto const trace = traced(made_photo(scene), 75);
        REQUIRE(trace.ok());
        CHECK(trace->leaves[0].outline_px.holes.size() == 1);
        CHECK(told(*trace, "trace.glint"));
    }
    SUBCASE("a yellow leaf on a white table, tilted, shaded") {
        PhotoScene scene = usual_scene();
        scene.leaves[0].light = {0.68, 0.60, 0.15};
        scene.leaves[0].uneven = 0.1;
        scene.table = Table::white;
        scene.tilt_deg = 20;
        scene.fill = 0.75;
        scene.shadow = 0.5;
        scene.ramp = 0.4;
        check_leaf(scene, 60, 0.01);
    }
}

TEST_CASE("stalk, base and tip are found, and the stalk is kept when asked") {
    PhotoScene scene = usual_scene();
    scene.leaves[0].stalk_mm = 14;
    MadePhoto const made = made_photo(scene);
    auto const without = traced(made, 85);
    REQUIRE(without.ok());
    CHECK_NEAR(without->leaves[0].stalk_mm, 14, 1.5);
    CHECK_NEAR(without->leaves[0].length_mm, 70, 1.5);
    CHECK_NEAR(without->leaves[0].width_mm, scene.leaves[0].shape.width_mm, 0.8);
    TraceOptions options;
    options.keep_stalk = true;
    auto const with = traced(made, 85, options);
    REQUIRE(with.ok());
    CHECK_NEAR(with->leaves[0].area_mm2 - without->leaves[0].area_mm2, 14 * 1.6, 6);
    OwnLeaf const own = own_leaf_of(with->leaves[0], with->scale, true);
    CHECK(!check_own_leaf(own).has_value());
    CHECK_NEAR(length_mm(own), 84, 2);
    // Set by hand: the other way up.
    TracedLeaf const turned =
        with_ends(without->leaves[0], without->scale, without->leaves[0].tip_px, without->leaves[0].base_px);
    CHECK_REL(turned.area_mm2, without->leaves[0].area_mm2, 1e-9);
    CHECK_REL(turned.length_mm, without->leaves[0].length_mm, 1e-9);
}

TEST_CASE("several leaves in reading order; touching ones are told and parted by a cut line") {
    PhotoScene scene = small_scene();
    double const width = scene_leaf("beech", 70, {0, 0}).shape.width_mm;
    scene.leaves = {scene_leaf("beech", 70, {80, 80}), scene_leaf("beech", 70, {80 + 0.97 * width, 80}),
                    scene_leaf("oak", 80, {105, 220}, 30)};
    MadePhoto const made = made_photo(scene);
    auto const together = traced(made, 85);
    REQUIRE(together.ok());
    REQUIRE(together->leaves.size() == 2);
    CHECK(together->leaves[0].several);
    CHECK(!together->leaves[1].several);
    TraceOptions options;
    double const x = 80 + 0.485 * width;
    options.cuts = {{together->scale.px({x, 30}), together->scale.px({x, 130})}};
    auto const apart = traced(made, 85, options);
    REQUIRE(apart.ok());
    REQUIRE(apart->leaves.size() == 3);
    for (std::size_t i = 0; i < 2; ++i) {
        CHECK_REL(apart->leaves[i].area_mm2, area(made.truth_mm[i]), 0.03);
        CHECK(is_simple(apart->leaves[i].outline_mm.outer));
        CHECK(rms_mm(on_sheet(*apart, apart->leaves[i]), made.truth_mm[i].outer) < 0.5);
    }
    CHECK(apart->leaves[0].outline_px.outer[0].x < apart->leaves[1].outline_px.outer[0].x);
}

TEST_CASE("scale from a scan's dots per inch, from a bar, and from corners set by hand") {
    PhotoScene scan = small_scene();
    scan.sheet = false;
    scan.width_px = 1240; // A4 at 150 dots per inch
    scan.height_px = 1754;
    scan.fill = 1;
    MadePhoto const made = made_photo(scan);
    TraceOptions options;
    options.scale.from = ScaleFrom::dpi;
    options.scale.dpi = 150;
    auto const by_dpi = traced(made, 90, options);
    REQUIRE(by_dpi.ok());
    CHECK_REL(by_dpi->leaves[0].area_mm2, area(made.truth_mm[0]), 0.01);
    options.scale.from = ScaleFrom::bar;
    options.scale.bar_mm = 100;
    options.scale.bar_px = 1000 * 150 / 254.0;
    auto const by_bar = traced(made, 90, options);
    REQUIRE(by_bar.ok());
    CHECK_REL(by_bar->leaves[0].area_mm2, by_dpi->leaves[0].area_mm2, 1e-3);

    PhotoScene const scene = small_scene();
    MadePhoto const sheet = made_photo(scene);
    auto const found = traced(sheet, 90);
    REQUIRE(found.ok());
    TraceOptions by_hand;
    auto const c = *found->scale.corners_px;
    by_hand.scale.corners_px = {c[2], c[0], c[3], c[1]}; // in any order
    auto const set = traced(sheet, 90, by_hand);
    REQUIRE(set.ok());
    CHECK_REL(set->leaves[0].area_mm2, found->leaves[0].area_mm2, 1e-3);
    CHECK(set->scale.error < 0.005);
    // One corner far off: the shape is no A4's any more, and the error that is told covers what it does to the leaf.
    (*by_hand.scale.corners_px)[0] = c[2] + 0.08 * (c[1] - c[2]);
    auto const off = traced(sheet, 90, by_hand);
    REQUIRE(off.ok());
    double const longer = std::abs(off->leaves[0].length_mm / found->leaves[0].length_mm - 1);
    CHECK(longer > 0.01);
    CHECK(2 * off->scale.error > longer);
}

TEST_CASE("a bar beside a leaf on a sheet on a table: the leaf is looked for on the sheet, and a slant is told") {
    PhotoScene scene = usual_scene();
    scene.table = Table::grained;
    scene.fill = 0.75;
    TraceOptions options;
    options.scale.from = ScaleFrom::bar;
    options.scale.bar_mm = 297;
    options.scale.bar_px = 0.75 * scene.height_px; // the sheet's own side, seen straight
    MadePhoto const straight = made_photo(scene);
    auto const seen = traced(straight, 80, options);
    REQUIRE(seen.ok());
    REQUIRE(seen->leaves.size() == 1);
    CHECK_REL(seen->leaves[0].area_mm2, area(straight.truth_mm[0]), 0.006);
    CHECK(!told(*seen, "trace.slant"));
    CHECK(seen->scale.error < 0.02);
    scene.tilt_deg = 18;
    auto const slanted = traced(made_photo(scene), 80, options);
    REQUIRE(slanted.ok());
    CHECK(slanted->leaves.size() == 1);
    CHECK(told(*slanted, "trace.slant"));
    CHECK(slanted->scale.error > 1 - std::cos(radians(18.0)) - 0.01); // what the slant alone shortens
}

TEST_CASE("what cannot be traced is answered with a sentence") {
    auto const code_of = [](PhotoScene const& scene, TraceOptions const& options = {}) {
        auto const trace = traced(made_photo(scene), 85, options);
        if (trace.ok()) return std::string("traced");
        CHECK(!trace.problem().hint.empty());
        return trace.problem().code;
    };
    SUBCASE("many things that are no leaves") {
        PhotoScene scene = small_scene();
        scene.leaves.clear();
        for (int k = 0; k < 30; ++k) {
            Vec2 const at{20.0 + 35 * (k % 5), 20.0 + 42 * (k / 5)};
            scene.things.push_back({at, at + Vec2{16, 22}, {0.1, 0.3, 0.15}, false});
        }
        CHECK(code_of(scene) == "trace.none");
    }
    SUBCASE("no leaf") {
        PhotoScene scene = small_scene();
        scene.leaves.clear();
        CHECK(code_of(scene) == "trace.none");
    }
    SUBCASE("a leaf over the paper's edge") {
        PhotoScene scene = small_scene();
        scene.leaves[0].middle_mm = {18, 150};
        CHECK(code_of(scene) == "trace.cut");
    }
    SUBCASE("corners outside the picture") {
        PhotoScene scene = small_scene();
        scene.fill = 1.25;
        CHECK(code_of(scene) == "trace.paper");
    }
    SUBCASE("no paper at all") {
        PhotoScene scene = small_scene();
        scene.sheet = false;
        CHECK(code_of(scene) == "trace.paper");
    }
    SUBCASE("A4 where letter was told") {
        TraceOptions options;
        options.scale.paper = KnownSheet::letter;
        CHECK(code_of(small_scene(), options) == "trace.paper");
    }
    SUBCASE("too blurred") {
        PhotoScene scene = small_scene();
        scene.blur_px = 7;
        CHECK(code_of(scene) == "trace.blurred");
    }
    SUBCASE("cancelled, or asked out of range") {
        MadePhoto const made = made_photo(small_scene());
        Task task;
        task.cancel();
        CHECK(trace_photo(made.photo, {}, task).problem().code == "trace.cancelled");
        TraceOptions options;
        options.tolerance_mm = 3;
        CHECK(traced(made, 85, options).problem().code == "range");
    }
}

TEST_CASE("a leaf without colour is traced whole, and it is told that shadow may pass for leaf") {
    auto const told = [](Trace const& trace) {
        return std::any_of(trace.remarks.begin(), trace.remarks.end(),
                           [](Problem const& remark) { return remark.code == "trace.faint"; });
    };
    PhotoScene scene = small_scene();
    scene.leaves[0].uneven = 0.1;
    SUBCASE("dark, its light veins and all") {
        scene.leaves[0].light = {0.05, 0.05, 0.05};
        for (double const shadow : {0.0, 0.3, 0.5}) {
            scene.shadow = shadow;
            check_leaf(scene, 85, 0.01);
            auto const trace = traced(made_photo(scene), 85);
            REQUIRE(trace.ok());
            CHECK(trace->leaves[0].faint);
            CHECK(told(*trace));
        }
    }
    SUBCASE("silver, in a shadow of its own lightness: no outline without the remark") {
        scene.leaves[0].light = {0.3, 0.3, 0.3};
        for (double const shadow : {0.3, 0.6}) {
            scene.shadow = shadow;
            auto const trace = traced(made_photo(scene), 85);
            CHECK((!trace.ok() || told(*trace)));
        }
    }
    SUBCASE("not told of a green one") {
        scene.leaves[0].uneven = 0.25;
        scene.leaves[0].light = SceneLeaf{}.light;
        scene.shadow = 0.5;
        auto const trace = traced(made_photo(scene), 85);
        REQUIRE(trace.ok());
        CHECK(!trace->leaves[0].faint);
        CHECK(!told(*trace));
    }
}

TEST_CASE("the same photo gives the same trace") {
    MadePhoto const made = made_photo(small_scene());
    auto const a = traced(made, 80);
    auto const b = traced(made, 80);
    REQUIRE(a.ok());
    REQUIRE(b.ok());
    CHECK(a->leaves[0].outline_mm == b->leaves[0].outline_mm);
}

namespace {

// Five leaves in autumn colours, bitten and with stalks, one pale back among them.
PhotoScene autumn_scene() {
    PhotoScene scene;
    scene.leaves = {scene_leaf("field-maple", 80, {55, 65}, 15), scene_leaf("hornbeam", 70, {150, 60}, -30),
                    scene_leaf("oak", 90, {60, 165}, 40), scene_leaf("beech", 75, {150, 150}, 10),
                    scene_leaf("birch", 60, {105, 245}, 80)};
    auto const coloured = [&](std::size_t k, Light first, Light second, double patches) {
        scene.leaves[k].light = first;
        scene.leaves[k].second = second;
        scene.leaves[k].patches = patches;
    };
    coloured(0, {0.55, 0.40, 0.03}, {0.35, 0.05, 0.02}, 0.5);
    coloured(1, {0.22, 0.10, 0.03}, {0.10, 0.05, 0.02}, 0.4);
    coloured(2, {0.30, 0.05, 0.03}, {0.08, 0.12, 0.02}, 0.5);
    coloured(3, {0.70, 0.62, 0.10}, {0.30, 0.16, 0.05}, 0.3);
    coloured(4, {0.30, 0.33, 0.22}, {}, 0);
    scene.leaves[4].uneven = 0.1;
    scene.leaves[0].bites = 2;
    scene.leaves[0].bite_mm = 4;
    scene.leaves[2].bites = 3;
    scene.leaves[3].hole_mm = 3;
    for (SceneLeaf& leaf : scene.leaves) leaf.stalk_mm = 10;
    return scene;
}

} // namespace

TEST_CASE("autumn leaves, bitten and pale ones, have their own area and stand on their own stalks") {
    PhotoScene const scene = autumn_scene();
    MadePhoto const made = made_photo(scene);
    auto const trace = traced(made, 60);
    REQUIRE(trace.ok());
    REQUIRE(trace->leaves.size() == 5);
    std::array<std::size_t, 5> const order{0, 1, 2, 3, 4}; // reading order is the scene's
    for (std::size_t k = 0; k < 5; ++k) {
        INFO(k);
        TracedLeaf const& leaf = trace->leaves[k];
        SceneLeaf const& laid = scene.leaves[order[k]];
        CHECK_REL(leaf.area_mm2, area(made.truth_mm[order[k]]), 0.005);
        CHECK(leaf.looks_sound());
        CHECK(leaf.outline_mm.holes.size() == made.truth_mm[order[k]].holes.size());
        CHECK_NEAR(leaf.stalk_mm, 10, 2.5);
        // The foot of the blade lies half the drawing's height below its middle.
        Vec2 const size = bounds(laid.shape.outline_mm.outer).size();
        double const a = laid.turn_deg * kPi / 180;
        double const down = bounds(laid.shape.outline_mm.outer).centre().y;
        Vec2 const foot = laid.middle_mm + down * Vec2{-std::sin(a), std::cos(a)} -
                          bounds(laid.shape.outline_mm.outer).centre().x * Vec2{std::cos(a), std::sin(a)};
        CHECK(glm::length(trace->scale.mm(leaf.base_px) - foot) < 0.06 * size.y + 2);
    }
}

TEST_CASE("grained boards, a hand's shadow, glare on the paper, vignetting and blotches of colour: within 0.5 %") {
    PhotoScene scene = usual_scene();
    scene.table = Table::grained;
    scene.roll_deg = 25;
    scene.fill = 0.7;
    scene.glare = 0.3;
    scene.vignette = 0.4;
    scene.hand = 0.5;
    scene.hand_mm = {70, 230};
    scene.colour_noise = 0.04;
    check_leaf(scene, 60, 0.005);
}

TEST_CASE("light mirrored by a leaf makes no holes, and it is told where it hides the edge") {
    PhotoScene scene = usual_scene();
    scene.glare = 0.7;
    scene.glare_at = {0.5, 0.48};
    scene.glare_wide = 0.08;
    MadePhoto const made = made_photo(scene);
    auto const trace = traced(made, 75);
    REQUIRE(trace.ok());
    REQUIRE(trace->leaves.size() == 1);
    CHECK(trace->leaves[0].outline_mm.holes.empty());
    CHECK_REL(trace->leaves[0].area_mm2, area(made.truth_mm[0]), 0.01);
    CHECK(trace->leaves[0].glared);
    CHECK(told(*trace, "trace.glare"));
    // Nor is it told of a plain one.
    auto const plain = traced(made_photo(small_scene()), 75);
    REQUIRE(plain.ok());
    CHECK(plain->remarks.empty());
}

TEST_CASE("leaves that lie on each other are told; single ones, lobed and bitten, are not") {
    PhotoScene scene = small_scene();
    double const width = scene.leaves[0].shape.width_mm;
    SUBCASE("side by side") {
        scene.leaves = {scene_leaf("hornbeam", 70, {80, 150}), scene_leaf("hornbeam", 70, {80 + 0.7 * width, 155}, 8)};
        auto const trace = traced(made_photo(scene), 85);
        REQUIRE(trace.ok());
        CHECK(told(*trace, "trace.touching"));
    }
    SUBCASE("aslant") {
        scene.leaves = {scene_leaf("hornbeam", 70, {80, 150}), scene_leaf("hornbeam", 70, {100, 180}, 70)};
        auto const trace = traced(made_photo(scene), 85);
        REQUIRE(trace.ok());
        CHECK(told(*trace, "trace.touching"));
    }
    SUBCASE("single ones") {
        scene.leaves = {scene_leaf("oak", 80, {55, 70}), scene_leaf("field-maple", 75, {150, 70}),
                        scene_leaf("ivy", 60, {55, 210}), scene_leaf("beech", 70, {150, 210})};
        scene.leaves[3].bites = 3;
        auto const trace = traced(made_photo(scene), 85);
        REQUIRE(trace.ok());
        CHECK(trace->leaves.size() == 4);
        CHECK(!told(*trace, "trace.touching"));
    }
}

TEST_CASE("scans with dust, a ruler and a coloured square: leaves within 0.5 %, the square is told apart") {
    PhotoScene scan;
    scan.sheet = false;
    scan.fill = 1;
    scan.width_px = 2480; // A4 at 300 dots per inch
    scan.height_px = 3508;
    scan.paper = {0.88, 0.88, 0.88};
    scan.dust = 80;
    scan.blur_px = 1;
    scan.noise = 0.003;
    scan.leaves = {scene_leaf("hornbeam", 70, {55, 70}, 15), scene_leaf("oak", 90, {145, 75}, -20),
                   scene_leaf("ivy", 60, {60, 190}, 100), scene_leaf("willow", 90, {140, 190}, 35)};
    scan.leaves[1].bites = 2;
    scan.leaves[2].hole_mm = 3;
    scan.things = {{{20, 270}, {170, 285}, {0.80, 0.80, 0.70}, true}, {{185, 265}, {205, 285}, {0.7, 0.03, 0.03}}};
    TraceOptions options;
    options.scale.from = ScaleFrom::dpi;
    options.scale.dpi = 300;
    for (bool const grey : {false, true}) {
        INFO(grey);
        scan.grey = grey;
        MadePhoto const made = made_photo(scan);
        auto const trace = traced(made, 85, options);
        REQUIRE(trace.ok());
        std::vector<double> areas;
        for (TracedLeaf const& leaf : trace->leaves)
            if (leaf.looks_sound()) areas.push_back(leaf.area_mm2);
        REQUIRE(areas.size() == 4);
        std::vector<double> truth;
        for (Polygon const& polygon : made.truth_mm) truth.push_back(area(polygon));
        std::sort(areas.begin(), areas.end());
        std::sort(truth.begin(), truth.end());
        for (std::size_t k = 0; k < 4; ++k) CHECK_REL(areas[k], truth[k], 0.005);
        CHECK(told(*trace, "trace.odd"));
        CHECK(told(*trace, "trace.faint") == grey);
    }
}

TEST_CASE("a leaf on dark cloth beside a bar of known length: within 0.5 % beside the bar's own error") {
    PhotoScene scene = usual_scene();
    scene.sheet = false;
    scene.paper = {0.018, 0.018, 0.022};
    scene.weave = 0.5;
    scene.things = {{{30, 250}, {130, 256}, {0.75, 0.75, 0.72}}};
    TraceOptions options;
    options.scale.from = ScaleFrom::bar;
    options.scale.bar_mm = 100;
    options.scale.bar_px = 100 * scene.fill * scene.height_px / scene.sheet_height_mm;
    for (Light const light : {Light{0.045, 0.12, 0.022}, Light{0.03, 0.055, 0.015}, Light{0.36, 0.42, 0.30}}) {
        scene.leaves[0].light = light;
        MadePhoto const made = made_photo(scene);
        auto const trace = traced(made, 75, options);
        REQUIRE(trace.ok());
        auto const leaf = std::find_if(trace->leaves.begin(), trace->leaves.end(),
                                       [](TracedLeaf const& one) { return one.looks_sound(); });
        REQUIRE(leaf != trace->leaves.end());
        CHECK_REL(leaf->area_mm2, area(made.truth_mm[0]), 0.005);
    }
}

TEST_CASE("a sheet that is cut by the picture's edge is answered with a sentence") {
    for (Vec2 const& aim : {Vec2{60, 0}, Vec2{25, 30}, Vec2{0, -60}}) {
        PhotoScene scene = small_scene();
        scene.aim_mm = aim;
        scene.roll_deg = 8;
        auto const trace = traced(made_photo(scene), 75);
        REQUIRE_FALSE(trace.ok());
        CHECK(trace.problem().code == "trace.paper");
        CHECK_FALSE(trace.problem().hint.empty());
    }
}
