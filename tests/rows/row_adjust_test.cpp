#include "rows/row_adjust.h"

#include "base/units.h"
#include "near.h"
#include "rows/row_guide.h"

#include <algorithm>
#include <cmath>
#include <set>

using namespace leafwright;

namespace {

ClaySurface round_face() {
    FormerSpec spec;
    spec.outline.kind = OutlineKind::round;
    spec.outline.width_mm = 340;
    spec.profile.crown_mm = 60;
    return ClaySurface::make(*Former::make(spec), {.offset_mm = 8});
}

// Rows 1 and 2, each a ring of evenly spaced leaves that lean a little; row 1 without the leaves from `gap_from` on.
std::vector<LeafPlacement> two_rings(int first, int second, int gap_from = 1000) {
    std::vector<LeafPlacement> leaves;
    for (int row = 1; row <= 2; ++row) {
        int const around = row == 1 ? first : second;
        for (int k = 0; k < around; ++k) {
            if (row == 1 && k >= gap_from) continue;
            LeafPlacement leaf;
            leaf.id = 100 * row + k;
            leaf.kind = "beech";
            leaf.row = row;
            leaf.azimuth_deg = std::fmod(270.0 + 360.0 * (k + 0.5) / around, 360.0);
            leaf.from_crown_mm = row == 1 ? 150 : 90;
            leaf.turn_deg = 7;
            leaves.push_back(leaf);
        }
    }
    return leaves;
}

double arc_mm(ClaySurface const& face, double azimuth_deg, double other_deg, double from_crown_mm) {
    double const radius = glm::length(glm::dvec2(face.at({0, from_crown_mm}).position));
    return radius * std::abs(radians(std::remainder(azimuth_deg - other_deg, 360.0)));
}

} // namespace

TEST_CASE("a row slides along its line by the length asked for, and keeps depth and lean") {
    ClaySurface const face = round_face();
    std::vector<LeafPlacement> const leaves = two_rings(20, 12);
    std::vector<LeafPlacement> const row = slid_row(face, leaves, 1, 12, false);
    REQUIRE(row.size() == 20);
    for (std::size_t k = 0; k < row.size(); ++k) {
        CHECK(row[k].id == leaves[k].id);
        CHECK_NEAR(arc_mm(face, row[k].azimuth_deg, leaves[k].azimuth_deg, 150), 12, 0.02);
        CHECK_NEAR(row[k].from_crown_mm, 150, 1e-6);
        CHECK_NEAR(row[k].turn_deg, 7, 1e-3);
    }
    // There and back again.
    std::vector<LeafPlacement> const back = slid_row(face, row, 1, -12, false);
    for (std::size_t k = 0; k < back.size(); ++k)
        CHECK_NEAR(std::remainder(back[k].azimuth_deg - leaves[k].azimuth_deg, 360.0), 0, 1e-6);
}

TEST_CASE("in a mirrored arrangement both halves slide upward and stay mirror images; pinned leaves stay") {
    ClaySurface const face = round_face();
    std::vector<LeafPlacement> leaves = two_rings(20, 12);
    std::vector<LeafPlacement> row = slid_row(face, leaves, 1, 5, true);
    for (std::size_t k = 0; k < row.size(); ++k) {
        double const image = 180 - row[row.size() - 1 - k].azimuth_deg;
        CHECK_NEAR(std::remainder(row[k].azimuth_deg - image, 360.0), 0, 1e-6);
        CHECK(std::sin(radians(row[k].azimuth_deg)) > std::sin(radians(leaves[k].azimuth_deg)));
    }
    leaves[3].pinned = true;
    row = slid_row(face, leaves, 1, 5, false);
    CHECK(row[3] == leaves[3]);
    CHECK(row[4] != leaves[4]);
}

TEST_CASE("a row drawn closer has more leaves, evenly spaced all round, and keeps the ids it had") {
    ClaySurface const face = round_face();
    std::vector<LeafPlacement> const leaves = two_rings(20, 12);
    for (int const count : {16, 20, 24}) {
        std::vector<LeafPlacement> const row = respaced_row(face, leaves, 1, count);
        REQUIRE(row.size() == static_cast<std::size_t>(count));
        std::vector<double> at;
        std::multiset<int> ids;
        for (LeafPlacement const& leaf : row) {
            at.push_back(leaf.azimuth_deg);
            CHECK_NEAR(leaf.from_crown_mm, 150, 1e-3);
            if (leaf.id != 0) ids.insert(leaf.id);
        }
        std::ranges::sort(at);
        for (std::size_t k = 1; k < at.size(); ++k) CHECK_NEAR(at[k] - at[k - 1], 360.0 / count, 0.05);
        CHECK(ids.size() == static_cast<std::size_t>(std::min(count, 20)));
        for (int const id : ids) CHECK(ids.count(id) == 1);
    }
}

TEST_CASE("a broken row keeps its break when it is drawn closer") {
    ClaySurface const face = round_face();
    std::vector<LeafPlacement> const leaves = two_rings(20, 12, 15);
    std::vector<LeafPlacement> const row = respaced_row(face, leaves, 1, 19);
    REQUIRE(row.size() == 19);
    for (LeafPlacement const& leaf : row) {
        double const place = std::fmod(leaf.azimuth_deg - 270 + 720, 360.0) / 360.0 * 20;
        CHECK(place > 0.49);
        CHECK(place < 14.51);
    }
}

TEST_CASE("a row takes another kind but for its pinned leaves") {
    std::vector<LeafPlacement> leaves = two_rings(20, 12);
    leaves[2].pinned = true;
    std::vector<LeafPlacement> const row = row_of_kind(leaves, 1, "hazel");
    CHECK(std::ranges::count(row, "hazel", &LeafPlacement::kind) == 19);
    CHECK(row[2] == leaves[2]);
    CHECK(loose_leaves_in_row(leaves, 1) == 19);
}

TEST_CASE("a spot near a row's line is set on it, one between the rows on none") {
    std::vector<RowGuide> const guides = row_guides(two_rings(20, 12));
    REQUIRE(guides.size() == 2);
    RowPlace const near = row_place(guides, {1.0, 146}, 8);
    CHECK(near.row == 1);
    CHECK(near.spot.azimuth_rad == 1.0);
    CHECK_NEAR(near.spot.from_crown_mm, 150, 1e-6);
    CHECK(row_place(guides, {1.0, 120}, 8).row == 0);
    CHECK(row_place(guides, {1.0, 92}, 8).row == 2);
}
