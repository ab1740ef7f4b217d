#include "near.h"
#include "piece/map_colour.h"
#include "piece/shown_maps.h"
#include "sample_plan.h"
#include "view/picture.h"

#include <cmath>
#include <limits>

using namespace leafwright;

namespace {

constexpr int kSide_px = 360;

// Values that rise evenly from left to right over the chart, from 0 at -200 mm to 10 at 200 mm.
std::shared_ptr<ShownMap> slope() {
    auto map = std::make_shared<ShownMap>();
    map->columns = map->rows = 81;
    map->low_mm = {-202.5, -202.5};
    map->size_mm = {405, 405};
    for (int j = 0; j < map->rows; ++j)
        for (int i = 0; i < map->columns; ++i) map->values.push_back(static_cast<float>(i) / 8.0f);
    map->scale_low = 0;
    map->scale_high = 10;
    return map;
}

std::optional<Picture> picture_or_skip(std::shared_ptr<Plan const> const& plan, std::shared_ptr<ShownMap const> map,
                                       MakingStage stage = MakingStage::drape) {
    PictureRequest request;
    request.width_px = request.height_px = kSide_px;
    request.from = HomeView::front;
    request.options.stage = stage;
    request.options.map = std::move(map);
    auto picture = draw_picture(plan, request);
    if (picture) return std::move(picture).value();
    REQUIRE(picture.problem().code == "picture.no-gl");
    MESSAGE("skipped: " << picture.problem().sentence());
    return std::nullopt;
}

Vec3 at(Picture const& picture, int x, int y) {
    std::size_t const i = 3 * static_cast<std::size_t>(y * picture.width_px + x);
    return Vec3(picture.rgb[i], picture.rgb[i + 1], picture.rgb[i + 2]) / 255.0;
}

// Luminance by the weights of Rec. 709, after the inverse of the sRGB curve taken as a square.
double luminance(Vec3 const& c) { return 0.2126 * c.x * c.x + 0.7152 * c.y * c.y + 0.0722 * c.z * c.z; }

Camera camera_for(Plan const& plan, SceneOptions const& options) {
    Vec3 const size = scene_size(plan, options);
    return home_camera(HomeView::front, size.x, size.y, size.z, 1);
}

} // namespace

TEST_CASE("a map colours the clay where it has values and leaves it plain elsewhere") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    auto const plain = picture_or_skip(plan, nullptr);
    if (!plain) return;
    auto map = slope();
    // Nothing to tell on the left half.
    for (int j = 0; j < map->rows; ++j)
        for (int i = 0; i < 40; ++i)
            map->values[static_cast<std::size_t>(j * map->columns + i)] = std::numeric_limits<float>::quiet_NaN();
    auto const half = picture_or_skip(plan, map);
    int left = 0, right = 0;
    for (int y = 140; y < 220; ++y)
        for (int x = 0; x < kSide_px; ++x)
            if (at(*plain, x, y) != at(*half, x, y)) ++(x < kSide_px / 2 - 3 ? left : right);
    CHECK(left == 0);
    CHECK(right > 3000);
}

TEST_CASE("a line of equal value lies where the value is, about as wide on the screen as it is meant") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    auto const without = picture_or_skip(plan, slope());
    if (!without) return;
    auto map = slope();
    map->levels = {6.0}; // at 40 mm of the chart
    auto const with = picture_or_skip(plan, map);
    SceneOptions options;
    options.stage = MakingStage::drape;
    Spot const spot = plan->outer_face->from_chart({40, 0});
    auto const where =
        project(camera_for(*plan, options), {0, 0, kSide_px, kSide_px}, scene_point(*plan, options, spot, 0));
    REQUIRE(where);
    int const y = static_cast<int>(where->y);
    double sum = 0, middle = 0;
    for (int x = 0; x < kSide_px; ++x) {
        double const darker = luminance(at(*without, x, y)) - luminance(at(*with, x, y));
        if (darker < 0.01) continue;
        double const share = darker / luminance(at(*without, x, y));
        sum += share;
        middle += share * (x + 0.5);
    }
    CHECK(sum > 0.8);
    CHECK(sum < 3.0);
    CHECK_NEAR(middle / sum, where->x, 1.0);
}

TEST_CASE("the shade of relief stays under the colour") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    auto flat = slope();
    std::fill(flat->values.begin(), flat->values.end(), 5.0f);
    auto const picture = picture_or_skip(plan, flat, MakingStage::features);
    if (!picture) return;
    double least = 1, most = 0;
    for (int y = 100; y < 260; ++y)
        for (int x = 100; x < 260; ++x) {
            double const l = luminance(at(*picture, x, y));
            least = std::min(least, l);
            most = std::max(most, l);
        }
    CHECK(most > 2 * least);
}

namespace {

Vec3 linear(Vec3 const& c) {
    auto const one = [](double x) { return x <= 0.04045 ? x / 12.92 : std::pow((x + 0.055) / 1.055, 2.4); };
    return {one(c.x), one(c.y), one(c.z)};
}

// Lightness L* (CIE 1976) of linear sRGB.
double lightness(Vec3 const& c) { return 116 * std::cbrt(0.2126 * c.x + 0.7152 * c.y + 0.0722 * c.z) - 16; }

// What eyes without the middle cones see: Vienot, Brettel and Mollon, Color Res. Appl. 24 (1999) 243; coefficients from
// memory.
Vec3 without_green_cones(Vec3 const& c) {
    double const rg = 0.29275 * c.x + 0.70725 * c.y;
    return {rg, rg, std::max(0.0, -0.02234 * c.x + 0.02234 * c.y + c.z)};
}

void check_even_steps(std::vector<double> const& light) {
    double const whole = light.front() - light.back(), step = whole / static_cast<double>(light.size() - 1);
    CHECK(whole > 45);
    for (std::size_t i = 0; i + 1 < light.size(); ++i) {
        CHECK(light[i] - light[i + 1] > 0.6 * step);
        CHECK(light[i] - light[i + 1] < 1.5 * step);
    }
}

} // namespace

TEST_CASE("the colour scale grows darker in even steps, also for eyes without red and green") {
    std::vector<double> all, fewer;
    for (int i = 0; i <= 20; ++i) {
        Vec3 const c = linear(map_colour(i / 20.0));
        all.push_back(lightness(c));
        fewer.push_back(lightness(without_green_cones(c)));
    }
    check_even_steps(all);
    check_even_steps(fewer);
}

TEST_CASE("the slab's figures come as maps on the piece and on the flat slab, with the values of the answer") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    for (std::string_view const key : {"thickness", "stretch", "pucker"}) {
        auto const map = shown_map(*plan, key);
        REQUIRE(map);
        REQUIRE(map->flat_slab);
        CHECK(map->scale_low < map->scale_high);
        CHECK(map->levels.size() > 1);
    }
    auto const map = shown_map(*plan, "thickness");
    for (SlabMapPoint const& p : plan->slab->map->points) {
        if (p.rim_share > 0.97) continue;
        double const rim = plan->outer_face->rim_from_crown_mm(p.spot.azimuth_rad);
        Vec2 const chart = plan->outer_face->to_chart({p.spot.azimuth_rad, p.rim_share * rim});
        CHECK_NEAR(value_at(*map, chart), p.thickness_mm, 0.03);
        CHECK_NEAR(value_at(*map->flat_slab, p.flat_mm), p.thickness_mm, 0.03);
    }
    CHECK(std::isnan(value_at(*map, {1000, 0})));
    CHECK_FALSE(shown_map(*plan, "no such map"));
}

TEST_CASE("at Drape the flat look shows the slab as cut, with its lines, and a map of it in the true outline") {
    auto const plan = sample::plan_of(sample::piece(false));
    REQUIRE(plan);
    PictureRequest request;
    request.width_px = request.height_px = kSide_px;
    request.from = HomeView::front;
    request.options.stage = MakingStage::drape;
    request.options.look = Look::flat;
    auto const plain = draw_picture(plan, request);
    if (!plain) {
        MESSAGE("skipped: " << plain.problem().sentence());
        return;
    }
    Camera const camera = camera_for(*plan, request.options);
    auto const pixel = [&](Vec2 const& p) {
        auto const at = project(camera, {0, 0, kSide_px, kSide_px}, Vec3(p, plan->piece.slab.thickness_mm + 0.35));
        REQUIRE(at);
        return std::pair{static_cast<int>(at->x), static_cast<int>(at->y)};
    };
    // The mark at the crown and the outline are darker than the clay beside them.
    auto const light = [&](Vec2 const& p) {
        auto const [x, y] = pixel(p);
        return luminance(at(*plain, x, y));
    };
    CHECK(light({0, 0}) < 0.6 * light({25, 25}));
    Vec2 const edge = plan->slab->outline_mm[90]; // at 45 degrees
    CHECK(light(edge) < 0.6 * light(0.7 * edge));
    request.options.map = shown_map(*plan, "thickness");
    auto const mapped = draw_picture(plan, request);
    Vec2 const inside = 0.8 * plan->slab->sliding_mm[plan->slab->sliding_mm.size() / 8];
    auto const [ix, iy] = pixel(inside);
    CHECK(at(*mapped, ix, iy) != at(*plain, ix, iy));
    CHECK(std::isnan(value_at(*request.options.map->flat_slab, edge)));
    // What is under the pointer is told by the map of where clay comes to lie.
    auto const hit = pick(*plan, camera, {0, 0, kSide_px, kSide_px}, request.options, Vec2(ix, iy));
    auto const* slab = std::get_if<SlabHit>(&hit);
    REQUIRE(slab);
    double const there = value_at(*request.options.map->flat_slab, Vec2(slab->point));
    CHECK_NEAR(value_at(*request.options.map, plan->outer_face->to_chart(slab->spot)), there, 0.03);
}
