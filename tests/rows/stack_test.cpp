#include "rows/stack.h"

#include "made_up_leaves.h"
#include "near.h"

#include <algorithm>
#include <cstring>

using namespace leafwright;

namespace {

using Leaves = std::vector<LeafPointer>;
using FieldPointer = std::shared_ptr<StackField const>;

FieldPointer stacked(Leaves const& leaves, StackOptions const& options = {}, Ring const& rim = round_rim(150)) {
    return StackEngine(options).update(rim, leaves, {});
}

double volume_of(HeightPatch const& patch) {
    double sum = 0;
    for (float const height : patch.height_mm) sum += double(height);
    return sum * patch.cell_mm * patch.cell_mm;
}

double gaps_of(StackField const& field) {
    double sum = 0;
    for (auto const& leaf : field.leaves) sum += leaf->gap_mm3;
    return sum;
}

Leaves random_layout(std::uint64_t seed, int count) {
    Random random(seed);
    Leaves leaves;
    for (int id = 1; id <= count; ++id) leaves.push_back(random_leaf(id, random, 70));
    return leaves;
}

bool same_bits(HeightPatch const& a, HeightPatch const& b) {
    return a.origin_mm == b.origin_mm && a.cell_mm == b.cell_mm && a.columns == b.columns && a.rows == b.rows &&
           a.height_mm.size() == b.height_mm.size() &&
           std::memcmp(a.height_mm.data(), b.height_mm.data(), a.height_mm.size() * sizeof(float)) == 0;
}

bool same_bits(LeafRelief const& a, LeafRelief const& b) {
    return a.id == b.id && same_bits(a.bottom, b.bottom) && same_bits(a.top, b.top) && a.gap_mm3 == b.gap_mm3 &&
           a.bonded_mm2 == b.bonded_mm2;
}

bool same_bits(StackField const& a, StackField const& b) {
    return same_bits(a.height, b.height) && a.most_mm == b.most_mm && a.most_at == b.most_at &&
           a.leaf_volume_mm3 == b.leaf_volume_mm3 &&
           std::ranges::equal(a.leaves, b.leaves, [](auto const& p, auto const& q) { return same_bits(*p, *q); });
}

// A lattice over a box of the chart whose heights are those of a function.
template <class Height> LaidFeature made_up_feature(Vec2 const& low, Vec2 const& high, int steps, Height height) {
    auto mound = std::make_shared<FeatureMound>();
    mound->columns = mound->rows = steps + 1;
    for (int row = 0; row <= steps; ++row)
        for (int column = 0; column <= steps; ++column) {
            mound->chart.push_back(low + (high - low) * Vec2(column, row) / double(steps));
            mound->height_mm.push_back(static_cast<float>(height(mound->chart.back())));
        }
    LaidFeature feature;
    feature.mound = mound;
    return feature;
}

} // namespace

TEST_CASE("one leaf on the bare slab is as high as it is thick") {
    FieldPointer const field = stacked({box_leaf(1, {-30, -20}, {30, 20}, 5)});
    CHECK_NEAR(field->height.at({0, 0}), 5.0, 1e-5);
    CHECK_NEAR(field->height.at({-25, 12}), 5.0, 1e-5);
    CHECK(field->height.at({35, 0}) == 0);
    CHECK_NEAR(field->height.at({30, 0}), 2.5, 1e-5); // half on the outline, by symmetry
    CHECK_REL(volume_of(field->height), 60.0 * 40.0 * 5.0, 1e-6);
    CHECK(field->leaves[0]->gap_mm3 == 0);
    CHECK_REL(field->leaves[0]->bonded_mm2, 2400.0, 1e-6);
    CHECK_NEAR(field->most_mm, 5.0, 1e-5);
}

TEST_CASE("two leaves that overlap: each its own thickness, both where they lap") {
    FieldPointer const field = stacked({box_leaf(1, {-60, -30}, {12, 30}, 5), box_leaf(2, {-12, -30}, {60, 30}, 4)});
    CHECK_NEAR(field->height.at({-40, 0}), 5.0, 1e-4);
    CHECK_NEAR(field->height.at({0, 0}), 9.0, 1e-4);
    CHECK_NEAR(field->height.at({40, 0}), 4.0, 1e-4);
    LeafRelief const& upper = *field->leaves[1];
    CHECK_NEAR(upper.bottom.at({0, 0}), 5.0, 1e-4);
    CHECK_NEAR(upper.bottom.at({40, 0}), 0.0, 1e-4);
    CHECK_NEAR(upper.top.at({0, 0}), 9.0, 1e-4);
    CHECK(upper.gap_mm3 > 0); // at the foot of the lower leaf's edge
    CHECK(upper.bonded_mm2 < 72.0 * 60.0);
    CHECK(upper.bonded_mm2 > 0.85 * 72.0 * 60.0);
    CHECK_REL(volume_of(field->height), 72.0 * 60.0 * 9.0 + upper.gap_mm3, 1e-6);
}

// The lower edge is a step of 6 mm, rounded over 2 mm either way; a bend radius of 3 mm leaves a hollow of at most the
// sharp step's section h sqrt(2 r h) / 3 = 12 mm2 (closed form, see the closing's test) along its length.
TEST_CASE("the ramp over an edge is soft, falls steadily and stays within the parabola's length") {
    FieldPointer const field = stacked({box_leaf(1, {-60, -40}, {0, 40}, 6), box_leaf(2, {-30, -40}, {40, 40}, 6)});
    LeafRelief const& upper = *field->leaves[1];
    CHECK(upper.gap_mm3 > 0);
    CHECK(upper.gap_mm3 < 12.0 * 80);
    double before = upper.top.at({-10, 0});
    for (double x = -9.5; x <= 14; x += 0.5) {
        double const now = upper.top.at({x, 0});
        CHECK(now <= before + 1e-4);
        CHECK(before - now < 0.5 * 2.0); // slope below 2: no stair
        before = now;
    }
    CHECK_NEAR(upper.top.at({14, 0}), 6.0, 1e-4);
}

TEST_CASE("clay and hollows add up to the field, and each leaf to its own clay") {
    for (double const cell_mm : {1.0, 0.7}) {
        Leaves const leaves = random_layout(21, 40);
        FieldPointer const field = stacked(leaves, {.cell_mm = cell_mm});
        double clay_mm3 = 0;
        for (std::size_t k = 0; k < leaves.size(); ++k) {
            double const own_mm3 = leaves[k]->flat_mm2 * leaves[k]->thickness_mm;
            LeafRelief const& relief = *field->leaves[k];
            CHECK(relief.id == leaves[k]->placement.id);
            CHECK_REL(volume_of(relief.top) - volume_of(relief.bottom), own_mm3, 1e-6);
            CHECK(relief.gap_mm3 >= 0);
            CHECK(relief.bonded_mm2 >= 0);
            CHECK(relief.bonded_mm2 <= leaves[k]->flat_mm2 * (1 + 1e-12));
            clay_mm3 += own_mm3;
        }
        CHECK_REL(field->leaf_volume_mm3, clay_mm3, 1e-6);
        CHECK_REL(volume_of(field->height), clay_mm3 + gaps_of(*field), 1e-6);
        CHECK(gaps_of(*field) > 0);
    }
}

TEST_CASE("no leaf sinks into what lies under it") {
    Leaves const leaves = random_layout(4, 25);
    StackEngine engine;
    int compared = 0;
    for (std::size_t k = 1; k < leaves.size(); ++k) {
        FieldPointer const under = engine.update(round_rim(150), std::span(leaves).first(k), {});
        FieldPointer const with = engine.update(round_rim(150), std::span(leaves).first(k + 1), {});
        HeightPatch const& bottom = with->leaves[k]->bottom;
        HeightPatch const& top = with->leaves[k]->top;
        for (int j = 0; j < bottom.rows; ++j)
            for (int i = 0; i < bottom.columns; ++i) {
                Vec2 const middle = bottom.origin_mm + bottom.cell_mm * Vec2(i, j);
                if (!contains(leaves[k]->chart, middle)) continue;
                CHECK(bottom.at(middle) >= under->height.at(middle) - 1e-5);
                CHECK(top.at(middle) > bottom.at(middle));
                CHECK(with->height.at(middle) >= under->height.at(middle));
                ++compared;
            }
    }
    CHECK(compared > 10000);
}

TEST_CASE("after any edits the field is that of a new engine, bit for bit") {
    Random random(77);
    Leaves leaves = random_layout(9, 30);
    std::vector<LaidFeature> features;
    Ring rim = round_rim(120);
    StackEngine engine;
    int next_id = 100;
    for (int edit = 0; edit < 60; ++edit) {
        std::size_t const at = random.below(static_cast<std::uint32_t>(leaves.size()));
        switch (random.below(8)) {
        case 0:
            leaves.push_back(random_leaf(next_id++, random, 90));
            break;
        case 1:
            leaves.erase(leaves.begin() + static_cast<std::ptrdiff_t>(at));
            break;
        case 2:
            std::swap(leaves[at], leaves[random.below(static_cast<std::uint32_t>(leaves.size()))]);
            break;
        case 3:
            rim = round_rim(random.between(100, 130));
            break;
        case 4:
            features.assign(random.below(3), made_up_feature({-20, -20}, {20, 20}, 30, [&](Vec2 const& p) {
                                return std::max(0.0, 9 - glm::length(p) / 2);
                            }));
            break;
        default:
            leaves[at] = random_leaf(leaves[at]->placement.id, random, 70);
        }
        FieldPointer const found = engine.update(rim, leaves, features);
        REQUIRE(same_bits(*found, *StackEngine().update(rim, leaves, features)));
    }
}

TEST_CASE("only what lies on changed ground is pressed again") {
    Leaves leaves{box_leaf(1, {-80, -20}, {-30, 20}, 5), box_leaf(2, {30, -20}, {80, 20}, 5),
                  box_leaf(3, {60, -20}, {100, 20}, 5)};
    StackEngine engine;
    Ring const rim = round_rim(150);
    FieldPointer const before = engine.update(rim, leaves, {});
    CHECK(engine.update(rim, leaves, {}) == before);
    leaves[1] = box_leaf(2, {28, -20}, {78, 20}, 5);
    FieldPointer const after = engine.update(rim, leaves, {});
    CHECK(after->leaves[0] == before->leaves[0]);
    CHECK(after->leaves[1] != before->leaves[1]);
    CHECK(after->leaves[2] != before->leaves[2]); // lies on leaf 2
    leaves[2] = box_leaf(3, {64, -20}, {100, 20}, 5);
    FieldPointer const last = engine.update(rim, leaves, {});
    CHECK(last->leaves[1] == after->leaves[1]); // lies under leaf 3
}

TEST_CASE("the order matters where leaves overlap, and nowhere else") {
    LeafPointer const thick = box_leaf(1, {-60, -30}, {12, 30}, 7);
    LeafPointer const thin = box_leaf(2, {-12, -30}, {60, 30}, 3);
    LeafPointer const apart = box_leaf(3, {-60, 40}, {60, 80}, 4);
    HeightPatch const thick_first = stacked({thick, thin, apart})->height;
    CHECK(same_bits(thick_first, stacked({thick, apart, thin})->height));
    CHECK(same_bits(thick_first, stacked({apart, thick, thin})->height));
    HeightPatch const thin_first = stacked({thin, thick, apart})->height;
    CHECK_FALSE(same_bits(thick_first, thin_first));
    CHECK_NEAR(thin_first.at({0, 0}), 10.0, 1e-4);
    // Thick first: the thin leaf ramps down to the right of the thick one's edge at 12 mm.
    CHECK(thick_first.at({15, 0}) > thin_first.at({15, 0}) + 0.5);
    CHECK(thin_first.at({-15, 0}) > thick_first.at({-15, 0}) + 0.5);
}

TEST_CASE("a stiffer leaf bridges more and bonds less") {
    Leaves const leaves = random_layout(2, 30);
    // Without stiffness only the cells along the outline, which the leaf holds in part, keep a trace of a hollow.
    double gap_mm3 = gaps_of(*stacked(leaves, {.bend_radius_mm = 0}));
    CHECK(gap_mm3 < 1e-3 * stacked(leaves)->leaf_volume_mm3);
    double bonded_mm2 = 1e300;
    for (double const radius_mm : {1.0, 2.0, 4.0, 8.0, 16.0}) {
        FieldPointer const field = stacked(leaves, {.bend_radius_mm = radius_mm});
        double bonded_now_mm2 = 0;
        for (auto const& leaf : field->leaves) bonded_now_mm2 += leaf->bonded_mm2;
        CHECK(gaps_of(*field) > gap_mm3);
        CHECK(bonded_now_mm2 < bonded_mm2);
        gap_mm3 = gaps_of(*field);
        bonded_mm2 = bonded_now_mm2;
    }
}

TEST_CASE("what hangs over the rim bonds to nothing") {
    Ring const rim = box_ring({-100, -100}, {0, 100});
    LeafPointer const half_over = box_leaf(1, {-30, -20}, {30, 20}, 5);
    CHECK_REL(stacked({half_over}, {}, rim)->leaves[0]->bonded_mm2, 1200.0, 0.01);
    CHECK_REL(stacked({half_over}, {}, {})->leaves[0]->bonded_mm2, 2400.0, 1e-6);
    // A later leaf bonds to the part of an earlier one that hangs over.
    FieldPointer const two = stacked({half_over, box_leaf(2, {5, -10}, {25, 10}, 5)}, {}, rim);
    CHECK_REL(two->leaves[1]->bonded_mm2, 400.0, 1e-3);
}

TEST_CASE("with all leaves taken away nothing is left") {
    StackEngine engine;
    Ring const rim = round_rim(100);
    CHECK(engine.update(rim, random_layout(6, 12), {})->most_mm > 3);
    FieldPointer const bare = engine.update(rim, {}, {});
    CHECK(bare->most_mm == 0);
    CHECK(bare->leaf_volume_mm3 == 0);
    CHECK(bare->leaves.empty());
    CHECK(bare->height.columns >= 200);
    CHECK(std::ranges::all_of(bare->height.height_mm, [](float h) { return h == 0; }));
    CHECK(StackEngine().update({}, {}, {})->height.height_mm.empty());
}

TEST_CASE("the thickest place is where the field says") {
    for (std::uint64_t seed = 0; seed < 5; ++seed) {
        FieldPointer const field = stacked(random_layout(seed, 30));
        CHECK_NEAR(field->height.at(field->most_at), field->most_mm, 1e-4);
        CHECK(double(*std::ranges::max_element(field->height.height_mm)) == field->most_mm);
        CHECK(field->most_mm > 7); // somewhere two leaves of 3 to 7 mm lap
    }
}

TEST_CASE("a mirrored layout gives the mirrored field") {
    Leaves const leaves = random_layout(31, 25);
    Leaves mirrored;
    for (LeafPointer const& leaf : leaves) {
        auto other = std::make_shared<LaidLeaf>(*leaf);
        for (Vec2& p : other->chart.outer) p.x = -p.x;
        std::ranges::reverse(other->chart.outer);
        mirrored.push_back(other);
    }
    FieldPointer const a = stacked(leaves);
    FieldPointer const b = stacked(mirrored);
    REQUIRE(a->height.columns == b->height.columns);
    for (double y = -90; y <= 90; y += 7)
        for (double x = -90; x <= 90; x += 7) CHECK_NEAR(a->height.at({x, y}), b->height.at({-x, y}), 2e-3);
    CHECK_REL(gaps_of(*a), gaps_of(*b), 1e-4);
}

TEST_CASE("finer cells tell the same story") {
    Leaves const leaves = random_layout(8, 15);
    FieldPointer const coarse = stacked(leaves, {.cell_mm = 1.0});
    FieldPointer const fine = stacked(leaves, {.cell_mm = 0.5});
    CHECK_REL(coarse->leaf_volume_mm3, fine->leaf_volume_mm3, 1e-7);
    CHECK_REL(coarse->most_mm, fine->most_mm, 0.1);
    double off = 0;
    int places = 0;
    for (double y = -90; y <= 90; y += 3)
        for (double x = -90; x <= 90; x += 3, ++places)
            off += std::abs(coarse->height.at({x, y}) - fine->height.at({x, y}));
    CHECK(off / places < 0.1); // mm
}

TEST_CASE("a leaf with a hole lets the slab show through") {
    Polygon const ringed{box_ring({-30, -30}, {30, 30}), {lobed_ring({0, 0}, 24, 24, 0, 0, 60)}};
    FieldPointer const field = stacked({made_up_leaf(1, ringed, 5)});
    CHECK(field->height.at({0, 0}) == 0);
    CHECK_NEAR(field->height.at({20, 0}), 5.0, 1e-5);
    CHECK_REL(volume_of(field->height), area(ringed) * 5, 1e-6);
}

TEST_CASE("a sliver thinner than a cell still holds its clay") {
    LeafPointer const stalk = box_leaf(1, {-20.3, 0.41}, {20.3, 0.45}, 5);
    FieldPointer const field = stacked({stalk, box_leaf(2, {-5, -5}, {5, 5}, 3)});
    CHECK_REL(field->leaf_volume_mm3, 40.6 * 0.04 * 5 + 300, 1e-6);
    CHECK_REL(volume_of(field->height), field->leaf_volume_mm3 + gaps_of(*field), 1e-6);
}

TEST_CASE("a mound stands on the slab, and the higher of leaf and mound counts") {
    // A plane is met exactly by straight-lined triangles.
    auto const plane = [](Vec2 const& p) { return 10 + 0.1 * p.x - 0.05 * p.y; };
    LaidFeature const wedge = made_up_feature({-20.2, -15.7}, {22.3, 17.1}, 9, plane);
    std::vector<LaidFeature> const features{wedge};
    FieldPointer const alone = StackEngine().update(round_rim(80), {}, features);
    for (double y = -14.5; y <= 15; y += 3)
        for (double x = -18.5; x <= 20; x += 3) CHECK_NEAR(alone->height.at({x, y}), plane({x, y}), 1e-5);
    CHECK(alone->height.at({30, 0}) == 0);
    CHECK(alone->leaf_volume_mm3 == 0);
    Leaves const leaves{box_leaf(1, {-40, -10}, {0, 10}, 9)};
    FieldPointer const both = StackEngine().update(round_rim(80), leaves, features);
    CHECK_NEAR(both->height.at({-30, 0}), 9.0, 1e-4);
    CHECK_NEAR(both->height.at({-15.5, 0.5}), 9.0, 1e-4); // the wedge is 8.4 mm high there
    CHECK_NEAR(both->height.at({10.5, 0.5}), plane({10.5, 0.5}), 1e-5);
}

// Cone of height 12 mm and radius 18 mm: volume pi r^2 h / 3.
TEST_CASE("a mound keeps its volume on the grid") {
    LaidFeature const cone = made_up_feature({-20, -20}, {20, 20}, 80,
                                             [](Vec2 const& p) { return std::max(0.0, 12 - glm::length(p) * 2 / 3); });
    std::vector<LaidFeature> const features{cone};
    FieldPointer const field = StackEngine({.cell_mm = 0.5}).update({}, {}, features);
    CHECK_REL(volume_of(field->height), kPi * 18 * 18 * 12 / 3, 2e-3);
    CHECK_NEAR(field->most_mm, 12.0, 0.3);
    CHECK(glm::length(field->most_at) < 0.6);
}
