#include "view/wall_picture.h"

#include "near.h"
#include "sample_plan.h"

#include <cmath>

using namespace leafwright;

namespace {

// Clay is browner than the wall: its red stands far above its blue.
bool is_clay(Picture const& p, int x, int y) {
    std::size_t const i = 3 * static_cast<std::size_t>(y * p.width_px + x);
    return p.rgb[i] - p.rgb[i + 2] > 30;
}

int clay_width(Picture const& p, int from, int to) {
    int low = to, high = from;
    for (int x = from; x < to; ++x)
        for (int y = 0; y < p.height_px; ++y)
            if (is_clay(p, x, y)) low = std::min(low, x), high = std::max(high, x);
    return high - low + 1;
}

} // namespace

TEST_CASE("pieces of two sizes hang on one wall at one scale, with no seam between them") {
    Piece small = sample::piece();
    Piece large = small;
    large.former.outline.width_mm *= 1.3;
    large.former.outline.height_mm *= 1.3;
    for (LeafPlacement& leaf : large.leaves) leaf.from_crown_mm *= 1.3, leaf.scale = 1.3;
    auto const a = sample::plan_of(small), b = sample::plan_of(large);
    REQUIRE((a && b));
    WallRequest request;
    request.width_px = 500;
    auto const wall = draw_wall({a, b}, request);
    if (!wall) {
        REQUIRE(wall.problem().code == "picture.no-gl");
        MESSAGE("skipped: " << wall.problem().sentence());
        return;
    }
    Picture const& p = wall->picture;
    CHECK(std::abs(p.width_px - 500) <= 1);
    // Between the two there is wall only; each is as wide as its plan says, a little more for what stands off the wall.
    int const between = static_cast<int>(
        std::lround(0.5 * (wall->places[0].middle_px.x + 0.5 * a->stages.back().width_mm * wall->px_per_mm +
                           wall->places[1].middle_px.x - 0.5 * b->stages.back().width_mm * wall->px_per_mm)));
    for (int y = 0; y < p.height_px; ++y) CHECK(!is_clay(p, between, y));
    CHECK_REL(clay_width(p, 0, between) / wall->px_per_mm, a->stages.back().width_mm, 0.07);
    CHECK_REL(clay_width(p, between, p.width_px) / wall->px_per_mm, b->stages.back().width_mm, 0.07);
    // The wall changes slowly where the pictures meet.
    for (int y = 2; y < p.height_px; y += 7)
        for (int x = between - 8; x < between + 8; ++x) {
            std::size_t const i = 3 * static_cast<std::size_t>(y * p.width_px + x);
            CHECK(std::abs(p.rgb[i] - p.rgb[i + 3]) <= 12);
        }
    auto const none = draw_wall({}, request);
    CHECK(!none.ok());
}
